/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.core.flutter.Recordings.value;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.detector.QuasiPeakConstants;
import org.tapemetrology.core.detector.QuasiPeakDetector;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.standard.Iec60386Edition1972;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.table.FlutterPulseRow;
import org.tapemetrology.signals.table.PublishedTables;

/**
 * The quasi-peak dynamics of IEC 60386:1972 method 2: unidirectional pulses of deviation, one per second, in per cent of a
 * 4 Hz sine of the same peak-to-peak deviation. 90 % for 60 ms and the fall to 40 % were read in AES6; the other rows are
 * from memory.
 */
class QuasiPeakTableTest {
    private static final double RATE_HZ = 4000;
    private static final double HEIGHT = 0.002;

    /** Indications of the whole instrument, from samples to needle. */
    @ParameterizedTest(name = "pulses of {0} ms, {1}")
    @CsvSource({"10, 1", "30, 1", "60, 1", "100, 1", "10, -1", "30, -1", "60, -1", "100, -1"})
    void pulsesThroughTheWholeInstrument(double milliseconds, int sign) {
        double nominal = PublishedTables.flutterPulses().rows().stream()
                .filter(row -> row.pulseMilliseconds() == milliseconds
                        && row.indication() == FlutterPulseRow.Indication.HIGHEST)
                .findFirst()
                .orElseThrow()
                .nominalPercent();
        Indications seen = pulsesOnTape(milliseconds / 1000, sign);
        // The constants are a realisation: detector A fits the rows within 2.3 points, the rest is rounding.
        assertThat(100 * seen.highest()).isCloseTo(nominal, within(2.5));
        if (milliseconds == 100) {
            // 36 % to 44 % is allowed (from memory); half of that is asked for here.
            assertThat(100 * seen.lowest()).isBetween(38.0, 42.0);
        }
    }

    private record Indications(double highest, double lowest) {}

    /** Pulses of a height of peak to peak 0.2 % on a 3150 Hz tone; the 4 Hz sine of that size has a peak of 0.1 %. */
    private static Indications pulsesOnTape(double width, int sign) {
        int rate = 48_000;
        FmTone tone = FmTone.builder(3150)
                .amplitude(0.5)
                .pulses(sign * HEIGHT, width, 1, 0.25)
                .build();
        ToneMeter meter = ToneMeter.builder(rate).build();
        float[] block = new float[rate / 50];
        SampledSignal samples = SampledSignal.of(tone, rate);
        double lowest = 1;
        for (int i = 0; i < 50 * 12; i++) {
            samples.fill((long) i * block.length, block, 0, block.length);
            meter.accept(block, 0, block.length);
            if (i >= 50 * 10) {
                lowest = Math.min(lowest, meter.runningQuasiPeakPercent().orElseThrow());
            }
        }
        double highest = value(meter.reading(), Quantity.FLUTTER_WEIGHTED_QUASI_PEAK);
        double sine = 100 * HEIGHT / 2;
        return new Indications(highest / sine, lowest / sine);
    }

    @ParameterizedTest(name = "{0} Hz")
    @ValueSource(doubles = {0.5, 0.63, 0.8, 1, 1.6, 2, 4, 6.3, 10, 20, 40, 63, 100, 150, 200})
    void detectorReadsEqualSinesAlike(double f) {
        assertThat(20 * Math.log10(highestOfSine(Iec60386Edition1972.QUASI_PEAK, f)))
                .isCloseTo(0, within(0.25)); // its ripple and fall-back between the peaks; -0.19 dB at 0.5 Hz
    }

    @Test
    void detectorMeetsItsDesignValues() {
        assertThat(failures(Iec60386Edition1972.QUASI_PEAK)).isEmpty();
    }

    /** Negative controls: each constant a fifth off must be seen. */
    @ParameterizedTest(name = "constant {0} times {1}")
    @CsvSource({"0, 0.8", "0, 1.2", "1, 0.8", "1, 1.2", "2, 0.8", "2, 1.2", "3, 0.8", "3, 1.2", "4, 0.8", "4, 1.2"})
    void aConstantAFifthOffIsSeen(int which, double factor) {
        QuasiPeakConstants right = Iec60386Edition1972.QUASI_PEAK;
        double[] c = {
            right.holdAttackSeconds(),
            right.holdDecaySeconds(),
            right.smoothAttackSeconds(),
            right.smoothDecaySeconds(),
            right.meterSeconds()
        };
        c[which] *= factor;
        assertThat(failures(new QuasiPeakConstants(c[0], c[1], c[2], c[3], c[4])))
                .isNotEmpty();
    }

    /** Design values of the detector behind the weighting, computed once with an independent simulation (NumPy). */
    private static List<String> failures(QuasiPeakConstants constants) {
        double[][] design = {{0.010, 22.9}, {0.030, 59.7}, {0.060, 87.8}, {0.100, 100.4}};
        List<String> failures = new ArrayList<>();
        for (double[] row : design) {
            double[] seen = highestAndLowestOfPulses(constants, row[0]);
            // The design values are printed to 0.1; a fifth on any constant moves at least one by more.
            if (Math.abs(seen[0] - row[1]) > 0.5) {
                failures.add(row[0] + " s: " + seen[0]);
            }
            if (row[0] == 0.100 && Math.abs(seen[1] - 39.6) > 0.5) {
                failures.add("fall-back: " + seen[1]);
            }
        }
        return failures;
    }

    private static double[] highestAndLowestOfPulses(QuasiPeakConstants constants, double width) {
        WeightedPath weighting = new WeightedPath(RATE_HZ);
        weighting.presetTo(0);
        QuasiPeakDetector detector = new QuasiPeakDetector(constants, RATE_HZ);
        double[] deviation = new double[(int) (10 * RATE_HZ)];
        for (int i = 0; i < deviation.length; i++) {
            double t = i / RATE_HZ;
            deviation[i] = t - Math.floor(t) < width - 1e-9 ? 2 : 0;
        }
        double[] weighted = new double[deviation.length];
        weighting.process(deviation, 0, deviation.length, weighted);
        double highest = 0;
        double lowest = 2;
        for (int i = 0; i < weighted.length; i++) {
            double indication = detector.next(weighted[i]);
            if (i >= 8 * RATE_HZ) {
                highest = Math.max(highest, indication);
                lowest = Math.min(lowest, indication);
            }
        }
        return new double[] {100 * highest, 100 * lowest};
    }

    private static double highestOfSine(QuasiPeakConstants constants, double f) {
        QuasiPeakDetector detector = new QuasiPeakDetector(constants, RATE_HZ);
        double highest = 0;
        for (int i = 0; i < 20 * RATE_HZ; i++) {
            double indication = detector.next(Math.sin(2 * Math.PI * f * i / RATE_HZ + 0.3));
            if (i > 12 * RATE_HZ) {
                highest = Math.max(highest, indication);
            }
        }
        return highest;
    }
}
