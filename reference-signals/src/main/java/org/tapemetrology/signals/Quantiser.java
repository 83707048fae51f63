/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import java.util.OptionalLong;
import org.tapemetrology.signals.internal.Require;

/**
 * An ideal converter: value &times; 2^(bits - 1), rounded, within the codes that there are. The value 1 itself lies one
 * step above the highest code and saturates there.
 *
 * <p>With dither, the difference of two uniform numbers of one step each (triangular density, two steps wide) is added
 * first; it is a function of seed and sample number. It makes the error independent of the signal to second order, with
 * an RMS value of half a step.
 *
 * <p>The same seed gives the same dither. A value that is not finite is refused with an {@link
 * IllegalArgumentException}: no converter has a code for it.
 *
 * @param bits word length
 * @param ditherSeed start of the random numbers of the dither; empty for none
 */
public record Quantiser(int bits, OptionalLong ditherSeed) {
    /**
     * Checks the word length.
     *
     * @param bits 2 to 32
     * @param ditherSeed any
     * @throws IllegalArgumentException if the word length is not in 2 to 32
     */
    public Quantiser {
        Require.within("word length in bits", bits, 2, 32);
    }

    /**
     * A converter without dither.
     *
     * @param bits word length
     * @return the quantiser
     */
    public static Quantiser plain(int bits) {
        return new Quantiser(bits, OptionalLong.empty());
    }

    /**
     * A converter with dither of triangular density.
     *
     * @param bits word length
     * @param seed start of the random numbers
     * @return the quantiser
     */
    public static Quantiser dithered(int bits, long seed) {
        return new Quantiser(bits, OptionalLong.of(seed));
    }

    /**
     * The code of a value.
     *
     * @param value the value; full scale is 1
     * @param sampleIndex number of the sample, which the dither depends on
     * @return the code, -2^(bits - 1) to 2^(bits - 1) - 1
     */
    public long code(double value, long sampleIndex) {
        double steps = unlimited(value, sampleIndex);
        double span = span();
        return (long) Math.max(-span, Math.min(span - 1, steps));
    }

    /**
     * Whether a value lies outside the codes that there are.
     *
     * @param value the value; full scale is 1
     * @param sampleIndex number of the sample
     * @return true where the code saturates
     */
    public boolean saturates(double value, long sampleIndex) {
        double steps = unlimited(value, sampleIndex);
        return steps > span() - 1 || steps < -span();
    }

    /**
     * The value after conversion.
     *
     * @param value the value; full scale is 1
     * @param sampleIndex number of the sample
     * @return code / 2^(bits - 1)
     */
    public double quantise(double value, long sampleIndex) {
        return code(value, sampleIndex) / span();
    }

    private double unlimited(double value, long sampleIndex) {
        double steps = Require.finite("value to be quantised", value) * span();
        if (ditherSeed.isPresent()) {
            CounterRandom random = CounterRandom.of(ditherSeed.getAsLong());
            steps += random.uniform(2 * sampleIndex) - random.uniform(2 * sampleIndex + 1);
        }
        return Math.rint(steps);
    }

    private double span() {
        return 1L << (bits - 1);
    }
}
