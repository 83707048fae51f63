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
 * slow changes of level, which may go with slow changes of speed, do not count. Tones nearer than some 30 Hz are looked for over
 * windows five times as long, and only those that move the power by much: weaker ones could be the tape itself. A splice turns the phase at once, and power and deviation jump together: a window that moves much more
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

    /** Near tones are looked for in means of so many cells. */
    private static final int SLOWER = 5;
    /** A second tone 20 dB below moves the power by 14 % RMS; one that is weaker and near changes no level. */
    private static final double NEAR_MOVES_POWER = 0.14;
    /** How well distance and rate have to agree: a second tone half as strong swings far from a sine. */
    private static final double FITS = 1.6;

    private final Settling settling;
    private final double farthestHz;
    private final CellMeans cellMeans;
    private final Windows fast = new Windows();
    private final Windows slow = new Windows();
    private double slowDeviation;
    private double slowPower;
    private int slowFilled;

    /**
     * A watch at rest.
     *
     * @param rateHz rate of the values
     * @param farthestHz distance from which on the demodulator stops other tones
     * @param settling which values are left out
     */
    SecondToneWatch(double rateHz, double farthestHz, Settling settling) {
        this.farthestHz = farthestHz;
        this.settling = settling;
        this.cellMeans = new CellMeans(CELL_SECONDS, rateHz);
    }

    void accept(double[] deviationHz, double[] power, int offset, int length, boolean bridged) {
        int skipped = settling.leaveOut(length, bridged);
        if (skipped > 0) {
            cellMeans.drop();
            fast.filled = 0;
            slow.filled = 0;
            slowDeviation = 0;
            slowPower = 0;
            slowFilled = 0;
        }
        cellMeans.accept(deviationHz, power, offset + skipped, length - skipped, this);
    }

    @Override
    public void cell(double deviationHz, double power) {
        fast.add(deviationHz, power);
        slowDeviation += deviationHz;
        slowPower += power;
        if (++slowFilled == SLOWER) {
            slow.add(slowDeviation / SLOWER, slowPower / SLOWER);
            slowDeviation = 0;
            slowPower = 0;
            slowFilled = 0;
        }
    }

    /**
     * Share of the fast deviation's power that a second tone explains, 0 to 1. A tone that moved the power so little for so much
     * deviation would stand where the demodulator stops it: there the little is what its own ripple makes of the flutter.
     */
    double share() {
        return fast.commonDistanceHz() < farthestHz ? fast.share() : 0;
    }

    /**
     * Share of the deviation over a quarter of a second that a strong second tone explains that is near; 0 where there is none.
     * Where a part of the machine moves both speed and level, the deviation is not what goes with such an amplitude at that rate.
     */
    double nearShare() {
        double rate = slow.rateHz(SLOWER * CELL_SECONDS);
        double distance = slow.distanceHz();
        boolean fits = distance > rate / FITS && distance < rate * FITS;
        return fits && slow.movesPower() > NEAR_MOVES_POWER ? slow.share() : 0;
    }

    /** Whether there are windows enough for chance to make less than {@link #share()}. */
    boolean isBeyondChance() {
        return share() * fast.count > BEYOND_CHANCE * fast.deviations.length;
    }

    /** RMS deviation in Hz that a second tone explains. */
    double explainedHz() {
        return fast.count == 0 ? 0 : Math.sqrt(share() * fast.allDeviation / fast.count);
    }

    /** Deviation and power side by side over windows of cells. */
    private static final class Windows {
        private final double[] deviations = new double[(int) Math.round(WINDOW_SECONDS / CELL_SECONDS)];
        private final double[] powers = new double[deviations.length];
        private int filled;
        private double varianceDeviation;
        private double variancePower;
        private double covariance;
        /** The same as the variance of the deviation, of windows that all count as one. */
        private double allDeviation;

        private double steps;
        private long count;

        void add(double deviationHz, double power) {
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
            double ofSteps = 0;
            double last = powers[0] * perMean;
            for (int i = 0; i < n; i++) {
                double p = powers[i] * perMean;
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

        double share() {
            double product = varianceDeviation * variancePower;
            return product > 0 ? covariance * covariance / product : 0;
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

        /** RMS movement of the power re its mean. */
        double movesPower() {
            return count == 0 ? 0 : Math.sqrt(variancePower / count);
        }
    }
}
