/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.SplittableRandom;
import org.tapemetrology.signals.Decibels;

/**
 * A level that jumps to an independent Gaussian value at random moments, of exponential distance: its autocorrelation is
 * exp(-t/T). Each jump takes 10 ms, for a step of no length would click.
 */
final class LevelJumps {
    private static final double RAMP_SECONDS = 0.01;

    private final double decibels;
    private final double meanSteps;
    private final int rampSteps;
    private final SplittableRandom random;
    private final GaussianNoise noise;
    private double ratio;
    private double increment;
    private int rampLeft;
    private long stepsLeft;

    LevelJumps(double decibels, double seconds, SplittableRandom random, double stepsPerSecond) {
        this.decibels = decibels;
        this.random = random;
        meanSteps = seconds * stepsPerSecond;
        rampSteps = (int) Math.ceil(RAMP_SECONDS * stepsPerSecond);
        noise = new GaussianNoise(random.split());
        ratio = drawRatio();
        stepsLeft = drawSteps();
    }

    double next() {
        if (decibels == 0) {
            return 1;
        }
        if (--stepsLeft < 0) {
            increment = (drawRatio() - ratio) / rampSteps;
            rampLeft = rampSteps;
            stepsLeft = drawSteps();
        }
        if (rampLeft > 0) {
            rampLeft--;
            ratio += increment;
        }
        return ratio;
    }

    private double drawRatio() {
        return Decibels.toRatio(decibels * noise.next());
    }

    private long drawSteps() {
        return (long) (-meanSteps * StrictMath.log(1 - random.nextDouble()));
    }
}
