/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/** How much deviation and power swing together, of windows that are added one after another. */
final class CommonSwing {
    /** A window counts as so many at most, once there are {@link #LEAST_WINDOWS}. */
    private static final double MOST_WINDOWS = 8;

    private static final int LEAST_WINDOWS = 10;

    private double varianceDeviation;
    private double variancePower;
    private double covariance;
    /** The same as the variance of the deviation, of windows that all count as one. */
    private double allDeviation;

    private double steps;
    private long windows;
    private long count;

    /** Adds the first values of a window, whose means are zero; the power is re its mean. */
    void add(double[] deviations, double[] powers, int length) {
        double ofDeviation = 0;
        double ofPower = 0;
        double ofBoth = 0;
        double ofSteps = 0;
        double last = powers[0];
        for (int i = 0; i < length; i++) {
            double p = powers[i];
            ofSteps += (p - last) * (p - last);
            last = p;
            ofDeviation += deviations[i] * deviations[i];
            ofPower += p * p;
            ofBoth += deviations[i] * p;
        }
        double weight = weight(ofDeviation, ofPower);
        varianceDeviation += weight * ofDeviation;
        variancePower += weight * ofPower;
        covariance += weight * ofBoth;
        steps += weight * ofSteps;
        allDeviation += ofDeviation;
        windows++;
        count += length;
    }

    private double weight(double ofDeviation, double ofPower) {
        if (windows < LEAST_WINDOWS) {
            return 1;
        }
        double most = MOST_WINDOWS / windows;
        return Math.min(1, Math.min(most * varianceDeviation / ofDeviation, most * variancePower / ofPower));
    }

    long windows() {
        return windows;
    }

    /** Squared correlation: the share of the deviation that the power explains, 0 to 1. */
    double share() {
        double product = varianceDeviation * variancePower;
        return product > 0 ? covariance * covariance / product : 0;
    }

    /** RMS of all deviation. */
    double deviation() {
        return count == 0 ? 0 : Math.sqrt(allDeviation / count);
    }

    /** Rate at which the power swings: a sine of the rate f has the mean square step 4 sin^2(pi f T) re its own mean square. */
    double rateHz(double cellSeconds) {
        double sine = Math.sqrt(steps / variancePower) / 2;
        return Math.asin(Math.min(1, sine)) / (Math.PI * cellSeconds);
    }

    /** Distance of a second tone that moves frequency and power as they are: F e goes with 2 e. */
    double distanceHz() {
        return 2 * Math.sqrt(varianceDeviation / variancePower);
    }

    /** The same of the share that moves together: the slope of the deviation over the power is F/2. */
    double commonDistanceHz() {
        return 2 * Math.abs(covariance) / variancePower;
    }

    /** RMS movement of the power. */
    double movesPower() {
        return count == 0 ? 0 : Math.sqrt(variancePower / count);
    }
}
