/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/** When two tones count as two test tones, and what is read of products that are made one by one: at 8 kHz. */
class TwoToneFramesTest {
    private static final int RATE = 8000;
    private static final double TURN = 2 * Math.PI;

    private static double cos(double hz, double t) {
        return Math.cos(TURN * hz * t);
    }

    private static double[] samples(double seconds, DoubleUnaryOperator signal) {
        double[] y = new double[(int) Math.round(seconds * RATE)];
        for (int i = 0; i < y.length; i++) {
            y[i] = signal.applyAsDouble(i / (double) RATE);
        }
        return y;
    }

    private static List<Reading> read(double seconds, DoubleUnaryOperator signal) {
        TwoToneDistortionMeter meter = new TwoToneDistortionMeter(RATE);
        double[] y = samples(seconds, signal);
        meter.accept(y, 0, y.length);
        return meter.readings();
    }

    private static boolean counts(DoubleUnaryOperator signal) {
        return read(2, signal).stream().allMatch(Reading::isValid);
    }

    /** Side bands at f2 +- f1 of 1 % each, at f2 +- 2 f1 of 0.5 % each: (2 and 1 %) of the upper tone. */
    @Test
    void modulationIsTheSumOfItsSideBands() {
        List<Reading> readings = read(
                2,
                t -> 0.4 * cos(250, t)
                        + 0.1
                                * (cos(3000, t)
                                        + 0.01 * (cos(2750, t) + cos(3250, t))
                                        + 0.005 * (cos(2500, t) + cos(3500, t))));
        assertThat(readings).hasSize(1);
        Reading reading = readings.get(0);
        assertThat(reading.quantity()).isEqualTo(Quantity.DISTORTION_MODULATION);
        assertThat(reading.value().orElseThrow()).isCloseTo(Math.hypot(2, 1), within(0.01));
        assertThat(reading.atFrequencyHz().orElseThrow()).isCloseTo(3000, within(0.1));
        assertThat(reading.uncertainty()).isPresent();
        assertThat(reading.method())
                .isEqualTo("IEC 60268-3, side bands of the high tone re it, 2nd and 3rd order, following the speed");
        // Side bands of opposite sign turn the phase alone, as flutter does.
        List<Reading> turned =
                read(2, t -> 0.4 * cos(250, t) + 0.1 * (cos(3000, t) + 0.01 * (cos(3250, t) - cos(2750, t))));
        assertThat(turned.get(0).value().orElseThrow()).isLessThan(0.05);
        // One alone is half of each.
        List<Reading> one = read(2, t -> 0.4 * cos(250, t) + 0.1 * (cos(3000, t) + 0.01 * cos(3250, t)));
        assertThat(one.get(0).value().orElseThrow()).isCloseTo(1, within(0.02));
    }

    /** An amplitude that swings by 2 % at the lower frequency and by 1 % at twice that, in any phases; a phase that does is none. */
    @ParameterizedTest
    @CsvSource({"0, 0, 0, 0", "0.4, 1.1, 0.9, 2", "2, -1, -1.5, 0.3", "-0.7, 3, 3, -2.2"})
    void modulationIsThatOfTheAmplitude(double low, double high, double first, double second) {
        List<Reading> readings = read(2, t -> {
            double lowPhase = TURN * 250 * t + low;
            double swing = 0.02 * Math.cos(lowPhase + first) + 0.01 * Math.cos(2 * lowPhase + second);
            return 0.4 * Math.cos(lowPhase) + 0.1 * (1 + swing) * Math.cos(TURN * 3000 * t + high);
        });
        assertThat(readings.get(0).value().orElseThrow()).isCloseTo(Math.hypot(2, 1), within(0.01));
        List<Reading> turned = read(2, t -> {
            double lowPhase = TURN * 250 * t + low;
            double swing = 0.02 * Math.cos(lowPhase + first);
            return 0.4 * Math.cos(lowPhase) + 0.1 * Math.cos(TURN * 3000 * t + high + swing);
        });
        assertThat(turned.get(0).value().orElseThrow()).isLessThan(0.05);
    }

    /** A difference frequency in any phase: sums of powers, not of amplitudes. */
    @ParameterizedTest
    @CsvSource({"0.3, 1, 2", "-2, 0.5, -1"})
    void differenceFrequencyHasAnyPhase(double low, double high, double product) {
        List<Reading> readings = read(
                2,
                t -> 0.2 * (Math.cos(TURN * 2000 * t + low) + Math.cos(TURN * 2310 * t + high))
                        + 0.004 * Math.cos(TURN * 310 * t + product)
                        + 0.003 * Math.cos(TURN * 1690 * t - product));
        assertThat(readings.get(0).value().orElseThrow()).isCloseTo(1.25, within(0.01));
    }

    /** Products at f2 - f1, 2 f1 - f2 and 2 f2 - f1, re twice the upper tone. */
    @ParameterizedTest
    @CsvSource({"310", "1690", "2620"})
    void differenceFrequencyIsEachProduct(double hz) {
        List<Reading> readings = read(2, t -> 0.2 * (cos(2000, t) + cos(2310, t)) + 0.004 * cos(hz, t));
        assertThat(readings).hasSize(1);
        assertThat(readings.get(0).quantity()).isEqualTo(Quantity.DISTORTION_DIFFERENCE_FREQUENCY);
        assertThat(readings.get(0).value().orElseThrow()).isCloseTo(1, within(0.01));
        assertThat(readings.get(0).atFrequencyHz().orElseThrow()).isCloseTo(2310, within(0.1));
        assertThat(readings.get(0).method())
                .isEqualTo("IEC 60268-3, 2nd and 3rd order re twice the upper tone, following the speed");
        // Another line is none of them.
        assertThat(read(2, t -> 0.2 * (cos(2000, t) + cos(2310, t)) + 0.004 * cos(1234, t))
                        .get(0)
                        .value()
                        .orElseThrow())
                .isLessThan(0.05);
    }

    /** 26 dB apart at most where the upper is three times as high or more, 6 dB where they are close. */
    @ParameterizedTest
    @CsvSource({
        "250, 3000, -25.5, true",
        "250, 3000, -26.5, false",
        "250, 3000, 25.5, true",
        "250, 3000, 26.5, false",
        "2000, 2310, -5.5, true",
        "2000, 2310, -6.5, false",
        "2000, 2310, 5.5, true",
        "2000, 2310, 6.5, false",
        "900, 2950, -20, true",
        "1000, 2770, -20, false"
    })
    void theWeakerToneIsStrongEnough(double low, double high, double decibels, boolean counts) {
        double ratio = Math.pow(10, decibels / 20);
        double scale = 0.5 / Math.max(1, ratio);
        assertThat(counts(t -> scale * (cos(low, t) + ratio * cos(high, t)))).isEqualTo(counts);
    }

    /** Both hold 95 % of the power; both are above 1e-8 of it together. */
    @Test
    void theTonesPrevail() {
        for (double share : new double[] {0.04, 0.06}) {
            double third = Math.sqrt(2 * share / (1 - share));
            assertThat(counts(t -> 0.2 * (cos(2000, t) + cos(2310, t) + third * cos(1234, t))))
                    .isEqualTo(share < 0.05);
        }
        assertThat(counts(t -> 1.1e-4 * (cos(2000, t) + cos(2310, t)))).isTrue();
        assertThat(counts(t -> 0.9e-4 * (cos(2000, t) + cos(2310, t)))).isFalse();
    }

    /** A weak tone stands 10 dB above what noise would be there. */
    @Test
    void aWeakToneStandsOutOfTheNoise() {
        for (double sigma : new double[] {0.01, 0.07}) {
            Random random = new Random(2);
            // A tone of -20 dB; noise below 5 % of the power in either case.
            assertThat(counts(t -> 0.5 * cos(250, t) + 0.05 * cos(3300, t) + sigma * random.nextGaussian()))
                    .isEqualTo(sigma < 0.02);
        }
    }

    /** Up to the ninth harmonic, within 1.5 %, it is one tone; the tenth is a test tone. */
    @ParameterizedTest
    @CsvSource({
        "400, 1200, false",
        "400, 1212, false",
        "400, 1188, false",
        "400, 1230, true",
        "390, 3510, false",
        "300, 3000, true"
    })
    void aHarmonicIsNoSecondTone(double low, double high, boolean counts) {
        assertThat(counts(t -> 0.2 * (cos(low, t) + cos(high, t)))).isEqualTo(counts);
    }

    /** From 40 Hz to 0.45 of the rate, and 4 % or 125 Hz apart: nearer ones melt into one. */
    @ParameterizedTest
    @CsvSource({
        "45, 3000, true",
        "30, 3000, false",
        "250, 3550, true",
        "250, 3700, false",
        "2000, 2150, true",
        "2000, 2045, false"
    })
    void tonesAreLookedForInARange(double low, double high, boolean counts) {
        assertThat(counts(t -> 0.2 * (cos(low, t) + cos(high, t)))).isEqualTo(counts);
    }

    /** The stronger one may stand at either end of the range, where there is no room beyond it. */
    @Test
    void theStrongerToneMayStandAtTheEnd() {
        assertThat(counts(t -> 0.4 * cos(60, t) + 0.1 * cos(3000, t))).isTrue();
        assertThat(counts(t -> 0.1 * cos(250, t) + 0.4 * cos(3560, t))).isTrue();
        // The second tone is the stronger of what stands below and above the first.
        List<Reading> above = read(2, t -> 0.4 * cos(1000, t) + 0.1 * cos(3490, t) + 0.04 * cos(300, t));
        assertThat(above.get(0).atFrequencyHz().orElseThrow()).isCloseTo(3490, within(1.0));
        List<Reading> below = read(2, t -> 0.4 * cos(2900, t) + 0.1 * cos(310, t) + 0.04 * cos(3400, t));
        assertThat(below.get(0).atFrequencyHz().orElseThrow()).isCloseTo(2900, within(1.0));
    }

    @Test
    void whatCannotBeReadSaysWhy() {
        DoubleUnaryOperator two = t -> 0.2 * (cos(2000, t) + cos(2310, t));
        assertThat(read(0.9, t -> 0)).hasSize(2).allMatch(r -> r.status() == Status.INSUFFICIENT_DATA);
        assertThat(read(1.1, t -> 0)).hasSize(2).allMatch(r -> r.status() == Status.NO_CARRIER);
        assertThat(read(1.1, t -> 0))
                .extracting(Reading::quantity)
                .containsExactly(Quantity.DISTORTION_MODULATION, Quantity.DISTORTION_DIFFERENCE_FREQUENCY);
        assertThat(read(0.8, two)).hasSize(1).allMatch(r -> r.status() == Status.INSUFFICIENT_DATA);
        assertThat(read(1.6, two)).hasSize(1).allMatch(Reading::isValid);
        // Half of the time: it comes and goes.
        assertThat(read(8, t -> t % 2 < 1 ? two.applyAsDouble(t) : 0.2 * cos(2000, t)))
                .hasSize(1)
                .allMatch(r -> r.status() == Status.AMBIGUOUS);
        assertThat(read(8, t -> t % 4 < 3.4 ? two.applyAsDouble(t) : 0.2 * cos(2000, t)))
                .hasSize(1)
                .allMatch(Reading::isValid);
        // What stands before the first and after the last frame with two tones does not make them come and go.
        assertThat(read(8, t -> t > 3 && t < 5 ? two.applyAsDouble(t) : 0))
                .hasSize(1)
                .allMatch(Reading::isValid);
        assertThat(read(1, t -> t < 0.5 ? 0 : Double.NaN)).allMatch(r -> r.status() == Status.INVALID_INPUT);
        assertThat(read(2, t -> t < 1.9 ? two.applyAsDouble(t) : Double.NaN))
                .hasSize(1)
                .allMatch(r -> r.status() == Status.INVALID_INPUT);
        for (double rate : new double[] {7999, 192_001, Double.NaN}) {
            assertThatThrownBy(() -> new TwoToneDistortionMeter(rate))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("sampleRateHz " + rate);
        }
    }

    /** Other tones than those found first, by more than a tenth, do not count. */
    @ParameterizedTest
    @CsvSource({"2260, 2610, false", "2000, 2610, false", "1740, 2310, false", "2080, 2400, true"})
    void otherTonesDoNotCount(double low, double high, boolean counts) {
        double distortion = 0.02;
        List<Reading> readings = read(
                5,
                t -> t < 2.5
                        ? 0.2 * (cos(2000, t) + cos(2310, t))
                        : 0.2 * (cos(low, t) + cos(high, t) + 2 * distortion * cos(high - low, t)));
        double value = readings.get(0).value().orElseThrow();
        // Half of the frames, or none of them: the root of half of the power.
        assertThat(value).isCloseTo(counts ? 100 * distortion / Math.sqrt(2) : 0, within(0.35));
    }

    /** One of two channels, in blocks, after a reset: as new. */
    @Test
    void samplesMayComeInAnyForm() {
        double[] y = samples(2, t -> 0.2 * (cos(2000, t) + cos(2310, t) + 0.01 * cos(310, t)));
        float[] pairs = new float[2 * y.length];
        for (int i = 0; i < y.length; i++) {
            pairs[2 * i + 1] = (float) y[i];
            y[i] = pairs[2 * i + 1];
        }
        TwoToneDistortionMeter plain = new TwoToneDistortionMeter(RATE);
        plain.accept(y, 0, y.length);
        TwoToneDistortionMeter other = new TwoToneDistortionMeter(RATE);
        double[] before = samples(3, t -> 0.2 * (cos(250, t) + cos(3000, t)));
        other.accept(before, 0, before.length);
        other.reset();
        assertThat(other.readings()).hasSize(2).allMatch(r -> r.status() == Status.INSUFFICIENT_DATA);
        for (int at = 0; at < y.length; at += 900) {
            other.accept(pairs, 2 * at + 1, 2, Math.min(900, y.length - at));
        }
        assertThat(other.readings()).isEqualTo(plain.readings());
        assertThat(plain.readings().get(0).value().orElseThrow()).isCloseTo(0.5, within(0.005));
    }
}
