/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

/** A sine whose rate may change slowly, one value per step, by rotation of a pointer that is kept at length 1. */
final class Oscillator {
    private static final int RENEWAL = 4096;

    private final double radiansPerStep;
    private final double changePerStep;
    private double sine;
    private double cosine;
    private double turnSine;
    private double turnCosine;
    private long steps;

    /** The relative change of the rate is per second. */
    Oscillator(double rateHz, double phase, double changePerSecond, double stepsPerSecond) {
        radiansPerStep = 2 * Math.PI * rateHz / stepsPerSecond;
        changePerStep = changePerSecond / stepsPerSecond;
        sine = StrictMath.sin(phase);
        cosine = StrictMath.cos(phase);
    }

    double next() {
        if (steps % RENEWAL == 0) {
            renew();
        }
        steps++;
        double value = sine;
        sine = value * turnCosine + cosine * turnSine;
        cosine = cosine * turnCosine - value * turnSine;
        return value;
    }

    private void renew() {
        double length = Math.sqrt(sine * sine + cosine * cosine);
        sine /= length;
        cosine /= length;
        // The rate in the middle of the next stretch gives the right phase at its end.
        double turn = radiansPerStep * (1 + changePerStep * (steps + RENEWAL / 2));
        turnSine = StrictMath.sin(turn);
        turnCosine = StrictMath.cos(turn);
    }
}
