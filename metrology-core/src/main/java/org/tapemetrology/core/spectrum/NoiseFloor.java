/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import java.util.Arrays;

/**
 * Density of the random part of a periodogram: a running median in logarithmic frequency. Lines move a median little; the
 * median of exponentially distributed powers is their mean times ln 2, and of n of them ln 2 + 1/(2n).
 *
 * <p>A window reaches an octave to either side, no further than 300 resolution widths, so that it follows steps, and no
 * less than 30 in all. Powers within it are levelled by the slope that medians of half-octaves show around it, since a
 * window of many decibels of slope, or a lopsided one at the end of the band, would be biased.
 */
final class NoiseFloor {
    private static final double REACH = 2;
    private static final double MOST = 300;
    private static final double LEAST = 30;
    private static final double LEAST_FOR_SLOPE = 4;
    private static final double SLOPE_REACH = 8;
    /** Half of the neighbourhood that says to which side of a step a frequency belongs. */
    private static final double NEAR = 30;
    /** Ratio of the halves of a window that makes a step: halves of 300 widths differ by chance by a fifth of it. */
    private static final double STEP = 1.6;
    /** Ratio to the lower half that is not by chance: the median of 60 widths varies by a fifth. */
    private static final double CLEARLY = 1.3;
    /** The median's efficiency against the mean of exponentials, (ln 2)^2: its variance is 1/(0.48 n). */
    private static final double EFFICIENCY = 0.4804530139182014;

    /** Ratio of a window's ends up to which it needs no levelling: it is then symmetrical, and a slope of 1/f balances. */
    private static final double LEVELLED = 1.5;

    private static final double LN_2 = 0.6931471805599453;
    /** Neighbours that guard against steps and humps begin so many widths from a line. */
    private static final double GAP = 2;

    /**
     * Degrees of freedom that a guard counts as: more than the median of 12 has, so that a line whose frequency wavers by
     * part of a width, whose sides guard against itself, passes at some 17 dB over them. Found by trial with humps of
     * 0.1 Hz and more.
     */
    private static final double GUARD_FREEDOM = 30;

    private static final double NEIGHBOURS = 48;
    /** The median of 48 true neighbours exceeds this by chance in one of some 10 000. */
    private static final double NEIGHBOURS_RATIO = 1.8;

    private static final double NEAREST = 12;
    /** The median of 12 true neighbours exceeds this by chance in one of 300. */
    private static final double NEAREST_RATIO = 3;

    private final double[] periodogram;
    private final double spacingHz;
    /** Points per resolution width, 1/(length of the record). */
    private final double pointsPerWidth;

    private final int first;
    private final int last;
    private final double[] coarseHz;
    private final double[] coarseLog;
    private final double[] nodeHz;
    private final double[] nodeLog;
    private final double[] nodeFreedom;
    private final double[] scratch;

    /**
     * A floor.
     *
     * @param periodogram densities at multiples of a spacing
     * @param spacingHz the spacing
     * @param pointsPerWidth points per resolution width
     * @param first lowest point that counts
     * @param last highest point that counts
     * @param least density that the floor does not fall below, above 0
     */
    NoiseFloor(double[] periodogram, double spacingHz, double pointsPerWidth, int first, int last, double least) {
        this.periodogram = periodogram;
        this.spacingHz = spacingHz;
        this.pointsPerWidth = pointsPerWidth;
        this.first = first;
        this.last = last;
        this.scratch = new double[(int) Math.ceil((2 * MOST + 2) * pointsPerWidth) + 4];
        double top = last * spacingHz;
        this.coarseHz = nodes(top, 1.2, top);
        this.coarseLog = new double[coarseHz.length];
        for (int j = 0; j < coarseLog.length; j++) {
            Window window = window(coarseHz[j], Math.sqrt(REACH), LEAST_FOR_SLOPE);
            coarseLog[j] = StrictMath.log(Math.max(least, median(window, coarseHz[j], 0)));
        }
        this.nodeHz = nodes(top, 1.2, MOST * pointsPerWidth * spacingHz / 4);
        this.nodeLog = new double[nodeHz.length];
        this.nodeFreedom = new double[nodeHz.length];
        for (int j = 0; j < nodeLog.length; j++) {
            Window whole = window(nodeHz[j], REACH, LEAST);
            double slope = whole.to > LEVELLED * whole.from ? slope(nodeHz[j]) : 0;
            Window window = choose(whole, nodeHz[j], slope);
            nodeLog[j] = StrictMath.log(Math.max(least, median(window, nodeHz[j], slope)));
            nodeFreedom[j] = 2 * EFFICIENCY * (window.to - window.from) / pointsPerWidth;
        }
    }

    private double[] nodes(double top, double ratio, double step) {
        double[] nodes = new double[256];
        int count = 0;
        for (double f = first * spacingHz; f < top; f = Math.min(f * ratio, f + step)) {
            if (count == nodes.length - 1) {
                nodes = Arrays.copyOf(nodes, 2 * nodes.length);
            }
            nodes[count++] = f;
        }
        nodes[count++] = top;
        return Arrays.copyOf(nodes, count);
    }

    /** Points from and to which a median reaches. */
    private record Window(double from, double to) {}

    private Window window(double hz, double reach, double least) {
        double place = hz / spacingHz;
        double from = Math.max(first, Math.max(place / reach, place - MOST * pointsPerWidth));
        double to = Math.min(last, Math.min(place * reach, place + MOST * pointsPerWidth));
        double lacking = least * pointsPerWidth - (to - from);
        if (lacking > 0) {
            double up = Math.min(last - to, lacking);
            to += up;
            from = Math.max(first, from - (lacking - up));
        }
        return new Window(from, to);
    }

    /**
     * The window, or that half of it which the frequency belongs to where a step parts the two; the greater one where it
     * is not clear, since too low a floor makes false lines.
     */
    private Window choose(Window window, double hz, double slope) {
        double place = hz / spacingHz;
        double near = NEAR * pointsPerWidth;
        if (place - window.from < 2 * near || window.to - place < 2 * near) {
            return window;
        }
        Window below = new Window(window.from, place);
        Window above = new Window(place, window.to);
        double lower = median(below, hz, slope);
        double upper = median(above, hz, slope);
        if (Math.max(lower, upper) < STEP * Math.min(lower, upper)) {
            return window;
        }
        double here = median(new Window(place - near, place + near), hz, slope);
        boolean high = here > CLEARLY * Math.min(lower, upper);
        return high == lower > upper ? below : above;
    }

    /** Mean density by the median of the powers, levelled as f^slope about a frequency. */
    private double median(Window window, double hz, double slope) {
        double place = hz / spacingHz;
        int low = (int) Math.ceil(window.from);
        int count = (int) Math.floor(window.to) - low + 1;
        for (int i = 0; i < count; i++) {
            double power = periodogram[low + i];
            scratch[i] = slope == 0 ? power : power * Math.exp(-slope * Math.log((low + i) / place));
        }
        double independent = Math.max(1, count / pointsPerWidth);
        return middle(count) / (LN_2 + 0.5 / independent);
    }

    private double middle(int count) {
        int upper = count / 2;
        double high = select(count, upper);
        if (count % 2 == 1) {
            return high;
        }
        double low = scratch[0];
        for (int i = 1; i < upper; i++) {
            low = Math.max(low, scratch[i]);
        }
        return (low + high) / 2;
    }

    /** The k-th smallest of the first values (C. A. R. Hoare, Communications of the ACM 4 (1961) p. 321). */
    private double select(int count, int k) {
        int left = 0;
        int right = count - 1;
        while (left < right) {
            double pivot = scratch[(left + right) >>> 1];
            int i = left;
            int j = right;
            while (i <= j) {
                while (scratch[i] < pivot) {
                    i++;
                }
                while (scratch[j] > pivot) {
                    j--;
                }
                if (i <= j) {
                    double swap = scratch[i];
                    scratch[i++] = scratch[j];
                    scratch[j--] = swap;
                }
            }
            if (k <= j) {
                right = j;
            } else if (k >= i) {
                left = i;
            } else {
                return scratch[k];
            }
        }
        return scratch[k];
    }

    /** Slope of the logarithm of density over that of frequency, from what is known within three octaves. */
    private double slope(double hz) {
        double n = 0;
        double sx = 0;
        double sy = 0;
        double sxx = 0;
        double sxy = 0;
        for (int j = 0; j < coarseHz.length; j++) {
            double ratio = coarseHz[j] / hz;
            if (ratio > 1 / SLOPE_REACH && ratio < SLOPE_REACH) {
                double x = StrictMath.log(ratio);
                n++;
                sx += x;
                sy += coarseLog[j];
                sxx += x * x;
                sxy += x * coarseLog[j];
            }
        }
        double spread = n * sxx - sx * sx;
        return spread > 1e-9 * n * n ? (n * sxy - sx * sy) / spread : 0;
    }

    private int nodeBelow(double hz) {
        int i = Arrays.binarySearch(nodeHz, hz);
        int below = i >= 0 ? i : -i - 2;
        return Math.max(0, Math.min(nodeHz.length - 2, below));
    }

    private double between(double[] values, double hz) {
        if (values.length == 1) {
            return values[0];
        }
        int j = nodeBelow(hz);
        double part = Math.max(0, Math.min(1, (hz - nodeHz[j]) / (nodeHz[j + 1] - nodeHz[j])));
        return values[j] + part * (values[j + 1] - values[j]);
    }

    /** Density at a frequency. */
    double density(double hz) {
        return Math.exp(between(nodeLog, hz));
    }

    /** Degrees of freedom of the chi-square that the estimate at a frequency is distributed like. */
    double degreesOfFreedom(double hz) {
        return between(nodeFreedom, hz);
    }

    /** Density for a test at a frequency, with its degrees of freedom. */
    record Level(double density, double degreesOfFreedom) {}

    /**
     * What a line at a frequency is tested against: the floor, unless neighbours on one side stand well above it. There a
     * hump or a step is, narrower than the floor can follow, and what rises from it is no line.
     */
    Level level(double hz) {
        Level level = new Level(density(hz), degreesOfFreedom(hz));
        level = guarded(level, hz, NEIGHBOURS, NEIGHBOURS_RATIO);
        return guarded(level, hz, NEAREST, NEAREST_RATIO);
    }

    private Level guarded(Level level, double hz, double reach, double ratio) {
        double place = hz / spacingHz;
        double gap = GAP * pointsPerWidth;
        double below = neighbours(hz, place - gap - reach * pointsPerWidth, place - gap);
        double above = neighbours(hz, place + gap, place + gap + reach * pointsPerWidth);
        double guard = Math.max(below, above);
        return guard > ratio * density(hz) && guard > level.density ? new Level(guard, GUARD_FREEDOM) : level;
    }

    /** Density among neighbours, levelled; 0 where the band has no room for most of the points. */
    private double neighbours(double hz, double from, double to) {
        Window window = new Window(Math.max(first, from), Math.min(last, to));
        return window.to - window.from < 0.75 * (to - from) ? 0 : median(window, hz, slope(hz));
    }
}
