/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import org.tapemetrology.core.filter.FirDecimator;

/**
 * Tells a second tone beside the measured one from flutter. A weaker tone at a distance of F Hz moves amplitude and
 * frequency together: {@code ln|z| = e cos(2 pi F t)} goes with a deviation of {@code F e cos(2 pi F t)}, at the same
 * moment. Flutter leaves the amplitude alone, and noise moves both independently. So the squared correlation of power
 * and deviation is the share of the deviation that a second tone explains.
 *
 * <p>It is formed over windows of 50 ms with their straight line taken out, so that slow changes of level, which may go
 * with slow changes of speed, do not count. Tones nearer than some 20 Hz are therefore not told apart.
 */
final class SecondToneWatch {
    private static final double WINDOW_SECONDS = 0.05;

    private final FirDecimator limiter;
    private final Settling settling;
    private final double[] deviations;
    private final double[] powers;
    private int filled;
    private double varianceDeviation;
    private double variancePower;
    private double covariance;
    private long count;
    private double[] limited = new double[0];

    SecondToneWatch(double[] limiterTaps, int factor, double rateHz, Settling settling) {
        this.limiter = new FirDecimator(limiterTaps, factor);
        this.settling = settling;
        int window = (int) Math.round(WINDOW_SECONDS * rateHz);
        this.deviations = new double[window];
        this.powers = new double[window];
    }

    void presetTo(double power) {
        limiter.presetTo(power);
    }

    /** Takes the power at the full rate and the deviation, limited and at the rate of this watch. */
    void accept(double[] power, int offset, int length, double[] deviationHz, int deviationCount, boolean bridged) {
        if (limited.length < length + 1) {
            limited = new double[length + 1];
        }
        int count = limiter.process(power, offset, length, limited, 0);
        int skipped = settling.leaveOut(deviationCount, bridged);
        if (skipped > 0) {
            filled = 0;
        }
        for (int i = skipped; i < Math.min(count, deviationCount); i++) {
            deviations[filled] = deviationHz[i];
            powers[filled] = limited[i];
            if (++filled == deviations.length) {
                addWindow();
                filled = 0;
            }
        }
    }

    private void addWindow() {
        count += deviations.length;
        double meanPower = 0;
        for (double p : powers) {
            meanPower += p / powers.length;
        }
        takeLineOut(deviations);
        takeLineOut(powers);
        for (int i = 0; i < deviations.length; i++) {
            double p = powers[i] / meanPower;
            varianceDeviation += deviations[i] * deviations[i];
            variancePower += p * p;
            covariance += deviations[i] * p;
        }
    }

    private static void takeLineOut(double[] values) {
        int n = values.length;
        double middle = (n - 1) / 2.0;
        double sum = 0;
        double moment = 0;
        for (int i = 0; i < n; i++) {
            sum += values[i];
            moment += (i - middle) * values[i];
        }
        double mean = sum / n;
        double slope = moment * 12 / ((double) n * n * n - n);
        for (int i = 0; i < n; i++) {
            values[i] -= mean + slope * (i - middle);
        }
    }

    /** Share of the fast deviation's power that a second tone explains, 0 to 1. */
    double share() {
        double product = varianceDeviation * variancePower;
        return product > 0 ? covariance * covariance / product : 0;
    }

    /** RMS deviation in Hz that a second tone explains. */
    double explainedHz() {
        return count == 0 ? 0 : Math.sqrt(share() * varianceDeviation / count);
    }
}
