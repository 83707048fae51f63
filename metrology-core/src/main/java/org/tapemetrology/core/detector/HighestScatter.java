/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import java.util.Optional;
import org.tapemetrology.core.fit.RunningMoments;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * How much the highest value of some time would differ in another time as long, told by the highest values of short pieces.
 *
 * <p>For a fluctuation whose peaks are Rayleigh distributed the squares of the peaks are exponentially distributed, and the
 * square of the highest of any number of them follows a Gumbel distribution of always the same scale (E. J. Gumbel,
 * "Statistics of Extremes", 1958, from memory). So the standard deviation of the squares is that of the pieces however long
 * the time is, and the mean rises by the scale times the logarithm of the length. Never NaN for finite values.
 * Thread-confined.
 *
 * <p>It is in the unit of the values. Cost: a few operations a piece. After a piece that is not finite the scatter is
 * refused with an {@link IllegalArgumentException} until {@link #reset()}.
 *
 * <p>Not for a regular beat, whose peaks come by no chance.
 */
public final class HighestScatter {
    /**
     * By the excess kurtosis of 2.4 the variance is known as by 2.2 times fewer values of a normal distribution. The highest
     * value itself is skewed, and of a skewed one the interval of Student's t for so few holds more than it claims; with this
     * many the study of coverage still finds 96 %.
     */
    private static final double LESS_FREEDOM = 1.4;
    /** Standard deviation of a Gumbel distribution over its scale: pi over the root of 6. */
    private static final double DEVIATION_TO_SCALE = 1.282549830161864;

    private final RunningMoments squares = new RunningMoments();

    /** No piece yet. */
    public HighestScatter() {}

    /**
     * Adds a piece.
     *
     * @param highest its highest value
     */
    public void add(double highest) {
        squares.add(highest * highest);
    }

    /**
     * Uncertainty of the expected highest value of a part, known by the mean of the highest values of some parts.
     *
     * @param mean that mean
     * @param parts number of parts, at least 1
     * @param length how much longer a part should be than those were, as a ratio of 1 or more: a shorter one reads low
     * @return standard uncertainty in the unit of the values, empty for fewer than two pieces or a mean of 0
     */
    public Optional<StandardUncertainty> of(double mean, double parts, double length) {
        if (squares.count() < 2 || mean == 0) {
            return Optional.empty();
        }
        double deviations = Math.hypot(1 / Math.sqrt(parts), StrictMath.log(length) / DEVIATION_TO_SCALE);
        double deviation = deviations * squares.standardDeviation() / (2 * mean);
        return Optional.of(new StandardUncertainty(deviation, Math.max(1, (squares.count() - 1) / LESS_FREEDOM)));
    }

    /** Forgets every piece. */
    public void reset() {
        squares.reset();
    }
}
