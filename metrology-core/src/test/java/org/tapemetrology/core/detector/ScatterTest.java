/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.StandardUncertainty;

/** What statistics tell of their own uncertainty, against Gaussian noise, of which the truths are known in closed form. */
class ScatterTest {
    private static final double RATE_HZ = 200;
    private static final int TRIALS = 1000;
    /** Binomial standard deviation of 95 % in 1000 trials is 0.7 %: three of them. */
    private static final double LEAST = 0.93;

    private static final double MOST = 0.975;

    private static double[] noise(long seed, int length) {
        Random random = new Random(seed);
        double[] values = new double[length];
        for (int i = 0; i < length; i++) {
            values[i] = random.nextGaussian();
        }
        return values;
    }

    private static boolean holds(double value, StandardUncertainty known, double truth) {
        return Math.abs(value - truth) <= known.expanded().halfWidth();
    }

    @Test
    void rmsValueOfNoiseIsOneAsOftenAsClaimed() {
        int inside = 0;
        for (int trial = 0; trial < TRIALS; trial++) {
            MeanPower power = new MeanPower(RATE_HZ);
            double[] values = noise(trial, 6000);
            for (int i = 0; i < values.length; i += 20) {
                power.add(values, i, 20);
            }
            inside += holds(power.rms().orElseThrow(), power.rmsUncertainty().orElseThrow(), 1) ? 1 : 0;
        }
        assertThat(inside / (double) TRIALS).isBetween(LEAST, MOST);
    }

    /** The mean magnitude of Gaussian noise is sqrt(2/pi). The value at moving moments is a mean of four samples. */
    @Test
    void meanMagnitudeIsHeldAsOftenAsClaimed() {
        double truth = magnitudeTruth();
        int inside = 0;
        for (int trial = 0; trial < TRIALS; trial++) {
            AverageMagnitude average = new AverageMagnitude(RATE_HZ);
            double[] values = noise(trial, 6000);
            for (int i = 0; i < values.length; i += 20) {
                average.add(values, i, 20);
            }
            inside += holds(average.value().orElseThrow(), average.uncertainty().orElseThrow(), truth) ? 1 : 0;
        }
        assertThat(inside / (double) TRIALS).isBetween(LEAST, MOST);
    }

    private static double magnitudeTruth() {
        AverageMagnitude all = new AverageMagnitude(RATE_HZ);
        all.add(noise(-1, 3_000_000), 0, 3_000_000);
        return all.value().orElseThrow();
    }

    /** Each recording of 30 s; the truth from 4 hours. */
    @Test
    void percentileIsHeldAsOftenAsClaimed() {
        TwoSigma all = new TwoSigma(0.05, 1000, RATE_HZ);
        all.add(noise(-2, 3_000_000), 0, 3_000_000);
        double truth = all.value().orElseThrow();
        int inside = 0;
        for (int trial = 0; trial < TRIALS; trial++) {
            TwoSigma twoSigma = new TwoSigma(0.05, 1000, RATE_HZ);
            twoSigma.add(noise(trial, 6000), 0, 6000);
            inside +=
                    holds(twoSigma.value().orElseThrow(), twoSigma.uncertainty().orElseThrow(), truth) ? 1 : 0;
        }
        assertThat(inside / (double) TRIALS).isBetween(LEAST, MOST);
    }

    /** Independent values of a Rayleigh distribution: the square of the highest of n has the mean 2 (ln n + 0.5772). */
    @Test
    void highestValueOfAPartIsHeldAsOftenAsClaimed() {
        int inside = 0;
        int part = 6000;
        // Mean of the highest itself, by a long run: the root of a Gumbel variable has no closed form.
        Random random = new Random(11);
        double truth = 0;
        for (int k = 0; k < 4000; k++) {
            truth += highest(random, part) / 4000;
        }
        assertThat(truth * truth).isCloseTo(2 * (Math.log(part) + 0.5772), within(0.4)); // variance of the root, 0.09
        for (int trial = 0; trial < TRIALS; trial++) {
            HighestPerPart parts = new HighestPerPart(part, RATE_HZ);
            Random own = new Random(20_000 + trial);
            for (int i = 0; i < part; i++) {
                parts.add(rayleigh(own), i);
            }
            inside += holds(
                            parts.meanOfHighest().orElseThrow(),
                            parts.meanOfHighestUncertainty().orElseThrow(),
                            truth)
                    ? 1
                    : 0;
        }
        // A single Gumbel variable is skewed: of it a symmetric interval holds a little more or less.
        assertThat(inside / (double) TRIALS).isBetween(0.92, 0.98);
    }

    private static double rayleigh(Random random) {
        return Math.sqrt(-2 * Math.log(1 - random.nextDouble()));
    }

    private static double highest(Random random, int count) {
        double highest = 0;
        for (int i = 0; i < count; i++) {
            highest = Math.max(highest, rayleigh(random));
        }
        return highest;
    }

    /** A part of a fifth of its length lacks the scale times ln 5, which counts beside the deviation. */
    @Test
    void shortPartIsLessCertainByWhatItLacks() {
        HighestScatter scatter = new HighestScatter();
        Random random = new Random(3);
        for (int i = 0; i < 20; i++) {
            scatter.add(highest(random, 300));
        }
        double whole = scatter.of(4, 1, 1).orElseThrow().value();
        double part = scatter.of(4, 1, 5).orElseThrow().value();
        assertThat(part / whole).isCloseTo(Math.hypot(1, Math.log(5) * Math.sqrt(6) / Math.PI), within(1e-9));
        assertThat(scatter.of(4, 9, 1).orElseThrow().value()).isCloseTo(whole / 3, within(1e-12));
        scatter.reset();
        assertThat(scatter.of(4, 1, 1)).isEmpty();
    }
}
