/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.stability;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The two data sets of NIST SP 1065 and their published deviations (tables 29 to 32; second-hand, and computed from the
 * definitions by another program). Figures are compared in the seven digits printed.
 */
class Sp1065Test {
    private static final double[] TEN_POINTS = {892, 809, 823, 798, 671, 644, 883, 903, 677};

    /** The set's linear congruential generator, 12.4: its first number is the seed. */
    private static double[] thousandPoints() {
        double[] y = new double[1000];
        long n = 1234567890;
        for (int i = 0; i < y.length; i++) {
            y[i] = n / 2147483647.0;
            n = 16807 * n % 2147483647;
        }
        return y;
    }

    private static void assertPrinted(StabilityPoint point, String printed) {
        BigDecimal expected = new BigDecimal(printed);
        assertThat(new BigDecimal(point.deviation()).round(new MathContext(expected.precision())))
                .isEqualByComparingTo(expected);
    }

    @ParameterizedTest
    @CsvSource({
        "ALLAN, 91.22945, 115.8082",
        "OVERLAPPING_ALLAN, 91.22945, 85.95287",
        "MODIFIED_ALLAN, 91.22945, 74.78849",
        "TIME, 52.67135, 86.35831",
        "HADAMARD, 70.80607, 116.7980",
        "OVERLAPPING_HADAMARD, 70.80607, 85.61487",
        "TOTAL, 91.22945, 93.90379",
    })
    void theTenPointSetIsReproducedDigitByDigit(StabilityDeviation kind, String one, String two) {
        StabilityRecord record = StabilityRecord.ofFrequency(TEN_POINTS, 1);
        assertPrinted(record.at(kind, 1), one);
        assertPrinted(record.at(kind, 2), two);
    }

    @ParameterizedTest
    @CsvSource({
        "ALLAN, 2.922319e-1, 9.965736e-2, 3.897804e-2",
        "OVERLAPPING_ALLAN, 2.922319e-1, 9.159953e-2, 3.241343e-2",
        "MODIFIED_ALLAN, 2.922319e-1, 6.172376e-2, 2.170921e-2",
        "TIME, 1.687202e-1, 3.563623e-1, 1.253382e+0",
        "HADAMARD, 2.943883e-1, 1.052754e-1, 3.910861e-2",
        "OVERLAPPING_HADAMARD, 2.943883e-1, 9.581083e-2, 3.237638e-2",
        "TOTAL, 2.922319e-1, 9.134743e-2, 3.406530e-2",
    })
    void theThousandPointSetIsReproducedDigitByDigit(StabilityDeviation kind, String one, String ten, String hundred) {
        StabilityRecord record = StabilityRecord.ofFrequency(thousandPoints(), 1);
        assertPrinted(record.at(kind, 1), one);
        assertPrinted(record.at(kind, 10), ten);
        assertPrinted(record.at(kind, 100), hundred);
    }

    /** The published phases have their mean slope removed, which no deviation sees; they are printed to 5 decimals. */
    @Test
    void phasesGiveWhatTheirFrequenciesGive() {
        double[] phase = {0, 103.11111, 123.22222, 157.33333, 166.44444, 48.55555, -96.33333, -2.22222, 111.88889, 0};
        for (StabilityDeviation kind : StabilityDeviation.values()) {
            assertThat(StabilityRecord.ofPhase(phase, 1).at(kind, 2).deviation())
                    .as(kind.name())
                    .isCloseTo(
                            StabilityRecord.ofFrequency(TEN_POINTS, 1)
                                    .at(kind, 2)
                                    .deviation(),
                            within(3e-5));
        }
    }

    /** Closed form: white noise of deviation s reads s / root m, whatever its unit of time; 3 % is three standard errors. */
    @Test
    void whiteNoiseFallsAsTheRootOfAveragingTime() {
        Random random = new Random(1);
        double[] y = new double[200_000];
        for (int i = 0; i < y.length; i++) {
            y[i] = 0.001 * random.nextGaussian();
        }
        StabilityPoint point = StabilityRecord.ofFrequency(y, 0.001).at(StabilityDeviation.OVERLAPPING_ALLAN, 100);
        assertThat(point.averagingSeconds()).isCloseTo(0.1, within(1e-12));
        assertThat(point.deviation()).isCloseTo(0.0001, within(0.000003));
        assertThat(point.terms()).isEqualTo(y.length + 1 - 200);
    }

    /** A steady drift D per second: Allan reads D tau / root 2 (SP 1065, 5.2.2), Hadamard nothing but rounding. */
    @Test
    void driftIsSeenByAllanAndNotByHadamard() {
        double[] y = new double[10_000];
        for (int i = 0; i < y.length; i++) {
            y[i] = 1 + 1e-6 * i;
        }
        StabilityRecord record = StabilityRecord.ofFrequency(y, 0.001);
        assertThat(record.at(StabilityDeviation.ALLAN, 1000).deviation()).isCloseTo(1e-3 / Math.sqrt(2), within(1e-12));
        assertThat(record.at(StabilityDeviation.HADAMARD, 1000).deviation()).isLessThan(1e-12);
    }

    @Test
    void octavesEndWhereTheRecordDoes() {
        StabilityRecord record = StabilityRecord.ofFrequency(TEN_POINTS, 0.5);
        List<StabilityPoint> points = record.octaves(StabilityDeviation.OVERLAPPING_ALLAN);
        assertThat(points).extracting(StabilityPoint::averagingSeconds).containsExactly(0.5, 1.0, 2.0);
        assertThat(record.greatestFactor(StabilityDeviation.OVERLAPPING_ALLAN)).isEqualTo(4);
        assertThat(record.greatestFactor(StabilityDeviation.ALLAN)).isEqualTo(4);
        assertThat(record.greatestFactor(StabilityDeviation.MODIFIED_ALLAN)).isEqualTo(3);
        assertThat(record.greatestFactor(StabilityDeviation.HADAMARD)).isEqualTo(3);
        assertThat(record.greatestFactor(StabilityDeviation.TOTAL)).isEqualTo(8);
    }

    @Test
    void badInputIsRefusedByName() {
        assertThatThrownBy(() -> StabilityRecord.ofFrequency(new double[] {1, Double.NaN, 2}, 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("frequencies[1] is NaN");
        assertThatThrownBy(() -> StabilityRecord.ofPhase(new double[] {1, 2}, 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("2 phases, at least 3");
        assertThatThrownBy(() -> StabilityRecord.ofFrequency(TEN_POINTS, 0))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("spacing in s 0.0");
        StabilityRecord record = StabilityRecord.ofFrequency(TEN_POINTS, 1);
        assertThatThrownBy(() -> record.at(StabilityDeviation.OVERLAPPING_ALLAN, 5))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("averaging factor 5.0 is not in [1.0, 4.0]");
        assertThatThrownBy(() ->
                        StabilityRecord.ofFrequency(new double[] {1, 2}, 1).at(StabilityDeviation.HADAMARD, 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("too few for HADAMARD");
    }
}
