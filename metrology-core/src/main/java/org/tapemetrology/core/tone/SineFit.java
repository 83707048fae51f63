/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

/**
 * A sine fitted to a record, {@code A cos(2 pi f t + phase) + offset}, after the three- and four-parameter methods of
 * IEEE Std 1057.
 *
 * <p>Phases refer to the middle of the record, where the errors of phase and frequency are uncorrelated; the phase
 * anywhere else follows by {@link #phaseAt}. Standard errors come from the scatter of the residuals.
 *
 * <p>Made by {@link #threeParameter} and {@link #fourParameter}, which end in an {@link ArithmeticException} where a
 * sample is not finite; its numbers themselves are not checked. Cost: of the order of the samples, for four
 * parameters times some passes. Not for long records of a tape, whose speed wavers: a sine that stands still is
 * fitted.
 *
 * @param frequencyHz frequency in Hz
 * @param amplitude peak amplitude in the unit of the samples
 * @param phaseRad phase at the middle of the record in rad, -pi to pi
 * @param offset constant part in the unit of the samples
 * @param residualRms RMS of what the sine leaves, in the unit of the samples
 * @param frequencyErrorHz standard error of the frequency in Hz; 0 where the frequency was given
 * @param amplitudeError standard error of the amplitude, in the unit of the samples
 * @param phaseErrorRad standard error of the phase in rad
 * @param offsetError standard error of the offset, in the unit of the samples
 * @param middleSeconds middle of the record, in seconds from its first sample
 */
public record SineFit(
        double frequencyHz,
        double amplitude,
        double phaseRad,
        double offset,
        double residualRms,
        double frequencyErrorHz,
        double amplitudeError,
        double phaseErrorRad,
        double offsetError,
        double middleSeconds) {

    /**
     * Three-parameter fit: the frequency is known.
     *
     * @param samples samples
     * @param offset first sample of the record
     * @param length samples of the record, at least 4
     * @param sampleRateHz sampling rate in Hz
     * @param frequencyHz known frequency in Hz, above 0 and below half the sampling rate
     * @return the fit
     */
    public static SineFit threeParameter(
            double[] samples, int offset, int length, double sampleRateHz, double frequencyHz) {
        return of(HarmonicFit.known(samples, offset, length, sampleRateHz, frequencyHz, 1));
    }

    /**
     * Four-parameter fit: the frequency is found too.
     *
     * @param samples samples
     * @param offset first sample of the record
     * @param length samples of the record, at least 5
     * @param sampleRateHz sampling rate in Hz
     * @param startHz frequency to start from in Hz; it has to be within about half of 1/(length of the record)
     * @return the fit
     * @throws ArithmeticException where it does not converge
     */
    public static SineFit fourParameter(double[] samples, int offset, int length, double sampleRateHz, double startHz) {
        return of(HarmonicFit.unknown(samples, offset, length, sampleRateHz, startHz, 1));
    }

    private static SineFit of(HarmonicFit fit) {
        return new SineFit(
                fit.frequencyHz(),
                fit.amplitude(1),
                fit.phaseRad(1),
                fit.offset(),
                fit.residualRms(),
                fit.frequencyErrorHz(),
                fit.amplitudeError(1),
                fit.phaseErrorRad(1),
                fit.offsetError(),
                fit.middleSeconds());
    }

    /**
     * Phase at a moment.
     *
     * @param seconds time from the first sample of the record
     * @return phase in rad, not reduced to a turn
     */
    public double phaseAt(double seconds) {
        return phaseRad + 2 * Math.PI * frequencyHz * (seconds - middleSeconds);
    }

    /**
     * Standard error of the phase at a moment.
     *
     * @param seconds time from the first sample of the record
     * @return standard error in rad
     */
    public double phaseErrorAt(double seconds) {
        return Math.hypot(phaseErrorRad, 2 * Math.PI * frequencyErrorHz * (seconds - middleSeconds));
    }
}
