/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/** How much deviation and power swing together, of windows that are added one after another. */
final class CommonSwing {
    /** A window counts as so many at most, once there are {@link #LEAST_WINDOWS}. */
    private static final double MOST_WINDOWS = 8;

    private static final int LEAST_WINDOWS = 10;

    /** How well distance and rate have to agree: a second tone half as strong swings far from a sine. */
    private static final double FITS = 1.6;

    /** Of a window that a second tone explains: the distance may change within it. */
    private static final double LEAST_SHARE = 0.5;

    private final double cellSeconds;
    private double varianceDeviation;
    private double variancePower;
    private double covariance;
    /** The same as the variance of the deviation, of windows that all count as one. */
    private double allDeviation;

    private double steps;
    private long windows;
    private long count;
    /** Of the variance of the deviation what the power explains in those windows alone that look like those of a second tone. */
    private double explainedApart;

    private long windowsOfTones;

    /** Sums of no window yet, whose values are so many seconds apart. */
    CommonSwing(double cellSeconds) {
        this.cellSeconds = cellSeconds;
    }

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
        double explained = ofBoth * ofBoth / ofPower;
        if (explained > LEAST_SHARE * ofDeviation && fits(distanceHz(ofDeviation, ofPower), rateHz(ofSteps, ofPower))) {
            explainedApart += weight * explained;
            windowsOfTones++;
        }
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

    /** The share of the deviation in windows that look like those of a second tone, whose distance may be another in each. */
    double shareApart() {
        return varianceDeviation > 0 ? explainedApart / varianceDeviation : 0;
    }

    /** Number of windows that look like those of a second tone. */
    long windowsOfTones() {
        return windowsOfTones;
    }

    /** Whether deviation and power swing as a second tone swings them, at a rate that is its distance. */
    boolean fits() {
        return fits(distanceHz(), rateHz());
    }

    /** The same of what they have in common. */
    boolean commonFits() {
        return fits(commonDistanceHz(), rateHz());
    }

    private static boolean fits(double distanceHz, double rateHz) {
        return distanceHz > rateHz / FITS && distanceHz < rateHz * FITS;
    }

    /** Rate at which the power swings: a sine of the rate f has the mean square step 4 sin^2(pi f T) re its own mean square. */
    double rateHz() {
        return rateHz(steps, variancePower);
    }

    private double rateHz(double ofSteps, double ofPower) {
        double sine = Math.sqrt(ofSteps / ofPower) / 2;
        return Math.asin(Math.min(1, sine)) / (Math.PI * cellSeconds);
    }

    /** Distance of a second tone that moves frequency and power as they are: F e goes with 2 e. */
    double distanceHz() {
        return distanceHz(varianceDeviation, variancePower);
    }

    private static double distanceHz(double ofDeviation, double ofPower) {
        return 2 * Math.sqrt(ofDeviation / ofPower);
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
