/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;

/**
 * Maximum output level: the replayed level at which the third harmonic is 3 % of the fundamental (IEC 60094-5, from memory).
 *
 * <p>Below saturation the third harmonic rises with the square of the level, so between two measured levels its logarithm is
 * interpolated along a straight line over the level in decibels; from one level alone it follows as
 * {@code L + 10 lg(3/k3)}.
 *
 * <p>Levels are in dB re whatever the points are. Cost: a sort of the points. A point that is not finite is refused.
 * It has no state: any number of threads may use it.
 *
 * <p>Not for short waves, whose third harmonic lies beyond what tape and machine pass.
 */
public final class MaximumOutputLevel {
    /** The third harmonic that defines it, in %. */
    public static final double THIRD_HARMONIC_PERCENT = 3;

    private MaximumOutputLevel() {}

    /**
     * A level with its third harmonic.
     *
     * @param levelDb replayed level in dB re anything
     * @param thirdHarmonicPercent third harmonic re the fundamental in %, above 0
     */
    public record Point(double levelDb, double thirdHarmonicPercent) {

        /**
         * A point, checked.
         *
         * @param levelDb replayed level
         * @param thirdHarmonicPercent third harmonic
         * @throws IllegalArgumentException if the level is not finite or the third harmonic is not above 0 % and at
         *     most 100 %
         */
        public Point {
            if (!Double.isFinite(levelDb)) {
                throw new IllegalArgumentException("levelDb " + levelDb + " is not finite");
            }
            if (!(thirdHarmonicPercent > 0 && thirdHarmonicPercent <= 100)) {
                throw new IllegalArgumentException(
                        "thirdHarmonicPercent " + thirdHarmonicPercent + " is not in (0, 100]");
            }
        }
    }

    /**
     * From measured levels.
     *
     * @param points levels with their third harmonic, in any order
     * @return the level in dB, empty where the points do not enclose 3 %
     */
    public static OptionalDouble between(List<Point> points) {
        List<Point> sorted = points.stream()
                .sorted(Comparator.comparingDouble(Point::levelDb))
                .toList();
        for (int i = 1; i < sorted.size(); i++) {
            double below = decibels(sorted.get(i - 1));
            double above = decibels(sorted.get(i));
            if (below <= 0 && above > 0) {
                double low = sorted.get(i - 1).levelDb();
                return OptionalDouble.of(low + (sorted.get(i).levelDb() - low) * -below / (above - below));
            }
        }
        return OptionalDouble.empty();
    }

    /**
     * An estimate from one level, well below saturation.
     *
     * @param point a level with its third harmonic
     * @return the level in dB
     */
    public static double estimate(Point point) {
        return point.levelDb() - decibels(point) / 2;
    }

    /** Third harmonic re 3 %, in dB. */
    private static double decibels(Point point) {
        return 20 * StrictMath.log10(point.thirdHarmonicPercent() / THIRD_HARMONIC_PERCENT);
    }
}
