/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

/**
 * Delay of each frame near a known one, and its statistics in two ways. With equal weights every moment counts alike,
 * which is right where the tape wanders more than noise blurs a frame. By the information of a frame, power times frequency
 * squared, a sweep's end counts more than its beginning; that is right where it is noise that limits.
 */
final class DelayTrack {
    private static final int POINTS = 4 * PhaseLine.POINTS_PER_CYCLE + 1;
    /** The phases of a frame have to lie as well as this on a line. */
    private static final double LEAST_FIT = 0.5;
    /** How much less uncertain the mean by information has to be to be taken. */
    private static final double WORTH_WEIGHTING = 0.5;

    private final PhaseLine line;
    private final double[] points = new double[POINTS];
    private final DelayStatistics even = new DelayStatistics();
    private final DelayStatistics informed = new DelayStatistics();
    private double centre;
    private double reference;
    private int polarity;
    private double quarterCycle;
    private double latestDelay;

    DelayTrack(int bins) {
        line = new PhaseLine(bins);
    }

    /** Starts anew about a delay. */
    void start(DelaySearch found) {
        even.reset();
        informed.reset();
        centre = found.delay();
        follow(found);
    }

    /** Goes on about a delay that is known better by now. */
    void follow(DelaySearch found) {
        reference = found.delay();
        polarity = found.polarity();
        quarterCycle = found.period() / 4;
    }

    /** Whether a delay is another cycle than that which is followed. */
    boolean isElsewhere(DelaySearch found) {
        return Math.abs(found.delay() - reference) > quarterCycle || found.polarity() != polarity;
    }

    /** Takes the delay of a frame: the highest peak within half a cycle of the reference. False where there is none. */
    boolean add(CrossSpectrum spectrum, CrossFrame frame) {
        double weight = spectrum.frameLine(frame, line);
        if (line.isEmpty()) {
            return false;
        }
        double reach = line.period() / 2;
        double step = 2 * reach / (POINTS - 1);
        line.scan(reference - reach, step, POINTS, points);
        int best = 0;
        for (int i = 1; i < POINTS; i++) {
            if (polarity * points[i] > polarity * points[best]) {
                best = i;
            }
        }
        double delay = line.climb(reference - reach + best * step, polarity);
        double information = line.information() / spectrum.independent();
        boolean fits = polarity * line.value() > LEAST_FIT * line.weightSum();
        boolean counts = fits && information > 0 && Math.abs(delay - reference) <= 2 * reach;
        if (counts) {
            latestDelay = delay;
            double scatter = CrossSpectrum.BINS_PER_INDEPENDENT * line.scatter(delay);
            even.add(delay - centre, scatter, 1 / information, 1);
            informed.add(delay - centre, scatter, 1 / information, weight);
        }
        return counts;
    }

    /** Delay in s of the last frame that had one. */
    double latestDelay() {
        return latestDelay;
    }

    private DelayStatistics forMean() {
        return informed.halfWidth() < WORTH_WEIGHTING * even.halfWidth() ? informed : even;
    }

    private DelayStatistics forRange() {
        return even.isWidenedBeside(informed) ? informed : even;
    }

    boolean isEmpty() {
        return even.effectiveCount() == 0;
    }

    double meanDelay() {
        return centre + forMean().mean();
    }

    double halfWidth() {
        return forMean().halfWidth();
    }

    /** Frames of equal weight that would count as much in the range. */
    double framesOfRange() {
        return forRange().effectiveCount();
    }

    /** 95 % range of the delay in s, less what the scatter of the phases within the frames explains of it. */
    double wander() {
        return forRange().range();
    }
}
