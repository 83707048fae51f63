/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;

/**
 * Three recordings, made here by the generator and there by NumPy from the same formulas, measured here by the meter and
 * there by SciPy. The script {@code src/test/scipy/flutter_reference.py} describes both and makes the table.
 */
class ScipyFlutterTest {
    private static final String HEADER = "recording,sampleRateHz,seconds,nominalHz,amplitude,speedError,driftPerSecond,"
            + "deviations,quantity,value";
    private static final List<String> QUANTITIES = List.of(
            "speed.error",
            "flutter.weighted.rms",
            "flutter.weighted.two-sigma",
            "flutter.weighted.average",
            "flutter.weighted.quasi-peak",
            "flutter.unweighted.rms");

    /** What SciPy read on one recording. */
    record Reference(
            String name,
            int sampleRateHz,
            int seconds,
            double nominalHz,
            double amplitude,
            double speedError,
            double driftPerSecond,
            String deviations,
            Map<String, Double> values) {
        @Override
        public String toString() {
            return name;
        }
    }

    static Stream<Reference> references() throws IOException {
        Map<String, Reference> references = new LinkedHashMap<>();
        List<String> lines;
        try (InputStream in = ScipyFlutterTest.class.getResourceAsStream("scipy_flutter.csv")) {
            assertThat(in).as("scipy_flutter.csv").isNotNull();
            lines = new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .toList();
        }
        assertThat(lines.get(0)).startsWith("# flutter_reference.py, ").contains("SciPy", "NumPy");
        assertThat(lines.get(1)).as("columns").isEqualTo(HEADER);
        for (String line : lines.subList(2, lines.size())) {
            String[] cells = line.split(",", -1);
            assertThat(cells).as(line).hasSize(10);
            Reference reference = references.computeIfAbsent(
                    cells[0],
                    name -> new Reference(
                            name,
                            Integer.parseInt(cells[1]),
                            Integer.parseInt(cells[2]),
                            Double.parseDouble(cells[3]),
                            Double.parseDouble(cells[4]),
                            Double.parseDouble(cells[5]),
                            Double.parseDouble(cells[6]),
                            cells[7],
                            new LinkedHashMap<>()));
            assertThat(QUANTITIES).as(line).contains(cells[8]);
            assertThat(reference.values().put(cells[8], Double.parseDouble(cells[9])))
                    .as("twice: " + line)
                    .isNull();
        }
        return references.values().stream();
    }

    @Test
    void theTableHasThreeWholeRecordings() throws IOException {
        assertThat(references())
                .hasSize(3)
                .allSatisfy(reference -> assertThat(reference.values()).containsOnlyKeys(QUANTITIES));
    }

    @ParameterizedTest
    @MethodSource("references")
    void readsAsScipyDoes(Reference reference) {
        float[] samples = new float[reference.sampleRateHz() * reference.seconds()];
        SampledSignal.of(tone(reference), reference.sampleRateHz()).fill(0, samples, 0, samples.length);
        ToneMeter meter = ToneMeter.builder(reference.sampleRateHz())
                .nominalHz(reference.nominalHz())
                .build();
        meter.accept(samples, 0, samples.length);
        Measurement measurement = meter.reading();

        assertThat(reference.values()).isNotEmpty();
        reference.values().forEach((id, expected) -> {
            Reading reading = measurement
                    .find(Quantity.ofId(id).orElseThrow())
                    .orElseThrow(() -> new AssertionError("no reading of " + id));
            assertThat(reading.value()).as("%s of %s", id, reference).isPresent();
            assertThat(reading.value().getAsDouble())
                    .as("%s of %s", id, reference)
                    .isCloseTo(expected, tolerance(id, expected));
        });
    }

    private static Offset<Double> tolerance(String id, double expected) {
        return switch (id) {
            // The two paths end their spans up to 60 ms apart: at 0.3 % of deviation that moves the mean of 40 s by
            // up to 5 ppm of the frequency, and 10 ppm is 0.001 %.
            case "speed.error" -> within(0.001);
            // Spans of 37 s that begin and end up to 60 ms apart differ by up to 0.2 % in RMS and percentile; the
            // rest is for filters designed in two ways.
            case "flutter.weighted.rms",
                    "flutter.weighted.two-sigma",
                    "flutter.weighted.average",
                    "flutter.unweighted.rms" -> within(0.005 * expected);
            // A detector stepped at 4 kHz and one at 8 kHz see the crest of a 23 Hz rate and the switching between
            // rise and fall at moments up to 0.25 ms apart, 0.7 % of the fastest constant (34.6 ms).
            case "flutter.weighted.quasi-peak" -> within(0.01 * expected);
            default -> throw new AssertionError("no tolerance for " + id);
        };
    }

    private static FmTone tone(Reference reference) {
        FmTone.Builder builder = FmTone.builder(reference.nominalHz())
                .amplitude(reference.amplitude())
                .speedError(reference.speedError())
                .drift(reference.driftPerSecond());
        for (String deviation : reference.deviations().split(" ", -1)) {
            String[] parts = deviation.split(":", -1);
            double[] p =
                    Stream.of(parts).skip(1).mapToDouble(Double::parseDouble).toArray();
            switch (parts[0]) {
                case "sine" -> builder.sine(p[0], p[1], p[2]);
                case "pulses" -> builder.pulses(p[0], p[1], p[2], p[3]);
                case "comb" -> {
                    for (int k = 0; k < p[0]; k++) {
                        double rate = p[1] * Math.pow(p[2] / p[1], k / (p[0] - 1));
                        double turns = 0.618034 * k * k;
                        builder.sine(rate, p[3], 2 * Math.PI * (turns - Math.floor(turns)));
                    }
                }
                default -> throw new AssertionError("unknown deviation " + deviation);
            }
        }
        return builder.build();
    }
}
