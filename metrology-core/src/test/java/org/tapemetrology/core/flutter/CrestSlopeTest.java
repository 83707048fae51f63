/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The slope of the samples on the fundamental near the crest, with its standard error. A piece of 20 ms at 48 kHz has 720 samples
 * with a fundamental, of which {@code arccos(0.9) / pi}, 103, stand near either crest; there the cosine has a standard deviation of
 * 0.030, so noise of s re the amplitude gives the slope a standard error of {@code s / (0.030 sqrt 103)}, 3.3 s.
 */
class CrestSlopeTest {
    private static final int RATE = 48_000;
    private static final double HZ = 3003;
    private static final int BEFORE = 5;
    /** That of 16 bits, re an amplitude of 0.4. */
    private static final double FINE = 1 / 32768.0;

    private final CrestSlope slope = new CrestSlope();

    private boolean isFlat(double step, DoubleUnaryOperator wave) {
        LocalFundamental fundamental = new LocalFundamental(RATE);
        fundamental.watchTone(HZ);
        float[] samples = new float[BEFORE + RATE / 50];
        for (int i = 0; i < samples.length; i++) {
            samples[i] = (float) (0.05 + 0.4 * wave.applyAsDouble(2 * Math.PI * HZ * i / RATE));
        }
        assertThat(fundamental.follow(samples, BEFORE, RATE / 50)).isTrue();
        return slope.isFlat(fundamental, samples, BEFORE, step);
    }

    /** At either end, wherever it stands; 0.95 of the amplitude leaves a slope of a third near the crest. */
    @ParameterizedTest
    @ValueSource(doubles = {0.5, 0.7, 0.9, -0.5, -0.7, -0.9})
    void aLimitIsFlat(double limit) {
        assertThat(isFlat(FINE, p -> limit > 0 ? Math.min(limit, Math.cos(p)) : Math.max(limit, Math.cos(p))))
                .isTrue();
    }

    /** {@code cos p - h cos 3p} has the slope {@code 1 - 9 h} at its crest and a little more beside it: 0.35 at some 8 %. */
    @ParameterizedTest(name = "third harmonic of {0}")
    @CsvSource({"0, false", "0.06, false", "0.1, true", "-0.06, false", "-0.1, false"})
    void aThirdHarmonicFlattens(double third, boolean flat) {
        assertThat(isFlat(FINE, p -> Math.cos(p) - third * Math.cos(3 * p))).isEqualTo(flat);
    }

    /** A crest that is turned over, as no limit turns it. */
    @Test
    void aHollowCrestIsNoLimit() {
        assertThat(isFlat(FINE, p -> Math.cos(p) - 0.25 * Math.cos(3 * p))).isFalse();
    }

    private static double limited(double phase) {
        return Math.max(-0.7, Math.min(0.7, Math.cos(phase)));
    }

    /**
     * Limits at 0.7 leave a fundamental of 0.76. Four standard errors are 0.14 with noise of 0.8 %, and 0.86 with 5 %: the first are
     * less than 0.35 by six standard errors, the second are never.
     */
    @ParameterizedTest(name = "noise of {0}")
    @CsvSource({"0.008, true", "0.05, false"})
    void noiseHidesIt(double noise, boolean told) {
        for (int seed = 0; seed < 20; seed++) {
            Random random = new Random(seed);
            assertThat(isFlat(FINE, p -> limited(p) + noise * random.nextGaussian()))
                    .isEqualTo(told);
            assertThat(isFlat(FINE, p -> Math.cos(p) + noise * random.nextGaussian()))
                    .isFalse();
        }
    }

    /** The deviation of the fundamental, {@code 0.030 x 0.76 x 0.4}, is 0.55 of a step of 0.017: coarser ones could round a crest flat. */
    @Test
    void coarseStepsTellNothing() {
        assertThat(isFlat(0.012, CrestSlopeTest::limited)).isTrue();
        assertThat(isFlat(0.02, CrestSlopeTest::limited)).isFalse();
    }

    /** An amplitude that swings by 10 % moves samples and fundamental alike, and a limit neither. */
    @Test
    void aSwingOfTheAmplitudeIsNoLimit() {
        DoubleUnaryOperator swinging = p -> 0.9 * (1 + 0.1 * Math.cos(p / 60)) * Math.cos(p);
        assertThat(isFlat(FINE, swinging)).isFalse();
        assertThat(isFlat(FINE, p -> Math.max(-0.7, Math.min(0.7, swinging.applyAsDouble(p)))))
                .isTrue();
    }
}
