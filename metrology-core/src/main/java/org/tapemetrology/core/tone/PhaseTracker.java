/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import org.tapemetrology.core.filter.FirDecimator;
import org.tapemetrology.core.filter.FirDesign;

/**
 * Follows the phase of a tone through a frame: the frame is shifted down by a reference frequency, low-passed at a
 * reduced rate in two stages, and the phase found there is interpolated back to every sample. What is left of the phase's own
 * movement above the pass band is not followed. Samples that are not finite make every phase of the frame NaN.
 * Thread-confined.
 *
 * <p>Phases are in rad, frequencies in Hz (decimation and interpolation: common practice, no source). Cost: of the
 * order of the samples times the taps of its filters; nothing is allocated after construction. Rates and edges are
 * not checked here.
 *
 * <p>Not for a tone that does not stand clear of the noise: its phase slips by whole turns.
 */
public final class PhaseTracker {
    /** Ripple of the pass band and leakage of everything else: 1e-6. */
    private static final double ATTENUATION_DB = 120;

    /** Rate between the stages re the stop edge: the first filter is then short, and so is the second. */
    private static final double FIRST_STAGE_ROOM = 4;

    /** So many points per period of the fastest movement leave a cubic an error of 2e-3 of that movement. */
    private static final double POINTS_PER_PERIOD = 12;
    /** The same of what passes between the edges, in part: its error stands beside the tone as noise would. */
    private static final double POINTS_PER_PERIOD_OF_STOP = 10;

    private final double rateHz;
    private final int length;
    private final ShiftingDecimator first;
    private final FirDecimator secondRe;
    private final FirDecimator secondIm;
    private final int delay;
    private final int step;
    private final double[] halfwayRe;
    private final double[] halfwayIm;
    private final double[] pointRe;
    private final double[] pointIm;
    private final double[] phase;
    private double trackedHz;
    private double farthestHz;

    /**
     * A tracker.
     *
     * @param rateHz sampling rate in Hz
     * @param length samples whose phase is wanted, in the middle of each frame
     * @param passHz deviation of the frequency that is followed, and rate of its change, in Hz
     * @param stopHz distance at which everything else is rejected, in Hz
     */
    public PhaseTracker(double rateHz, int length, double passHz, double stopHz) {
        this.rateHz = rateHz;
        this.length = length;
        int wanted = Math.max(1, (int) (rateHz / pointsPerSecond(passHz, stopHz)));
        int firstFactor = Math.max(1, Math.min(wanted, (int) (rateHz / (FIRST_STAGE_ROOM * stopHz))));
        int secondFactor = Math.max(1, wanted / firstFactor);
        this.step = firstFactor * secondFactor;
        double halfwayHz = rateHz / firstFactor;
        double[] firstTaps = firstFactor == 1
                ? new double[] {1}
                : FirDesign.lowPass(passHz, halfwayHz - stopHz, ATTENUATION_DB, rateHz);
        double[] secondTaps = FirDesign.lowPass(passHz, stopHz, ATTENUATION_DB, halfwayHz);
        this.first = new ShiftingDecimator(firstTaps, firstFactor);
        this.secondRe = new FirDecimator(secondTaps, secondFactor);
        this.secondIm = new FirDecimator(secondTaps, secondFactor);
        this.delay = firstTaps.length / 2 + secondTaps.length / 2 * firstFactor;
        int points = length / step + 4;
        this.phase = new double[points];
        this.halfwayRe = new double[(length + 2 * margin()) / firstFactor + 1];
        this.halfwayIm = new double[halfwayRe.length];
        this.pointRe = new double[halfwayRe.length / secondFactor + 1];
        this.pointIm = new double[pointRe.length];
    }

    /**
     * Samples that a frame needs before and after those whose phase is wanted.
     *
     * @return that number
     */
    public int margin() {
        return delay + 4 * step;
    }

    /**
     * A bound of the margins of all trackers that pass at least as much, with at least as wide a transition to the stop edge.
     * The margin itself goes up and down with the factors of decimation, which are whole.
     *
     * @param rateHz sampling rate in Hz
     * @param passHz least pass edge in Hz
     * @param transitionHz least distance from the pass edge to the stop edge in Hz
     * @return samples
     */
    public static int mostMargin(double rateHz, double passHz, double transitionHz) {
        double stopHz = passHz + transitionHz;
        int first = FirDesign.delay((FIRST_STAGE_ROOM - 1) * stopHz - passHz, ATTENUATION_DB, rateHz);
        int second = FirDesign.delay(transitionHz, ATTENUATION_DB, rateHz);
        double rounding = Math.max(1, rateHz / (FIRST_STAGE_ROOM * stopHz));
        double steps = 4 * Math.max(1, rateHz / pointsPerSecond(passHz, stopHz));
        return first + second + (int) Math.ceil(rounding + steps);
    }

    private static double pointsPerSecond(double passHz, double stopHz) {
        return Math.max(POINTS_PER_PERIOD * passHz, POINTS_PER_PERIOD_OF_STOP * stopHz);
    }

    /**
     * Finds cos and sin of the tone's phase.
     *
     * @param frame samples
     * @param wanted index in the frame of the first sample whose phase is wanted, at least {@link #margin()}
     * @param referenceHz frequency near that of the tone in Hz
     * @param cos where the cosines go
     * @param sin where the sines go
     */
    public void track(double[] frame, int wanted, double referenceHz, double[] cos, double[] sin) {
        double w = 2 * Math.PI * referenceHz / rateHz;
        secondRe.reset();
        secondIm.reset();
        int halfway = first.process(frame, wanted - margin(), length + 2 * margin(), w, wanted, halfwayRe, halfwayIm);
        secondRe.process(halfwayRe, 0, halfway, pointRe, 0);
        secondIm.process(halfwayIm, 0, halfway, pointIm, 0);
        double last = 0;
        double farthest = 0;
        for (int p = 0; p < phase.length; p++) {
            // The first output stands 4 steps before the first wanted sample, point p for the wanted sample (p - 1)
            // step.
            double angle = Math.atan2(pointIm[p + 3], pointRe[p + 3]);
            double turned = StrictMath.IEEEremainder(angle - last, 2 * Math.PI);
            phase[p] = p == 0 ? angle : last + turned;
            farthest = p == 0 ? 0 : Math.max(farthest, Math.abs(turned));
            last = phase[p];
        }
        farthestHz = farthest / (2 * Math.PI) * rateHz / step;
        int lastPoint = phase.length - 2;
        trackedHz = referenceHz + (phase[lastPoint] - phase[1]) / (2 * Math.PI) * rateHz / ((lastPoint - 1.0) * step);
        for (int start = 0; start < length; start += step) {
            turn(start, Math.min(step, length - start), w, cos, sin);
        }
    }

    /**
     * Mean frequency of the tone in the frame tracked last.
     *
     * @return frequency in Hz
     */
    public double meanHz() {
        return trackedHz;
    }

    /**
     * How far from its reference the tone was at most in the frame tracked last. Beyond the pass band it is not followed as it is.
     *
     * @return distance in Hz
     */
    public double farthestHz() {
        return farthestHz;
    }

    /**
     * Phase of the samples of a step: the reference's, and the cubic through the four nearest points. The third difference
     * of a cubic is constant, so three phasors carry each other on: one turn is the product of all turns before.
     */
    private void turn(int start, int count, double w, double[] cos, double[] sin) {
        double angle = w * start + interpolated(start, 0);
        double first = w + interpolated(start, 1) - interpolated(start, 0);
        double second = interpolated(start, 2) - 2 * interpolated(start, 1) + interpolated(start, 0);
        double third = interpolated(start, 3)
                - 3 * interpolated(start, 2)
                + 3 * interpolated(start, 1)
                - interpolated(start, 0);
        double re = Math.cos(angle);
        double im = Math.sin(angle);
        double firstTurnRe = Math.cos(first);
        double firstTurnIm = Math.sin(first);
        double secondTurnRe = Math.cos(second);
        double secondTurnIm = Math.sin(second);
        double thirdTurnRe = Math.cos(third);
        double thirdTurnIm = Math.sin(third);
        for (int i = start; i < start + count; i++) {
            cos[i] = re;
            sin[i] = im;
            double next = re * firstTurnRe - im * firstTurnIm;
            im = re * firstTurnIm + im * firstTurnRe;
            re = next;
            next = firstTurnRe * secondTurnRe - firstTurnIm * secondTurnIm;
            firstTurnIm = firstTurnRe * secondTurnIm + firstTurnIm * secondTurnRe;
            firstTurnRe = next;
            next = secondTurnRe * thirdTurnRe - secondTurnIm * thirdTurnIm;
            secondTurnIm = secondTurnRe * thirdTurnIm + secondTurnIm * thirdTurnRe;
            secondTurnRe = next;
        }
    }

    /** Cubic through the four nearest points, so many samples after the start of a step. */
    private double interpolated(int start, int samples) {
        int p = start / step;
        double u = (double) samples / step;
        double before = phase[p];
        double here = phase[p + 1];
        double next = phase[p + 2];
        double after = phase[Math.min(p + 3, phase.length - 1)];
        return -u * (u - 1) * (u - 2) / 6 * before
                + (u + 1) * (u - 1) * (u - 2) / 2 * here
                - (u + 1) * u * (u - 2) / 2 * next
                + (u + 1) * u * (u - 1) / 6 * after;
    }
}
