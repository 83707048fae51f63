/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Sequence;
import org.tapemetrology.signals.Sequence.Section;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.Sine;
import org.tapemetrology.signals.WhiteNoise;

/** What may and what may not be taken for a second tone. */
class SecondToneWatchTest {
    private static final int RATE = 48_000;

    private static Signal tone(double phase) {
        return FmTone.builder(3150)
                .amplitude(0.3)
                .startPhase(phase)
                .sine(4, 0.001)
                .build();
    }

    private static Status flutter(Signal signal) {
        return measured(signal)
                .find(Quantity.FLUTTER_WEIGHTED_RMS)
                .orElseThrow()
                .status();
    }

    private static List<WarningCode> warnings(Signal signal) {
        return measured(signal).warnings().stream().map(Warning::code).toList();
    }

    private static Measurement measured(Signal signal) {
        RecordingMeter meter = RecordingMeter.builder(RATE, 1).build();
        float[] samples = new float[30 * RATE];
        SampledSignal.of(signal.plus(new WhiteNoise(5, 2e-4, RATE)), RATE).fill(0, samples, 0, samples.length);
        meter.accept(samples, 0, samples.length);
        return meter.reading();
    }

    /** Whatever the angle by which the tone is off after the splice. */
    @Test
    void aSpliceIsNoSecondTone() {
        for (double phase : List.of(0.7, 1.6, 2.5, 3.1, 4.4, 5.6)) {
            Signal spliced = Sequence.of(new Section(tone(0), 15), new Section(tone(phase), 15));
            assertThat(flutter(spliced)).as("turned by %s rad", phase).isNotEqualTo(Status.AMBIGUOUS);
        }
    }

    /** One of 3 % (-30 dB) moves the tone as 3 % of flutter at their distance would: the figures are not those of the tape. */
    @Test
    void aSecondToneIsToldThatStaysOrComesLate() {
        Signal second = new Sine(3210, 0.01);
        assertThat(flutter(tone(0).plus(second))).isEqualTo(Status.AMBIGUOUS);
        Signal late = Sequence.of(new Section(moment -> 0, 15), new Section(second, 15));
        assertThat(flutter(tone(0).plus(late))).isEqualTo(Status.AMBIGUOUS);
    }

    /**
     * A level that swings by 24 % sixteen times a second hides one of -37 dB from the correlation of all movement. It still swings the
     * frequency by {@code 170 Hz x 0.0141 / sqrt 2} RMS, 0.054 % of 3150 Hz, which the flutter of 0.08 % here has in it.
     */
    @Test
    void aWeakSecondToneIsToldBesideALevelThatSwings() {
        Signal swinging =
                FmTone.builder(3150).amplitude(0.3).sine(40, 0.0012).build().amplitudeModulated(0.24, 16.5);
        assertThat(warnings(swinging)).doesNotContain(WarningCode.SECOND_TONE);
        assertThat(warnings(swinging.plus(new Sine(2980, 0.3 * 0.0141)))).contains(WarningCode.SECOND_TONE);
    }

    /** 17 Hz beside and 8 dB below the tone: level and frequency swing at 17 Hz. */
    @Test
    void aStrongSecondToneThatIsNearIsTold() {
        assertThat(flutter(tone(0).plus(new Sine(3133, 0.12)))).isEqualTo(Status.AMBIGUOUS);
    }

    /** An eccentric roller moves speed and level at once: 0.2 % with 1.5 dB either way at 6 Hz is no tone 6 Hz away, which makes 0.03 %. */
    @Test
    void aPartThatMovesSpeedAndLevelIsNoSecondTone() {
        Signal both = FmTone.builder(3150).amplitude(0.3).sine(6, 0.002).build().amplitudeModulated(0.17, 6);
        assertThat(flutter(both)).isEqualTo(Status.VALID);
    }

    private static final int VALUES_HZ = 4000;
    private static final double FARTHEST_HZ = 1000;

    /** A watch that has had so many seconds of a deviation in Hz and a power. */
    private static SecondToneWatch watch(double seconds, DoubleUnaryOperator deviation, DoubleUnaryOperator power) {
        SecondToneWatch watch = new SecondToneWatch(VALUES_HZ, FARTHEST_HZ, new Settling(0, 0, VALUES_HZ));
        double[] deviations = new double[(int) (seconds * VALUES_HZ)];
        double[] powers = new double[deviations.length];
        for (int i = 0; i < deviations.length; i++) {
            deviations[i] = deviation.applyAsDouble(i / (double) VALUES_HZ);
            powers[i] = power.applyAsDouble(i / (double) VALUES_HZ);
        }
        for (int from = 0; from < deviations.length; from += 160) {
            watch.accept(deviations, powers, from, Math.min(160, deviations.length - from), false);
        }
        return watch;
    }

    private static double cosine(double hz, double seconds) {
        return Math.cos(2 * Math.PI * hz * seconds);
    }

    /** One that is 26 dB down: deviation {@code F e cos}, power {@code 1 + 2 e cos}; means over a millisecond lose 1.6 % at 100 Hz. */
    @Test
    void aTonesShareIsWhatGoesWithThePower() {
        double e = 0.05;
        SecondToneWatch alone = watch(2, t -> 100 * e * cosine(100, t), t -> 1 + 2 * e * cosine(100, t));
        assertThat(alone.share()).isCloseTo(1, within(1e-6));
        assertThat(alone.explainedHz()).isCloseTo(100 * e / Math.sqrt(2), within(0.02 * 100 * e));
        assertThat(alone.isBeyondChance()).isTrue();
        assertThat(alone.nearShare()).isZero();

        // With as much flutter beside it that leaves the level alone it explains half the power of the deviation.
        SecondToneWatch half =
                watch(2, t -> 100 * e * (cosine(100, t) + cosine(60, t)), t -> 1 + 2 * e * cosine(100, t));
        assertThat(half.share()).isCloseTo(0.5, within(0.02));
        assertThat(half.explainedHz()).isCloseTo(100 * e / Math.sqrt(2), within(0.02 * 100 * e));

        SecondToneWatch flutter = watch(2, t -> cosine(60, t), t -> 1 + 0.1 * cosine(100, t));
        assertThat(flutter.isBeyondChance()).isFalse();
    }

    /** So much deviation for so little power would be a tone at 1000 Hz or more, which does not come through. */
    @Test
    void whatMovesThePowerTooLittleIsNoTone() {
        assertThat(watch(2, t -> 4.9 * cosine(100, t), t -> 1 + 0.01 * cosine(100, t))
                        .share())
                .isCloseTo(1, within(1e-6));
        SecondToneWatch far = watch(2, t -> 5.1 * cosine(100, t), t -> 1 + 0.01 * cosine(100, t));
        assertThat(far.share()).isZero();
        assertThat(far.explainedHz()).isZero();
        assertThat(far.isBeyondChance()).isFalse();
    }

    /** A share of one in nine windows of 50 ms could be chance, in eleven it is not. */
    @Test
    void aFewWindowsMayBeChance() {
        DoubleUnaryOperator deviation = t -> 5 * cosine(100, t);
        DoubleUnaryOperator power = t -> 1 + 0.1 * cosine(100, t);
        assertThat(watch(0.49, deviation, power).isBeyondChance()).isFalse();
        assertThat(watch(0.56, deviation, power).isBeyondChance()).isTrue();
    }

    /** 24 % at 16.5 Hz beside {@code 2 x 1.4 %} at 170 Hz: the sums of all movement say little, those of second differences find it. */
    @Test
    void secondDifferencesFindAFastOneBesideASlowSwing() {
        double e = 0.014;
        SecondToneWatch watch = watch(
                10,
                t -> 170 * e * cosine(170, t) + 3.8 * cosine(40, t),
                t -> Math.pow(1 + 0.24 * cosine(16.5, t), 2) * (1 + 2 * e * cosine(170, t)));
        assertThat(watch.share()).isLessThan(0.1);
        assertThat(watch.isBeyondChance()).isTrue();
        // Means over a millisecond lose 5 % at 170 Hz, and the swing makes its level 6 % uncertain.
        assertThat(watch.explainedHz()).isCloseTo(170 * e / Math.sqrt(2), within(0.12 * 170 * e));
    }

    /** 17 Hz away and 16 dB down; at -26 dB it could be the tape, and with another deviation it is a part of the machine. */
    @Test
    void aNearToneMovesMuchPowerAndAsMuchFrequency() {
        double e = 0.16;
        assertThat(watch(10, t -> 17 * e * cosine(17, t), t -> 1 + 2 * e * cosine(17, t))
                        .nearShare())
                .isCloseTo(1, within(1e-3));
        assertThat(watch(10, t -> 17 * cosine(17, t) / 20, t -> 1 + cosine(17, t) / 10)
                        .nearShare())
                .isZero();
        for (double factor : new double[] {0.5, 2}) {
            assertThat(watch(10, t -> factor * 17 * e * cosine(17, t), t -> 1 + 2 * e * cosine(17, t))
                            .nearShare())
                    .as("deviation times %s", factor)
                    .isZero();
        }
    }

    /** What came before a gap fills no window after it. */
    @Test
    void aGapBeginsNewWindows() {
        SecondToneWatch watch = new SecondToneWatch(VALUES_HZ, FARTHEST_HZ, new Settling(0, 0.01, VALUES_HZ));
        double[] values = new double[160]; // 40 ms, and a window is 50
        for (int i = 0; i < values.length; i++) {
            values[i] = 1 + 0.1 * cosine(100, i / (double) VALUES_HZ);
        }
        for (int i = 0; i < 40; i++) {
            watch.accept(values, values, 0, values.length, true);
        }
        assertThat(watch.share()).isZero();
        for (int i = 0; i < 40; i++) {
            watch.accept(values, values, 0, values.length, false);
        }
        assertThat(watch.share()).isPositive();
    }

    /**
     * Wow of 250 Hz at 0.8 Hz carries the tone past one 20 dB below and 30 Hz beside it: of both sides together little is common. Means
     * over a millisecond lose a tenth of what swings at 280 Hz.
     */
    @Test
    void aToneThatWowPassesIsToldWindowByWindow() {
        double e = 0.1;
        DoubleUnaryOperator wow = t -> 250 * cosine(0.8, t);
        DoubleUnaryOperator distance = t -> -30 - wow.applyAsDouble(t);
        DoubleUnaryOperator beat =
                t -> Math.cos(2 * Math.PI * (-30 * t - 250 * Math.sin(2 * Math.PI * 0.8 * t) / (2 * Math.PI * 0.8)));
        SecondToneWatch passed = watch(
                10,
                t -> wow.applyAsDouble(t) + distance.applyAsDouble(t) * e * beat.applyAsDouble(t),
                t -> 1 + 2 * e * beat.applyAsDouble(t));
        double explained = e * Math.sqrt((30 * 30 + 250 * 250 / 2.0) / 2);
        assertThat(passed.isBeyondChance()).isTrue();
        assertThat(passed.explainedHz()).isBetween(0.7 * explained, 1.1 * explained);

        SecondToneWatch alone = watch(10, wow, t -> 1 + 2 * e * beat.applyAsDouble(t));
        assertThat(alone.isBeyondChance()).isFalse();
    }
}
