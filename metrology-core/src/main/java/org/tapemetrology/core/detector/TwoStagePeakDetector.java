/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

/**
 * A rectifier and two stages in a row, each of them {@code y += k (x - y)} with {@code k = 1 - exp(-1/(fs tau))}, where
 * tau is the attack constant while the stage's input lies above y and the decay constant otherwise. Both stages decay
 * towards their input. The indication is the second stage times a scale that makes a steady 1 kHz sine read its RMS.
 *
 * <p>The sampling rate must be many times that of the signal: put an
 * {@link org.tapemetrology.core.filter.Oversampler} before it. A non-finite sample leaves the indication non-finite
 * until {@link #reset()}. Thread-confined.
 */
public final class TwoStagePeakDetector implements Detector {
    private static final double CALIBRATION_HZ = 1000;
    /** Longer than the slowest attack in use by a factor of 20, so that what is left is below 1e-8. */
    private static final double CALIBRATION_SECONDS = 3;
    /** Below this the stages are silent; it keeps the decay out of the subnormal numbers. */
    private static final double SILENT = 1e-30;

    private final double attack1;
    private final double decay1;
    private final double attack2;
    private final double decay2;
    private final double scale;
    private double y1;
    private double y2;

    /**
     * A detector at rest.
     *
     * @param sampleRateHz sampling rate in Hz, at least 8 kHz
     * @param first time constants of the first stage
     * @param second time constants of the second stage
     */
    public TwoStagePeakDetector(double sampleRateHz, Ballistics first, Ballistics second) {
        if (!(sampleRateHz >= 8000 && sampleRateHz < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("sampleRateHz " + sampleRateHz + " is not in [8000, infinity)");
        }
        this.attack1 = coefficient(first.attackSeconds(), sampleRateHz);
        this.decay1 = coefficient(first.decaySeconds(), sampleRateHz);
        this.attack2 = coefficient(second.attackSeconds(), sampleRateHz);
        this.decay2 = coefficient(second.decaySeconds(), sampleRateHz);
        this.scale = StrictMath.sqrt(0.5) / steadyIndicationOfUnitSine(sampleRateHz);
        reset();
    }

    private static double coefficient(double seconds, double sampleRateHz) {
        return -StrictMath.expm1(-1 / (sampleRateHz * seconds));
    }

    /** Mean of the second stage over the last tenth of the calibration time. */
    private double steadyIndicationOfUnitSine(double sampleRateHz) {
        double cosine = StrictMath.cos(2 * StrictMath.PI * CALIBRATION_HZ / sampleRateHz);
        double sine = StrictMath.sin(2 * StrictMath.PI * CALIBRATION_HZ / sampleRateHz);
        double re = 1;
        double im = 0;
        int samples = (int) (CALIBRATION_SECONDS * sampleRateHz);
        int averaged = samples / 10;
        double sum = 0;
        for (int i = 0; i < samples; i++) {
            step(Math.abs(im));
            if (i >= samples - averaged) {
                sum += y2;
            }
            double turned = re * cosine - im * sine;
            im = re * sine + im * cosine;
            re = turned;
        }
        return sum / averaged;
    }

    private void step(double x) {
        y1 += (x > y1 ? attack1 : decay1) * (x - y1);
        y2 += (y1 > y2 ? attack2 : decay2) * (y1 - y2);
    }

    @Override
    public void process(double[] in, int inOffset, double[] out, int outOffset, int length) {
        double first = y1;
        double second = y2;
        for (int i = 0; i < length; i++) {
            double x = Math.abs(in[inOffset + i]);
            first += (x > first ? attack1 : decay1) * (x - first);
            second += (first > second ? attack2 : decay2) * (first - second);
            if (second < SILENT) {
                second = 0;
                first = first < SILENT ? 0 : first;
            }
            out[outOffset + i] = scale * second;
        }
        y1 = first;
        y2 = second;
    }

    /**
     * The factor between the second stage and the indication.
     *
     * @return the RMS of a sine over the second stage's steady state on it
     */
    public double scale() {
        return scale;
    }

    @Override
    public void reset() {
        y1 = 0;
        y2 = 0;
    }
}
