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
 * slow changes of level, which may go with slow changes of speed, do not count. A splice turns the phase at once, and power and deviation
 * jump together: a window that moves much more than those before it counts as a few of them, so a tone that stays is told and a splice
 * is not taken for one.
 *
 * <p>Where the level swings by much and fast, that is not enough, and second differences are looked at too, in which a rate counts by
 * its square: 24 % of AM at 16 Hz hid a tone 37 dB below at 170 Hz. Wow of many hundredths carries the tone past a second one, before
 * which power and deviation move together and behind it against each other: so each window is looked at by itself too, whether it is
 * that of a tone at the distance of its rate.
 *
 * <p>Tones nearer than some 30 Hz are looked for over windows five times as long, and only those that move the power by much: weaker
 * ones could be the tape itself.
 */
final class SecondToneWatch implements CellMeans.Sink {
    private static final double CELL_SECONDS = 0.001;
    private static final double WINDOW_SECONDS = 0.05;
    /** Chance makes a share of about one over the number of windows, and ten times that hardly ever. */
    private static final double BEYOND_CHANCE = 10;

    /** Near tones are looked for in means of so many cells. */
    private static final int SLOWER = 5;
    /** A second tone 20 dB below moves the power by 14 % RMS; one that is weaker and near changes no level. */
    private static final double NEAR_MOVES_POWER = 0.14;
    /** A splice or a dropout looks like a tone for a window or two. */
    private static final int LEAST_WINDOWS_OF_TONES = 10;

    private final Settling settling;
    private final double farthestHz;
    private final CellMeans cellMeans;
    private final Windows fast = new Windows(CELL_SECONDS);
    private final Windows slow = new Windows(SLOWER * CELL_SECONDS);
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

    /** Share of the fast deviation's power that a second tone explains, 0 to 1. */
    double share() {
        return share(fast.swing);
    }

    /**
     * A tone that moved the power so little for so much deviation would stand where the demodulator stops it: there the little is
     * what its own ripple makes of the flutter.
     */
    private double share(CommonSwing swing) {
        return swing.commonDistanceHz() < farthestHz ? swing.share() : 0;
    }

    /**
     * Share of the deviation over a quarter of a second that a strong second tone explains that is near; 0 where there is none.
     * Where a part of the machine moves both speed and level, the deviation is not what goes with such an amplitude at that rate.
     */
    double nearShare() {
        boolean fits = slow.swing.fits() && slow.swing.movesPower() > NEAR_MOVES_POWER;
        return fits ? slow.swing.share() : 0;
    }

    /** Whether there are windows enough for chance to make less than a second tone does. */
    boolean isBeyondChance() {
        return isBeyondChance(fast.swing) || bendsTell() || windowsTell();
    }

    private boolean isBeyondChance(CommonSwing swing) {
        return share(swing) * swing.windows() > BEYOND_CHANCE;
    }

    /** Level and flutter of one rate may go together in a machine, but not as those of a tone at a distance of just this rate. */
    private boolean bendsTell() {
        return isBeyondChance(fast.bends) && fast.bends.commonFits();
    }

    private boolean windowsTell() {
        return fast.swing.windowsOfTones() > LEAST_WINDOWS_OF_TONES;
    }

    /** RMS deviation in Hz that a second tone explains. */
    double explainedHz() {
        double explained = explained(fast.swing);
        if (bendsTell()) {
            // A second difference is the value times the square of the rate's step.
            double step = 2 * Math.sin(Math.PI * CELL_SECONDS * fast.bends.rateHz());
            explained = Math.max(explained, explained(fast.bends) / (step * step));
        }
        if (windowsTell()) {
            explained = Math.max(explained, Math.sqrt(fast.swing.shareApart()) * fast.swing.deviation());
        }
        return explained;
    }

    private double explained(CommonSwing swing) {
        return Math.sqrt(share(swing)) * swing.deviation();
    }

    /** Deviation and power side by side over windows of cells. */
    private static final class Windows {
        private final double[] deviations = new double[(int) Math.round(WINDOW_SECONDS / CELL_SECONDS)];
        private final double[] powers = new double[deviations.length];
        private int filled;
        private final CommonSwing swing;
        /** Of the second differences. */
        private final CommonSwing bends;

        Windows(double cellSeconds) {
            this.swing = new CommonSwing(cellSeconds);
            this.bends = new CommonSwing(cellSeconds);
        }

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
            for (int i = 0; i < n; i++) {
                powers[i] /= meanPower;
            }
            swing.add(deviations, powers, n);
            bend(deviations);
            bend(powers);
            bends.add(deviations, powers, n - 2);
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

        /** Puts the second differences in the place of all values but the last two. */
        private static void bend(double[] values) {
            for (int i = 0; i + 2 < values.length; i++) {
                values[i] = values[i + 2] - 2 * values[i + 1] + values[i];
            }
        }
    }
}
