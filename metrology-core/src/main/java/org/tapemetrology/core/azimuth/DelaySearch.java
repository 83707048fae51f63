/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

/**
 * Finds the delay of a band of phases, and whether the band can tell it from its neighbours: whole cycles away, or half a
 * cycle away with one channel inverted.
 */
final class DelaySearch {
    /** Farthest delay in s from the expected one that is looked for. */
    static final double RANGE_SECONDS = 400e-6;

    /** A peak this much below the highest, as a part of it, is no lower for certain: phases may be off by 6 degrees RMS. */
    private static final double LEAST_MARGIN = 0.005;
    /** Difference of the logarithm of the likelihood beyond which a peak is ruled out; it scatters by sqrt(2 x 32) = 8. */
    private static final double LIKELIHOOD_MARGIN = 32;
    /** How well the phases have to lie on a line: 53 degrees of scatter. */
    private static final double LEAST_FIT = 0.65;
    /** Part of the power that the channels must have in common; less may be hum or crosstalk alone. */
    private static final double LEAST_COMMON = 0.1;
    /** A scan may miss this part of a peak. */
    private static final double SCAN_LOSS = 1 - Math.cos(Math.PI / PhaseLine.POINTS_PER_CYCLE) + 0.01;

    private static final int MOST_POINTS = 4096;

    private final double expected;
    private final PhaseLine line;
    private final PhaseLine band;
    private final double[] points = new double[MOST_POINTS];
    private double delay;
    private int polarity;
    private double wholeCycle;
    private boolean polarityTold;

    DelaySearch(double expectedSeconds, int bins) {
        expected = expectedSeconds;
        line = new PhaseLine(bins);
        band = new PhaseLine(bins);
    }

    /** Looks for the delay; false where the phases do not lie on one line. */
    boolean find(CrossSpectrum spectrum) {
        spectrum.meanLine(line, false);
        spectrum.bandLine(band);
        if (line.isEmpty() || spectrum.coherentShare() < LEAST_COMMON) {
            return false;
        }
        double margin =
                Math.max(LEAST_MARGIN, LIKELIHOOD_MARGIN * CrossSpectrum.BINS_PER_INDEPENDENT / line.weightSum());
        if (!(margin < 1)) {
            return false;
        }
        double highest = highestPeak();
        if (highest < LEAST_FIT * line.weightSum()) {
            return false;
        }
        judgeBand(1 - margin);
        int count = scanRange();
        if (!nearest(count, 1, highest * (1 - margin)) && !nearest(count, -1, highest * (1 - margin))) {
            return false;
        }
        spectrum.meanLine(line, true);
        delay = line.climb(delay, polarity);
        return true;
    }

    private int scanRange() {
        int count = (int) Math.ceil(2 * RANGE_SECONDS / line.step()) + 1;
        count = Math.min(MOST_POINTS, Math.max(count, 3));
        line.scan(at(0, count), 2 * RANGE_SECONDS / (count - 1), count, points);
        return count;
    }

    private double at(int point, int count) {
        return expected + RANGE_SECONDS * (2.0 * point / (count - 1) - 1);
    }

    /** The highest peak of either sign: every one is climbed that the scan may have missed the top of. */
    private double highestPeak() {
        int count = scanRange();
        double seen = 0;
        for (int i = 0; i < count; i++) {
            seen = Math.max(seen, Math.abs(points[i]));
        }
        double highest = 0;
        for (int sign = -1; sign <= 1; sign += 2) {
            for (int i = 0; i < count; i++) {
                if (isPeak(i, count, sign) && sign * points[i] > seen - SCAN_LOSS * line.weightSum()) {
                    line.climb(at(i, count), sign);
                    highest = Math.max(highest, sign * line.value());
                }
            }
        }
        return highest;
    }

    private boolean isPeak(int i, int count, int sign) {
        return (i == 0 || sign * points[i] >= sign * points[i - 1])
                && (i == count - 1 || sign * points[i] >= sign * points[i + 1]);
    }

    /** Takes the peak nearest to the expected delay among those that are high enough. */
    private boolean nearest(int count, int sign, double least) {
        boolean found = false;
        for (int i = 0; i < count; i++) {
            if (isPeak(i, count, sign) && sign * points[i] > least - SCAN_LOSS * line.weightSum()) {
                double top = line.climb(at(i, count), sign);
                boolean inside = Math.abs(top - expected) <= RANGE_SECONDS;
                boolean nearer = !found || Math.abs(top - expected) < Math.abs(delay - expected);
                if (inside && nearer && sign * line.value() >= least) {
                    delay = top;
                    polarity = sign;
                    found = true;
                }
            }
        }
        return found;
    }

    /** What the band alone can tell, whatever the phases are. */
    private void judgeBand(double least) {
        double reach = Math.max(2 * RANGE_SECONDS, 1.5 * band.period());
        int count = (int) Math.min(MOST_POINTS, Math.ceil(reach / band.step()) + 1);
        band.scan(0, band.step(), count, points);
        wholeCycle = 0;
        polarityTold = true;
        double high = least * band.weightSum();
        double worthALook = high - SCAN_LOSS * band.weightSum();
        for (int i = 1; i < count - 1; i++) {
            if (points[i] >= points[i - 1] && points[i] > points[i + 1] && points[i] > worthALook && wholeCycle == 0) {
                double top = band.climb(i * band.step(), 1);
                if (band.value() >= high && top > band.step()) {
                    wholeCycle = top;
                }
            }
            if (points[i] <= points[i - 1] && points[i] < points[i + 1] && -points[i] > worthALook && polarityTold) {
                band.climb(i * band.step(), -1);
                polarityTold = -band.value() < high;
            }
        }
    }

    /** The delay in s of channel 2: where several are as likely, that nearest to the expected one. */
    double delay() {
        return delay;
    }

    /** 1 where the channels agree, -1 where one is inverted. */
    int polarity() {
        return polarity;
    }

    /** Whether the band tells an inverted channel from a delay. */
    boolean polarityTold() {
        return polarityTold;
    }

    /** Least other delay in s that would look the same, re the true one; 0 where there is none. */
    double wholeCycle() {
        return wholeCycle;
    }

    /** Period in s of the frequency that counts most. */
    double period() {
        return band.period();
    }
}
