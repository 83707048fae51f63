/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import org.tapemetrology.core.internal.Sums;

/**
 * Tells a second tone beside the measured one from flutter. A weaker tone at a distance of F Hz moves amplitude and
 * frequency together: {@code ln|z| = e cos(2 pi F t)} goes with a deviation of {@code F e cos(2 pi F t)}, at the same
 * moment. Flutter leaves the amplitude alone, and noise moves both independently. So the squared correlation of power
 * and deviation is the share of the deviation that a second tone explains.
 *
 * <p>Both are averaged over a millisecond and correlated over windows of 50 ms with their parabola taken out, so that
 * slow changes of level, which may go with slow changes of speed, do not count. Tones nearer than some 30 Hz are therefore
 * not told apart. A splice turns the phase at once, and power and deviation jump together: a window that moves much more
 * than those before it counts as a few of them, so a tone that stays is told and a splice is not taken for one.
 */
final class SecondToneWatch implements CellMeans.Sink {
    private static final double CELL_SECONDS = 0.001;
    private static final double WINDOW_SECONDS = 0.05;

    /** A window counts as so many at most, once there are {@link #LEAST_WINDOWS}. */
    private static final double MOST_WINDOWS = 8;

    private static final int LEAST_WINDOWS = 10;
    /** Chance makes a share of about one over the number of windows, and ten times that hardly ever. */
    private static final double BEYOND_CHANCE = 10;

    private final Settling settling;
    private final CellMeans cellMeans;
    private final double[] deviations = new double[(int) Math.round(WINDOW_SECONDS / CELL_SECONDS)];
    private final double[] powers = new double[deviations.length];
    private int filled;
    private double varianceDeviation;
    private double variancePower;
    private double covariance;
    private long count;

    SecondToneWatch(double rateHz, Settling settling) {
        this.settling = settling;
        this.cellMeans = new CellMeans(CELL_SECONDS, rateHz);
    }

    void accept(double[] deviationHz, double[] power, int offset, int length, boolean bridged) {
        int skipped = settling.leaveOut(length, bridged);
        if (skipped > 0) {
            filled = 0;
            cellMeans.drop();
        }
        cellMeans.accept(deviationHz, power, offset + skipped, length - skipped, this);
    }

    @Override
    public void cell(double deviationHz, double power) {
        deviations[filled] = deviationHz;
        powers[filled] = power;
        if (++filled == deviations.length) {
            addWindow();
            filled = 0;
        }
    }

    private void addWindow() {
        int n = powers.length;
        double meanPower = Sums.of(powers, 0, n) / n;
        takeParabolaOut(deviations);
        takeParabolaOut(powers);
        double perMean = 1 / meanPower;
        double ofDeviation = 0;
        double ofPower = 0;
        double ofBoth = 0;
        for (int i = 0; i < n; i++) {
            double p = powers[i] * perMean;
            ofDeviation += deviations[i] * deviations[i];
            ofPower += p * p;
            ofBoth += deviations[i] * p;
        }
        double weight = weight(ofDeviation, ofPower);
        varianceDeviation += weight * ofDeviation;
        variancePower += weight * ofPower;
        covariance += weight * ofBoth;
        count += n;
    }

    private double weight(double ofDeviation, double ofPower) {
        long windows = count / deviations.length;
        if (windows < LEAST_WINDOWS) {
            return 1;
        }
        double most = MOST_WINDOWS / windows;
        return Math.min(1, Math.min(most * varianceDeviation / ofDeviation, most * variancePower / ofPower));
    }

    /** Takes mean, slope and curvature out, by polynomials that are orthogonal over the window. */
    private static void takeParabolaOut(double[] values) {
        double n = values.length;
        double middle = (n - 1) / 2;
        double offset = (n * n - 1) / 12;
        double sum = 0;
        double moment = 0;
        double curvature = 0;
        for (int i = 0; i < values.length; i++) {
            double x = i - middle;
            sum += values[i];
            moment += x * values[i];
            curvature += (x * x - offset) * values[i];
        }
        double mean = sum / n;
        double slope = moment / (n * offset);
        double bend = curvature * 15 / (n * offset * (n * n - 4));
        for (int i = 0; i < values.length; i++) {
            double x = i - middle;
            values[i] -= mean + slope * x + bend * (x * x - offset);
        }
    }

    /** Share of the fast deviation's power that a second tone explains, 0 to 1. */
    double share() {
        double product = varianceDeviation * variancePower;
        return product > 0 ? covariance * covariance / product : 0;
    }

    /** Whether there are windows enough for chance to make less than {@link #share()}. */
    boolean isBeyondChance() {
        return share() * count > BEYOND_CHANCE * deviations.length;
    }

    /** RMS deviation in Hz that a second tone explains. */
    double explainedHz() {
        return count == 0 ? 0 : Math.sqrt(share() * varianceDeviation / count);
    }
}
