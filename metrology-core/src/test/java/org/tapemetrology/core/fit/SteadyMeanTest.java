/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.AllocatedBytes;

/** A mean that follows changes. How well it does so with a level that jumps is measured by {@link SteadyMeanStudyTest}. */
class SteadyMeanTest {
    private static SteadyMean mean() {
        return new SteadyMean(0.7, 2e-3);
    }

    private static void add(SteadyMean mean, int count, double value) {
        for (int i = 0; i < count; i++) {
            mean.add(value);
        }
    }

    /** Without a change it is the arithmetic mean: the runs that began later share a hundredth of the probability. */
    @Test
    void withoutAChangeItIsTheMean() {
        SteadyMean mean = mean();
        double sum = 0;
        for (int i = 0; i < 300; i++) {
            double value = -14 + 0.1 * Math.sin(2.4 * i);
            mean.add(value);
            sum += value;
        }
        assertThat(mean.mean()).isCloseTo(sum / 300, within(0.01));
        assertThat(mean.averaged()).isEqualTo(300);
        assertThat(mean.count()).isEqualTo(300);
    }

    /** Of a clean tone a change of 1 dB is no chance, once 20 s told that it is clean: 80 % after 3 s is what the bench asks for. */
    @ParameterizedTest
    @ValueSource(ints = {200, 300, 6000})
    void aChangeOfACleanLevelShowsWithinThreeSeconds(int before) {
        SteadyMean mean = mean();
        add(mean, before, -14);
        add(mean, 30, -13);
        assertThat(mean.mean()).isBetween(-13.2, -12.99);
        add(mean, 200, -13);
        assertThat(mean.mean()).isCloseTo(-13, within(0.01));
        assertThat(mean.averaged()).isEqualTo(230);
    }

    /** What came on the way counts for some seconds: the run that is taken for the last one began before the end. */
    @Test
    void aTurnOfSeveralDecibelsIsFollowed() {
        SteadyMean mean = mean();
        add(mean, 200, -20);
        for (int i = 0; i < 40; i++) {
            mean.add(-20 + 0.15 * i); // 1.5 dB a second
        }
        add(mean, 50, -14);
        assertThat(mean.mean()).isCloseTo(-14, within(0.2));
    }

    /** What is carried along is averaged over the same runs. */
    @Test
    void carriesTheMeanOfPowers() {
        SteadyMean mean = mean();
        for (int i = 0; i < 400; i++) {
            double db = (i < 200 ? -20 : -10) + (i % 2 == 0 ? 0.5 : -0.5);
            mean.add(db, Math.pow(10, db / 10));
        }
        double power = (Math.pow(10, -0.95) + Math.pow(10, -1.05)) / 2;
        assertThat(10 * Math.log10(mean.carriedMean())).isCloseTo(10 * Math.log10(power), within(0.02));
        assertThat(10 * Math.log10(mean.recentCarriedMean())).isCloseTo(10 * Math.log10(power), within(1e-9));
    }

    /** Closed form: the mean of the last thirty. */
    @Test
    void theRecentMeanIsThatOfTheLastThreeSeconds() {
        SteadyMean mean = mean();
        for (int i = 0; i < 100; i++) {
            mean.add(i);
        }
        assertThat(mean.recentMean()).isEqualTo((70 + 99) / 2.0);
    }

    /**
     * Where nothing changes the stated uncertainty is that of the errors: their mean square re its own is 1 over many runs.
     * With 300 runs it is known to 8 %; the doubt whether something changed may make it a half larger: 1/1.5^2 = 0.44.
     */
    @ParameterizedTest
    @EnumSource
    void theUncertaintyIsThatOfTheErrors(JumpingLevel.Kind kind) {
        double ratio = 0;
        int runs = 300;
        for (int run = 0; run < runs; run++) {
            JumpingLevel level = new JumpingLevel(kind, 9_000_000L + run);
            SteadyMean mean = mean();
            for (int i = 0; i < 400; i++) {
                mean.add(level.next());
            }
            double uncertainty = mean.uncertainty().orElseThrow().value();
            ratio += mean.mean() * mean.mean() / (uncertainty * uncertainty) / runs;
        }
        assertThat(ratio).isBetween(0.4, 1.3);
    }

    /** A speed sways regularly: with 0.2 % at 0.6 Hz, a slow wow, nothing is taken for a change. */
    @Test
    void regularWowIsNoChange() {
        SteadyMean mean = new SteadyMean(0.1, 5e-4);
        double worst = 0;
        for (int i = 0; i < 600; i++) {
            mean.add(0.5 + 0.2 * Math.sin(2 * Math.PI * 0.6 * 0.1 * i));
            worst = i < 200 ? 0 : Math.max(worst, Math.abs(mean.mean() - 0.5));
        }
        // The part of a period at the end of 20 s: 0.2 %/(2 pi 0.6 Hz 20 s) = 0.003 %, twice; ten times for what is
        // doubtful.
        assertThat(worst).isLessThan(0.05);
    }

    @Test
    void restartForgetsTheMeanAndResetEverything() {
        SteadyMean used = mean();
        for (int i = 0; i < 200; i++) {
            used.add(i % 7, i);
        }
        used.restart();
        assertThat(used.count()).isZero();
        assertThat(used.mean()).isZero();
        assertThat(used.uncertainty()).isEmpty();
        used.add(5);
        assertThat(used.mean()).isEqualTo(5);
        used.reset();
        SteadyMean fresh = mean();
        for (int i = 0; i < 100; i++) {
            used.add(Math.sin(i));
            fresh.add(Math.sin(i));
            assertThat(used.mean()).isEqualTo(fresh.mean());
        }
        assertThat(used.uncertainty()).isEqualTo(fresh.uncertainty());
    }

    @Test
    void whatIsNotFiniteIsRefused() {
        assertThatThrownBy(() -> mean().add(Double.NaN)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> mean().add(0, Double.POSITIVE_INFINITY)).hasMessageContaining("Infinity");
        assertThatThrownBy(() -> new SteadyMean(0, 1)).hasMessageContaining("assumedDeviation");
        assertThatThrownBy(() -> new SteadyMean(1, Double.NaN)).hasMessageContaining("leastDeviation");
    }

    @Test
    void allocatesNothing() {
        SteadyMean mean = mean();
        long allocated = AllocatedBytes.leastOf(5, round -> {
            for (int i = 0; i < 5000; i++) {
                mean.add(Math.sin(i), i);
            }
        });
        assertThat(allocated).isZero();
    }
}
