/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.SplittableRandom;
import org.tapemetrology.signals.Decibels;

/** Losses of level at random places: 6 to 20 dB deep, 10 to 60 ms long, with the shape of a raised cosine. */
final class RandomDropouts {
    private final double meanSteps;
    private final double stepsPerSecond;
    private final SplittableRandom random;
    private double depth;
    private double length;
    private double inside;
    private double stepsLeft;

    RandomDropouts(double perMinute, SplittableRandom random, double stepsPerSecond) {
        this.random = random;
        this.stepsPerSecond = stepsPerSecond;
        meanSteps = perMinute == 0 ? Double.POSITIVE_INFINITY : 60 * stepsPerSecond / perMinute;
        stepsLeft = drawSteps();
    }

    double next() {
        if (inside < length) {
            inside++;
            return 1 - depth * 0.5 * (1 - StrictMath.cos(2 * Math.PI * inside / length));
        }
        if (--stepsLeft < 0) {
            depth = 1 - Decibels.toRatio(-random.nextDouble(6, 20));
            length = random.nextDouble(0.01, 0.06) * stepsPerSecond;
            inside = 0;
            stepsLeft = drawSteps();
        }
        return 1;
    }

    private double drawSteps() {
        return -meanSteps * StrictMath.log1p(-random.nextDouble());
    }
}
