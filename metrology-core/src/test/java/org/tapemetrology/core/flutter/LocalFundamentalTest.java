/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

/** The fundamental follows a tone sample by sample, and nothing else. */
class LocalFundamentalTest {
    private static final int RATE = 48_000;
    private static final double HZ = 3000;
    private static final double AMPLITUDE = 0.4;
    private static final double OFFSET = 0.1;
    private static final int BEFORE = 7;

    /** A Hann window of 15 periods leaves 1e-5 of an offset or of a harmonic at most. */
    private static final double LEAKAGE = 1e-4;

    private static LocalFundamental of(double foundHz) {
        LocalFundamental fundamental = new LocalFundamental(RATE);
        fundamental.watchTone(foundHz);
        return fundamental;
    }

    /** A piece of 20 ms that begins after some samples of no meaning. */
    private static float[] piece(DoubleUnaryOperator signal) {
        float[] samples = new float[BEFORE + RATE / 50];
        Arrays.fill(samples, 0, BEFORE, 9);
        for (int i = BEFORE; i < samples.length; i++) {
            samples[i] = (float) signal.applyAsDouble((i - BEFORE) / (double) RATE);
        }
        return samples;
    }

    private static boolean follow(LocalFundamental fundamental, float[] samples) {
        return fundamental.follow(samples, BEFORE, samples.length - BEFORE);
    }

    /** Also where the frequency was found a hundredth beside the true one. */
    @Test
    void isTheToneAndTheToneAQuarterOfAPeriodBefore() {
        for (double found : new double[] {HZ, 1.01 * HZ, 0.99 * HZ}) {
            LocalFundamental fundamental = of(found);
            float[] samples = piece(
                    t -> OFFSET + AMPLITUDE * Math.cos(2 * Math.PI * HZ * t) + 0.1 * Math.cos(6 * Math.PI * HZ * t));
            assertThat(follow(fundamental, samples)).isTrue();
            assertThat(fundamental.mean()).isCloseTo(OFFSET, within(1e-6)); // whole periods, in single precision
            assertThat(fundamental.start()).isEqualTo(120); // half of 5 ms
            assertThat(fundamental.length()).isEqualTo(6 * 120); // seven centres in 20 ms
            for (int i = 0; i < fundamental.length(); i++) {
                double phase = 2 * Math.PI * HZ * (fundamental.start() + i) / RATE;
                assertThat(fundamental.value(i)).isCloseTo(AMPLITUDE * Math.cos(phase), within(LEAKAGE));
                assertThat(fundamental.quarterBefore(i)).isCloseTo(AMPLITUDE * Math.sin(phase), within(LEAKAGE));
                assertThat(fundamental.amplitude(i)).isCloseTo(AMPLITUDE, within(LEAKAGE));
            }
        }
    }

    /**
     * A phase that moves by a quarter radian at 20 Hz moves by {@code 0.25 (2 pi 20 s)^2 / 8} beside a straight line over 2.5 ms, and
     * twice as much under a window: 0.01 rad together.
     */
    @Test
    void followsFlutter() {
        LocalFundamental fundamental = of(HZ);
        DoubleUnaryOperator phase = t -> 2 * Math.PI * HZ * t + 0.25 * Math.sin(2 * Math.PI * 20 * t);
        assertThat(follow(fundamental, piece(t -> AMPLITUDE * Math.cos(phase.applyAsDouble(t)))))
                .isTrue();
        for (int i = 0; i < fundamental.length(); i++) {
            double now = phase.applyAsDouble((fundamental.start() + i) / (double) RATE);
            assertThat(fundamental.value(i)).isCloseTo(AMPLITUDE * Math.cos(now), within(0.01 * AMPLITUDE));
        }
    }

    /** The frequency found in one piece serves the next, if the tone was in it. */
    @Test
    void isNotLedAwayByAPieceWithoutTheTone() {
        LocalFundamental fundamental = of(HZ);
        assertThat(follow(fundamental, piece(t -> AMPLITUDE * Math.cos(2 * Math.PI * 3300 * t))))
                .isFalse();
        assertThat(follow(fundamental, piece(t -> 0))).isFalse();
        assertThat(follow(fundamental, piece(t -> AMPLITUDE * Math.cos(2 * Math.PI * HZ * t))))
                .isTrue();
        assertThat(fundamental.amplitude(0)).isCloseTo(AMPLITUDE, within(LEAKAGE));
    }

    /** Of a square wave {@code pi^2/8 - 1} of the fundamental's power is not the fundamental (Fourier's series), 23 %. */
    @Test
    void aSquareWaveIsAToneAndTwoTonesAreNot() {
        DoubleUnaryOperator tone = t -> AMPLITUDE * Math.cos(2 * Math.PI * 1003 * t);
        assertThat(follow(of(1003), piece(t -> Math.signum(tone.applyAsDouble(t)))))
                .isTrue();
        assertThat(follow(
                        of(1003),
                        piece(t -> tone.applyAsDouble(t) + 0.6 * AMPLITUDE * Math.sin(2 * Math.PI * 2500 * t))))
                .isFalse();
    }

    /** Its windows are longer, and fewer fit into a piece. */
    @Test
    void aLowToneMayFollowAHighOne() {
        LocalFundamental fundamental = of(HZ);
        assertThat(follow(fundamental, piece(t -> AMPLITUDE * Math.cos(2 * Math.PI * HZ * t))))
                .isTrue();
        fundamental.watchTone(400);
        assertThat(follow(fundamental, piece(t -> AMPLITUDE * Math.cos(2 * Math.PI * 400 * t))))
                .isTrue();
        assertThat(fundamental.length()).isEqualTo(2 * 240);
        assertThat(fundamental.value(479))
                .isCloseTo(AMPLITUDE * Math.cos(2 * Math.PI * 400 * 719 / RATE), within(LEAKAGE));
    }

    /** Windows of four periods at least, of which a piece has two. */
    @Test
    void aLowToneNeedsALongPiece() {
        assertThat(new LocalFundamental(RATE).leastLength()).isZero();
        assertThat(of(HZ).leastLength()).isEqualTo(3 * 120); // of 5 ms
        assertThat(of(400).leastLength()).isEqualTo(3 * 240); // of 10 ms
    }
}
