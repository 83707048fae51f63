/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

import org.tapemetrology.core.filter.SecondOrderSections;

/**
 * A full-wave rectifier followed by a movement, scaled so that a steady sine reads its RMS: the mean of a rectified sine
 * is {@code 2 sqrt(2) / pi} of its RMS. Put an {@link org.tapemetrology.core.filter.Oversampler} before it.
 *
 * <p>A non-finite sample leaves the indication non-finite until {@link #reset()}. Thread-confined.
 */
public final class AverageDetector implements Detector {
    /** RMS of a sine over the mean of its magnitude. */
    public static final double FORM_FACTOR_OF_SINE = Math.PI / (2 * Math.sqrt(2));

    private final SecondOrderSections movement;

    /**
     * A detector at rest.
     *
     * @param movement low-pass filter of gain 1 at 0 Hz that the rectified signal passes; owned by the detector from
     *     here on
     */
    public AverageDetector(SecondOrderSections movement) {
        this.movement = movement;
    }

    @Override
    public void process(double[] in, int inOffset, double[] out, int outOffset, int length) {
        for (int i = 0; i < length; i++) {
            out[outOffset + i] = FORM_FACTOR_OF_SINE * Math.abs(in[inOffset + i]);
        }
        movement.process(out, outOffset, out, outOffset, length);
    }

    @Override
    public void reset() {
        movement.reset();
    }
}
