/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Butterworth filters against their closed form, SciPy and a tone that really runs through them. */
class ButterworthTest {
    /**
     * Magnitudes are sums of coefficients near 1, each rounded at 1e-16, that cancel down to w^2: at 0.019 Hz of 4 kHz w
     * is 3e-5 and a section is off by 1e-7. A wrong edge, order or prewarping is 1e-3 and more off.
     */
    private static final double TOLERANCE = 1e-6;

    /** One magnitude by SciPy. */
    record Row(String kind, int order, double edgeHz, double sampleRateHz, double frequencyHz, double magnitude) {
        SecondOrderSections filter() {
            return switch (kind) {
                case "lowpass" -> Butterworth.lowPass(order, edgeHz, sampleRateHz);
                case "highpass" -> Butterworth.highPass(order, edgeHz, sampleRateHz);
                default -> throw new AssertionError("unknown kind " + kind);
            };
        }
    }

    static Stream<Row> scipy() throws IOException {
        List<String> lines;
        try (InputStream in = ButterworthTest.class.getResourceAsStream("scipy_butterworth.csv")) {
            assertThat(in).as("scipy_butterworth.csv").isNotNull();
            lines = new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .toList();
        }
        assertThat(lines.get(0)).startsWith("# filter_reference.py, ").contains("SciPy", "NumPy");
        assertThat(lines.get(1)).as("columns").isEqualTo("kind,order,edgeHz,sampleRateHz,frequencyHz,magnitude");
        return lines.stream().skip(2).map(line -> {
            String[] cells = line.split(",", -1);
            assertThat(cells).as(line).hasSize(6);
            return new Row(
                    cells[0],
                    Integer.parseInt(cells[1]),
                    Double.parseDouble(cells[2]),
                    Double.parseDouble(cells[3]),
                    Double.parseDouble(cells[4]),
                    Double.parseDouble(cells[5]));
        });
    }

    @Test
    void theTableOfScipyIsWhole() throws IOException {
        assertThat(scipy()).hasSize(62);
    }

    @ParameterizedTest
    @MethodSource("scipy")
    void magnitudeIsThatOfScipy(Row row) {
        assertThat(row.filter().magnitude(row.frequencyHz()))
                .isCloseTo(row.magnitude(), within(TOLERANCE * row.magnitude() + 1e-12));
    }

    @ParameterizedTest
    @MethodSource("scipy")
    void magnitudeIsTheClosedFormAtThePrewarpedFrequency(Row row) {
        double ratio = Math.tan(Math.PI * row.frequencyHz() / row.sampleRateHz())
                / Math.tan(Math.PI * row.edgeHz() / row.sampleRateHz());
        double low = Math.pow(row.kind().equals("lowpass") ? ratio : 1 / ratio, 2 * row.order());
        double expected = 1 / Math.sqrt(1 + low);
        assertThat(row.filter().magnitude(row.frequencyHz())).isCloseTo(expected, within(TOLERANCE * expected + 1e-12));
    }

    /** The closed form is of the coefficients: here a tone goes through the running filter. */
    @ParameterizedTest
    @CsvSource({"true, 50", "true, 400", "false, 50", "false, 400"})
    void aToneComesOutWithTheMagnitude(boolean low, double frequencyHz) {
        SecondOrderSections filter = low ? Butterworth.lowPass(4, 100, 4000) : Butterworth.highPass(5, 100, 4000);
        double[] tone = new double[8000];
        for (int i = 0; i < tone.length; i++) {
            tone[i] = Math.sin(2 * Math.PI * frequencyHz * i / 4000);
        }
        filter.process(tone, 0, tone, 0, tone.length);
        // The last second, whole periods of both tones: the start of the filter has died away to 1e-60.
        double re = 0;
        double im = 0;
        for (int i = 4000; i < 8000; i++) {
            re += tone[i] * Math.cos(2 * Math.PI * frequencyHz * i / 4000) / 2000;
            im += tone[i] * Math.sin(2 * Math.PI * frequencyHz * i / 4000) / 2000;
        }
        assertThat(Math.hypot(re, im)).isCloseTo(filter.magnitude(frequencyHz), within(1e-10));
    }

    @Test
    void aBandIsBothEdgesInARow() {
        SecondOrderSections band = Butterworth.band(2, 0.5, 200, 2000);
        for (double f : new double[] {0.1, 0.5, 10, 200, 600}) {
            double product = Butterworth.highPass(2, 0.5, 2000).magnitude(f)
                    * Butterworth.lowPass(2, 200, 2000).magnitude(f);
            assertThat(band.magnitude(f)).isCloseTo(product, within(1e-12 * product));
        }
    }

    @Test
    void wrongOrdersAndEdgesAreNamed() {
        assertThatThrownBy(() -> Butterworth.lowPass(0, 100, 4000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("order 0 is not in 1 to 12");
        assertThatThrownBy(() -> Butterworth.highPass(13, 100, 4000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("13");
        assertThatThrownBy(() -> Butterworth.lowPass(2, 2000, 4000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("2000.0");
        assertThatThrownBy(() -> Butterworth.lowPass(2, Double.NaN, 4000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("NaN");
        assertThatThrownBy(() -> Butterworth.band(2, 200, 200, 4000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("lowerHz 200.0 is not below upperHz 200.0");
    }

    /**
     * The closed form of a band filter, {@code 1 / sqrt(1 + ((w^2 - w0^2) / (w b))^2n)} at prewarped frequencies; of the odd
     * orders the second band is so wide that the middle pole's roots are real.
     */
    @ParameterizedTest
    @CsvSource({"1, 300, 500", "2, 300, 500", "3, 300, 500", "4, 891, 1122", "3, 50, 1500", "1, 50, 1500", "5, 50, 1500"
    })
    void aBandPassIsTheClosedForm(int order, double lower, double upper) {
        double rate = 4000;
        SecondOrderSections filter = Butterworth.bandPass(order, lower, upper, rate);
        double l = Math.tan(Math.PI * lower / rate);
        double u = Math.tan(Math.PI * upper / rate);
        for (double f : new double[] {30, 200, lower, 400, 600, upper, 1700, 1990}) {
            double w = Math.tan(Math.PI * f / rate);
            double expected = 1 / Math.sqrt(1 + Math.pow((w * w - l * u) / (w * (u - l)), 2 * order));
            assertThat(filter.magnitude(f)).as("%s Hz", f).isCloseTo(expected, within(1e-9)); // rounding of 8 sections
        }
        // It is stable: an impulse dies away.
        double[] x = new double[40_000];
        x[0] = 1;
        filter.process(x, 0, x, 0, x.length);
        assertThat(Math.abs(x[x.length - 1])).isLessThan(1e-12);
    }

    @Test
    void wrongBandPassesAreNamed() {
        double[][] edges = {{0, 100}, {100, 100}, {100, 2000}, {-1, 100}, {Double.NaN, 100}};
        for (double[] e : edges) {
            assertThatThrownBy(() -> Butterworth.bandPass(2, e[0], e[1], 4000))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("edges " + e[0] + " Hz and " + e[1] + " Hz")
                    .hasMessageContaining("2000.0 Hz");
        }
        for (int order : new int[] {0, 13}) {
            assertThatThrownBy(() -> Butterworth.bandPass(order, 100, 200, 4000))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("order " + order);
        }
        assertThatCode(() -> Butterworth.bandPass(12, 900, 1300, 4000)).doesNotThrowAnyException();
        assertThatThrownBy(() -> Butterworth.highPass(2, 0, 4000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("edge 0.0 Hz is not between 0 and half the sampling rate, 2000.0 Hz");
    }

    /** The analogue prototype: {@code 1 / sqrt(1 + (f/fc)^2n)}. */
    @ParameterizedTest
    @ValueSource(ints = {2, 4, 8, 12})
    void anAnalogLowPassIsTheClosedForm(int order) {
        AnalogFilter filter = Butterworth.analogLowPass(order, 470);
        for (double f : new double[] {0, 100, 470, 900}) {
            double expected = 1 / Math.sqrt(1 + Math.pow(f / 470, 2 * order));
            assertThat(filter.magnitude(f)).isCloseTo(expected, within(1e-12 * expected));
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {0, 3, 14})
    void analogLowPassesAreOfEvenOrder(int order) {
        assertThatThrownBy(() -> Butterworth.analogLowPass(order, 470))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("order " + order + " is not an even one");
    }
}
