/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.response.ResponseMeter.ToneLevel;

/** A multitone from spectra that are written line by line: 8 kHz, 8000/16384 Hz a line. */
class MultitoneLevelsTest {
    private static final double LINE = 8000.0 / 16_384;
    private static final int LINES = 8193;

    /** Lines 614, 2048 and 5120 but for rounding. */
    private static MultitoneResponse meter() {
        return new MultitoneResponse(8000, 1, 1000, List.of(300.0, 1000.0, 2500.0), List.of(0.0, 0.0, 10.0));
    }

    private static double[] spectrum(double floor, double... linesAndPowers) {
        double[] lines = new double[LINES];
        Arrays.fill(lines, floor);
        for (int i = 0; i < linesAndPowers.length; i += 2) {
            lines[(int) linesAndPowers[i]] += linesAndPowers[i + 1];
        }
        return lines;
    }

    private static MultitoneResponse fed(int frames, double[] spectrum) {
        MultitoneResponse meter = meter();
        for (int i = 0; i < frames; i++) {
            meter.add(spectrum, false);
        }
        return meter;
    }

    @Test
    void powersAreReWhatWasSent() {
        double[] spectrum = spectrum(1e-6, 614, 1, 2048, 2, 5120, 5);
        MultitoneResponse meter = fed(2, spectrum);
        assertThat(meter.speedRatio()).isEmpty();
        assertThat(meter.levels()).extracting(ToneLevel::status).containsOnly(Status.INSUFFICIENT_DATA);
        meter.add(spectrum, false);
        // Three frames; the floor is taken off to the last digit; 10 dB were sent.
        double[] wanted = {3, 6, 1.5};
        for (int i = 0; i < 3; i++) {
            assertThat(meter.levels().get(i).power()).isCloseTo(wanted[i], within(1e-9));
            assertThat(meter.levels().get(i).degreesOfFreedom())
                    .as("three parts")
                    .isZero();
        }
        List<Reading> levels = meter.levelReadings();
        double[] meanSquares = {1, 2, 5};
        for (int i = 0; i < 3; i++) {
            assertThat(levels.get(i).value().orElseThrow())
                    .isCloseTo(10 * Math.log10(2 * meanSquares[i]), within(1e-9));
        }
        assertThat(levels.get(1).method()).isEqualTo("multitone, selective power mean");
        assertThat(meter.readings().get(2).value().orElseThrow()).isCloseTo(10 * Math.log10(0.25), within(1e-9));
        assertThat(meter.readings().get(1).value()).hasValue(0);
        meter.add(spectrum, true);
        assertThat(meter.levels()).extracting(ToneLevel::status).containsOnly(Status.OVERLOAD);
        meter.reset();
        assertThat(meter.levels()).extracting(ToneLevel::status).containsOnly(Status.INSUFFICIENT_DATA);
        for (int i = 0; i < 3; i++) {
            meter.add(spectrum, false);
        }
        assertThat(meter.levels().get(0).power()).isCloseTo(3, within(1e-9));
        assertThat(meter.levels().get(0).degreesOfFreedom()).isZero();
    }

    /** Flutter of 30 Hz or 1.5 %: at 300 Hz 62 lines either side, at 2.5 kHz 77. Beyond it is noise, as far again, half of it beside. */
    @ParameterizedTest
    @CsvSource({"0, 300, 62", "1, 1000, 62", "2, 2500, 77"})
    void linesWithinTheFlutterBelongToTheTone(int tone, double hertz, int half) {
        int line = (int) Math.round(hertz / LINE);
        double sent = tone == 2 ? 10 : 1;
        for (int sign = -1; sign <= 1; sign += 2) {
            for (int off : new int[] {half, half + 1, 2 * half + 1, 2 * half + 2}) {
                double[] spectrum = spectrum(0, 614, 1, 2048, 1, 5120, 1);
                spectrum[line + sign * off] = 0.1;
                double noise = 0.1 * (2 * half + 1) / (2.0 * half + 2);
                double power = off == half ? 1.1 : off > 2 * half + 1 ? 1 : 1 - noise;
                assertThat(fed(4, spectrum).levels().get(tone).power() * sent / 4)
                        .as("%d lines", sign * off)
                        .isCloseTo(power, within(1e-9));
            }
        }
    }

    /** Tones 45 lines apart leave room for 0.3 of that, 14 lines; and noise reaches to the middle between them. */
    @Test
    void tonesThatAreCloseLeaveLessRoom() {
        int low = 420;
        int high = 465;
        MultitoneResponse close =
                new MultitoneResponse(8000, 1, 2500, List.of(low * LINE, high * LINE, 2500.0), List.of(0.0, 0.0, 0.0));
        for (int[] at : new int[][] {{434, 0}, {406, 0}, {479, 1}, {451, 1}}) {
            close.reset();
            double[] spectrum = spectrum(0, low, 1, high, 1, 5120, 1);
            spectrum[at[0]] = 0.1;
            for (int i = 0; i < 3; i++) {
                close.add(spectrum, false);
            }
            assertThat(close.levels().get(at[1]).power()).isCloseTo(3.3, within(1e-9));
        }
        // Line 442 is on the lower tone's side, 443 on the other's: 15 + 8 lines of noise, or as many, beside 29.
        for (int line = 442; line <= 443; line++) {
            close.reset();
            double[] spectrum = spectrum(0, low, 1, high, 1, 5120, 1, line, 0.01);
            for (int i = 0; i < 3; i++) {
                close.add(spectrum, false);
            }
            int tone = line - 442;
            assertThat(close.levels().get(tone).power()).isCloseTo(3 - 0.03 * 29 / 23, within(1e-9));
            assertThat(close.levels().get(1 - tone).power()).isCloseTo(3, within(1e-9));
        }
    }

    /** 6 dB above the noise among its lines: four times. */
    @Test
    void aToneStandsSixDecibelsAboveItsNoise() {
        double noise = 125 * 1e-3;
        assertThat(fed(3, spectrum(1e-3, 614, 4.05 * noise, 2048, 1, 5120, 1))
                        .levels()
                        .get(0)
                        .status())
                .isEqualTo(Status.VALID);
        assertThat(fed(3, spectrum(1e-3, 614, 3.95 * noise, 2048, 1, 5120, 1))
                        .levels()
                        .get(0)
                        .status())
                .isEqualTo(Status.NO_CARRIER);
        assertThat(fed(3, spectrum(0)).levels()).extracting(ToneLevel::status).containsOnly(Status.NO_CARRIER);
    }

    /**
     * The speed is that of the tones' centres. Each is written to half a line here, 0.244 Hz, which is 1.3e-4 of the speed if all
     * three are off to the same side: 0.244 Hz times the sum of their frequencies over that of their squares.
     */
    @ParameterizedTest
    @CsvSource({"1.05", "0.95", "1.06", "0.94", "1.0125"})
    void theSpeedIsFound(double ratio) {
        double[] spectrum = spectrum(1e-9);
        for (double hertz : new double[] {300, 1000, 2500}) {
            spectrum[(int) Math.round(ratio * hertz / LINE)] = 1;
        }
        MultitoneResponse meter = fed(3, spectrum);
        assertThat(meter.speedRatio().orElseThrow()).isCloseTo(ratio, within(1.3e-4));
        assertThat(meter.levels()).allMatch(level -> level.status() == Status.VALID);
        // What is stronger than a tone beside it does not pull: one whose centre is elsewhere does not count.
        spectrum[(int) Math.round(ratio * 1000 / LINE) + 20] = 100;
        assertThat(fed(3, spectrum).speedRatio().orElseThrow()).isCloseTo(ratio, within(1.3e-4));
    }

    private static double speed(int frames, double[] spectrum, double... lines) {
        List<Double> hertz = Arrays.stream(lines).mapToObj(line -> line * LINE).toList();
        MultitoneResponse meter =
                new MultitoneResponse(8000, 1, hertz.get(0), hertz, Collections.nCopies(lines.length, 0.0));
        for (int i = 0; i < frames; i++) {
            meter.add(spectrum, false);
        }
        return meter.speedRatio().orElseThrow();
    }

    /**
     * Centres that are known: single lines, pairs of side bands, a tone between two lines, all in noise. By least squares in Hz a
     * tone that is a line too high moves the speed by its frequency over the sum of all squares. Only rounding is allowed for.
     */
    @Test
    void theSpeedIsThatOfTheCentres() {
        assertThat(speed(3, spectrum(0, 600, 1, 2000, 1, 3000, 1), 600, 2000, 3000))
                .isCloseTo(1, within(1e-12));
        assertThat(speed(4, spectrum(1e-3, 618, 1, 2060, 2, 3090, 9), 600, 2000, 3000))
                .isCloseTo(1.03, within(1e-12));
        // The index of modulation rises with the frequency; side bands at 20 lines, 9.8 Hz, are well beyond 0.1 %.
        double[] fluttering = spectrum(
                1e-4, 594, 1, 1960, 0.5, 1980, 1, 2000, 0.5, 2920, 1, 2950, 0.2, 2970, 0.1, 2990, 0.2, 3020, 1);
        assertThat(speed(3, fluttering, 600, 2000, 3000)).isCloseTo(0.99, within(1e-12));
        double[] between = spectrum(0, 600, 1, 2000, 1, 2001, 1, 3000, 1);
        double squares = 600.0 * 600 + 2000.0 * 2000 + 3000.0 * 3000;
        assertThat(speed(3, between, 600, 2000, 3000)).isCloseTo(1 + 0.5 * 2000 / squares, within(1e-12));
    }

    /** Three lines either side are a tone's own from ten lines to the next one on, at 0.3 of the way; nearer ones do not count. */
    @Test
    void tonesWithoutRoomDoNotTellTheSpeed() {
        // Both near ones are a line too high; at eleven lines they count, at nine they do not.
        double[] spectrum = spectrum(0, 81, 1, 92, 1, 400, 1);
        double squares = 80.0 * 80 + 91.0 * 91 + 400.0 * 400;
        assertThat(speed(3, spectrum, 80, 91, 400)).isCloseTo(1 + (80 + 91) / squares, within(1e-12));
        spectrum = spectrum(0, 81, 1, 90, 1, 400, 1);
        assertThat(speed(3, spectrum, 80, 89, 400)).isCloseTo(1, within(1e-12));
        // None has room: the search alone, which rounds to a line and looks at one to either side.
        assertThat(speed(3, spectrum(0, 60, 1, 67, 1), 60, 67)).isCloseTo(1, within(1.5 / 67));
    }

    /** A recording without the tones has no speed. */
    @Test
    void silenceHasNoSpeed() {
        assertThat(fed(3, spectrum(0)).speedRatio()).isEmpty();
        assertThat(fed(3, spectrum(1e-3)).speedRatio()).isEmpty();
        assertThat(fed(3, spectrum(1e-3, 2048, 1)).speedRatio().orElseThrow()).isCloseTo(1, within(1e-12));
    }

    /** Parts of which the ratios to the reference scatter: the variance of their logarithms' mean, with one degree less than parts. */
    @Test
    void theScatterOfPartsIsTheUncertainty() {
        MultitoneResponse meter = meter();
        double[] ratios = {1, 1.1, 0.9, 1.05, 0.97};
        for (int i = 0; i < ratios.length; i++) {
            double common = 1 + i; // what all tones share is no error
            meter.add(spectrum(0, 614, common * ratios[i], 2048, common, 5120, common), false);
        }
        double mean = Arrays.stream(ratios).map(Math::log).average().orElseThrow();
        double squares =
                Arrays.stream(ratios).map(r -> Math.pow(Math.log(r) - mean, 2)).sum();
        StandardUncertainty known = meter.readings().get(0).typeA().orElseThrow();
        assertThat(known.value()).isCloseTo(10 / Math.log(10) * Math.sqrt(squares / 4 / 5), within(1e-9));
        assertThat(known.degreesOfFreedom()).isCloseTo(4, within(1e-9));
        assertThat(meter.readings().get(2).typeA().orElseThrow().value()).isCloseTo(0, within(1e-9));
        assertThat(meter.readings().get(1).typeA()).isEmpty();
        // A part without the tone tells no ratio.
        meter.add(spectrum(0, 2048, 1, 5120, 1), false);
        assertThat(meter.readings().get(0).isValid()).isTrue();
        assertThat(meter.readings().get(0).typeA()).isEmpty();
        // Nor does one without the reference.
        meter.reset();
        for (int i = 0; i < 5; i++) {
            meter.add(spectrum(0, 614, 1, 2048, i == 2 ? 0 : 1, 5120, 1), false);
        }
        assertThat(meter.readings().get(0).isValid()).isTrue();
        assertThat(meter.readings().get(0).typeA()).isEmpty();
    }
}
