/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import java.util.Optional;
import org.tapemetrology.core.fit.LongRunMean;
import org.tapemetrology.core.fit.RunningMoments;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * Power of a component by the products of its complex amplitudes in frames that share no sample: {@code Re(c[n]
 * conj(c[n-2]))} for frames that overlap by half. A component locked to the tracked phase adds up; noise, independent
 * from frame to frame, averages to zero, so the estimate has no noise bias. The unit is that of the amplitudes squared.
 * Amplitudes that are not finite make it NaN until {@link #reset()}. Thread-confined.
 *
 * <p>Products of frames against noise: common practice, no source. Cost: a few operations a frame. {@link
 * #ratioUncertainty} refuses what is NaN with an {@link IllegalArgumentException}.
 *
 * <p>Not for a component that is not locked to the phase: it averages to zero as noise does.
 */
public final class CoherentPower {
    private final double[] re = new double[2];
    private final double[] im = new double[2];
    private int run;
    private final RunningMoments products = new RunningMoments();
    private final LongRunMean series = new LongRunMean();

    /** The power of nothing yet. */
    public CoherentPower() {}

    /**
     * Adds the amplitude in the next frame.
     *
     * @param real real part
     * @param imaginary imaginary part
     */
    public void add(double real, double imaginary) {
        int slot = run & 1;
        if (run >= 2) {
            double product = real * re[slot] + imaginary * im[slot];
            products.add(product);
            series.add(product);
        }
        re[slot] = real;
        im[slot] = imaginary;
        run++;
    }

    /** The next frame does not follow the last one. */
    public void interrupt() {
        run = 0;
    }

    /** Forgets every frame. */
    public void reset() {
        run = 0;
        products.reset();
        series.reset();
    }

    /**
     * How many products there are.
     *
     * @return the number
     */
    public long pairs() {
        return products.count();
    }

    /**
     * The power: the mean of the products.
     *
     * @return the mean, below 0 at times where noise alone is left; 0 without a product
     */
    public double mean() {
        return products.mean();
    }

    /**
     * Standard error of the mean by the scatter of the products. Successive ones share frames, which costs a factor of two
     * in variance where the component prevails; where noise does, they do not hang together and the error is overstated.
     *
     * @return standard error in the unit of {@link #mean()}; infinite for fewer than two products
     */
    public double standardError() {
        return products.count() < 2
                ? Double.POSITIVE_INFINITY
                : products.standardDeviation() * Math.sqrt(2.0 / products.count());
    }

    /**
     * How well the ratio of this mean to that of a reference is known, where both sway together: by the scatter of what this
     * differs from its share in the reference.
     *
     * @param reference a component of the same frames
     * @return standard uncertainty of the ratio; empty for fewer than two products
     */
    public Optional<StandardUncertainty> ratioUncertainty(CoherentPower reference) {
        double whole = reference.mean();
        return series.uncertaintyWith(-mean() / whole, reference.series).map(u -> u.times(1 / whole));
    }
}
