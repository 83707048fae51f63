/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

/**
 * A running filter with the magnitude of an analogue prototype up to {@link #reachHz()}: sections whose zeros and poles
 * are those of the prototype, {@code exp(2 pi p / fs)}, and three zeros and poles more, fitted to the quotient of the two
 * magnitudes.
 *
 * <p>The bilinear transform would squeeze the whole axis of frequencies below half the sampling rate, and the curves of
 * audio weightings end close to it; the matched transform leaves a quotient that is smooth and within a factor of ten,
 * which the fit follows within 0.01 dB. Thread-confined.
 *
 * <p>A sample that is not finite stays in the state until {@link #reset()}.
 */
public final class MatchedFilter {
    /** Upper end of the fit, as a share of the sampling rate. */
    private static final double FITTED = 0.475;

    private final SecondOrderSections sections;

    /**
     * A filter at rest.
     *
     * @param prototype the analogue filter to follow
     * @param sampleRateHz sampling rate in Hz, more than twice the prototype's reference frequency
     */
    public MatchedFilter(AnalogFilter prototype, double sampleRateHz) {
        SecondOrderSections plain = prototype.matchedSections(sampleRateHz, null);
        RationalCorrection correction = RationalCorrection.design(
                FITTED * sampleRateHz, sampleRateHz, f -> prototype.magnitude(f) / plain.magnitude(f));
        this.sections = prototype.matchedSections(sampleRateHz, correction);
    }

    /**
     * Filters a block. The output may be the input array at the same offset.
     *
     * @param in input samples
     * @param inOffset first input sample
     * @param length number of input samples
     * @param out where outputs go
     * @param outOffset first output sample
     * @return number of outputs written: {@code length}
     */
    public int process(double[] in, int inOffset, int length, double[] out, int outOffset) {
        sections.process(in, inOffset, out, outOffset, length);
        return length;
    }

    /** Puts the filter to rest. */
    public void reset() {
        sections.reset();
    }

    /**
     * Magnitude of the response of these coefficients.
     *
     * @param frequencyHz frequency in Hz
     * @return magnitude
     */
    public double magnitude(double frequencyHz) {
        return sections.magnitude(frequencyHz);
    }

    /**
     * The sections that it runs.
     *
     * @return a filter of its own, at rest
     */
    public SecondOrderSections sections() {
        return sections.copy();
    }

    /**
     * Up to where the response is that of the prototype: 0.45 of the sampling rate.
     *
     * @return frequency in Hz
     */
    public double reachHz() {
        return 0.45 * sections.sampleRateHz();
    }
}
