/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

/**
 * A running filter with the magnitude of an analogue prototype up to {@link #reachHz()}: sections whose poles are those
 * of the prototype, {@code exp(2 pi p / fs)}, and behind them a short symmetric FIR filter fitted to the quotient of
 * the two magnitudes.
 *
 * <p>The bilinear transform would squeeze the whole axis of frequencies below half the sampling rate, and the curves of
 * audio weightings end close to it; the matched transform leaves a quotient that is smooth and within a factor of ten,
 * which {@value #HALF_LENGTH} taps on each side follow.
 *
 * <p>Like {@link FirDecimator}, it gives its first output once the FIR part lies inside the input. Thread-confined.
 */
public final class MatchedFilter {
    private static final int HALF_LENGTH = 12;
    /** Upper end of the fit, as a share of the sampling rate. */
    private static final double FITTED = 0.475;

    private static final int CHUNK = 512;

    private final SecondOrderSections sections;
    private final FirDecimator correction;
    private final double[] taps;
    private final double[] scratch = new double[CHUNK];

    /**
     * A filter at rest.
     *
     * @param prototype the analogue filter to follow
     * @param sampleRateHz sampling rate in Hz, more than twice the prototype's reference frequency
     */
    public MatchedFilter(AnalogFilter prototype, double sampleRateHz) {
        this.sections = prototype.matchedSections(sampleRateHz);
        this.taps = MagnitudeCorrection.design(
                HALF_LENGTH, FITTED * sampleRateHz, sampleRateHz, f -> prototype.magnitude(f) / sections.magnitude(f));
        this.correction = new FirDecimator(taps, 1);
    }

    /**
     * Filters a block.
     *
     * @param in input samples
     * @param inOffset first input sample
     * @param length number of input samples
     * @param out where outputs go, with room for {@code length} of them; not the input array
     * @param outOffset first output sample
     * @return number of outputs written: {@code length}, but for the start of the input
     */
    public int process(double[] in, int inOffset, int length, double[] out, int outOffset) {
        int produced = 0;
        for (int done = 0; done < length; ) {
            int part = Math.min(CHUNK, length - done);
            sections.process(in, inOffset + done, scratch, 0, part);
            produced += correction.process(scratch, 0, part, out, outOffset + produced);
            done += part;
        }
        return produced;
    }

    /** Puts the filter to rest. */
    public void reset() {
        sections.reset();
        correction.reset();
    }

    /**
     * Magnitude of the response of these coefficients, sections and FIR filter together.
     *
     * @param frequencyHz frequency in Hz
     * @return magnitude
     */
    public double magnitude(double frequencyHz) {
        return sections.magnitude(frequencyHz) * FirDesign.magnitude(taps, frequencyHz, sections.sampleRateHz());
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
