/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import java.util.Arrays;
import java.util.Objects;
import org.tapemetrology.core.fit.GaussNewton;
import org.tapemetrology.core.fit.LinearFit;
import org.tapemetrology.core.fit.LinearLeastSquares;

/**
 * A fundamental and its harmonics fitted to a record, {@code sum Ak cos(2 pi k f t + phase k) + offset}, after IEEE
 * Std 1057 with a shared fundamental.
 *
 * <p>Time runs from the middle of the record in units of half its length: the frequency then decouples from the phases,
 * and all columns of the problem are of one size. Standard errors come from the scatter of the residuals. Immutable.
 *
 * <p>Amplitudes are in the unit of the samples, phases in rad. Cost: of the order of n h squared for n samples and h
 * harmonics, with an unknown frequency for each pass. A sample that is not finite ends in an {@link
 * ArithmeticException}.
 *
 * <p>Not for a long record of a tape, whose speed wavers: that is {@link DistortionMeter}.
 */
public final class HarmonicFit {
    private final double frequencyHz;
    private final double frequencyErrorHz;
    private final int harmonics;
    /** Of cos and sin of every harmonic in turn, and the constant. */
    private final double[] coefficients;

    private final LinearFit fit;
    private final double residualRms;
    private final double middleSeconds;

    private HarmonicFit(
            double frequencyHz,
            double frequencyErrorHz,
            int harmonics,
            double[] coefficients,
            LinearFit fit,
            double middleSeconds) {
        this.frequencyHz = frequencyHz;
        this.frequencyErrorHz = frequencyErrorHz;
        this.harmonics = harmonics;
        this.coefficients = coefficients;
        this.fit = fit;
        this.residualRms = Math.sqrt(fit.residualSumOfSquares() / fit.observations());
        this.middleSeconds = middleSeconds;
    }

    /**
     * Fits harmonics of a known fundamental.
     *
     * @param samples samples
     * @param offset first sample of the record
     * @param length samples of the record, more than the 2 n + 1 unknowns
     * @param sampleRateHz sampling rate in Hz
     * @param frequencyHz the fundamental in Hz
     * @param harmonics how many, the fundamental included; the highest below half the sampling rate
     * @return the fit
     */
    public static HarmonicFit known(
            double[] samples, int offset, int length, double sampleRateHz, double frequencyHz, int harmonics) {
        check(samples, offset, length, 2 * harmonics + 1, sampleRateHz, frequencyHz, harmonics);
        Problem problem = new Problem(samples, offset, length, sampleRateHz, harmonics);
        LinearFit fit = problem.linear(frequencyHz);
        return new HarmonicFit(frequencyHz, 0, harmonics, fit.coefficients(), fit, problem.half);
    }

    /**
     * Fits harmonics of a fundamental that is found too, by the Gauss-Newton passes of the four-parameter method.
     *
     * @param samples samples
     * @param offset first sample of the record
     * @param length samples of the record, more than the 2 n + 2 unknowns
     * @param sampleRateHz sampling rate in Hz
     * @param startHz fundamental to start from in Hz, within about half of 1/(length of the record)
     * @param harmonics how many, the fundamental included; the highest below half the sampling rate
     * @return the fit
     * @throws ArithmeticException where it does not converge
     */
    public static HarmonicFit unknown(
            double[] samples, int offset, int length, double sampleRateHz, double startHz, int harmonics) {
        check(samples, offset, length, 2 * harmonics + 2, sampleRateHz, startHz, harmonics);
        Problem problem = new Problem(samples, offset, length, sampleRateHz, harmonics);
        double[] parameters = Arrays.copyOf(problem.linear(startHz).coefficients(), 2 * harmonics + 2);
        parameters[2 * harmonics + 1] = 2 * Math.PI * startHz * problem.half;
        LinearFit last = GaussNewton.fit(problem, Arrays.copyOfRange(samples, offset, offset + length), parameters);
        double perHertz = 2 * Math.PI * problem.half;
        double frequencyHz = parameters[2 * harmonics + 1] / perHertz;
        if (!(frequencyHz > 0 && frequencyHz * harmonics < sampleRateHz / 2)) {
            throw new ArithmeticException("from " + startHz + " Hz the fit left the band, to " + frequencyHz + " Hz");
        }
        return new HarmonicFit(
                frequencyHz,
                last.standardError(2 * harmonics + 1) / perHertz,
                harmonics,
                parameters,
                last,
                problem.half);
    }

    private static void check(
            double[] samples, int offset, int length, int unknowns, double rateHz, double startHz, int harmonics) {
        Objects.checkFromIndexSize(offset, length, samples.length);
        if (harmonics < 1) {
            throw new IllegalArgumentException("harmonics " + harmonics + " is below 1");
        }
        if (length <= unknowns) {
            throw new IllegalArgumentException("length " + length + " is not above " + unknowns + ", the unknowns");
        }
        if (!(startHz > 0 && startHz * harmonics < rateHz / 2)) {
            throw new IllegalArgumentException("harmonic " + harmonics + " of " + startHz
                    + " Hz is not between 0 and half the sampling rate, " + rateHz / 2 + " Hz");
        }
    }

    /** The record. Parameters: of cos and sin of every harmonic, the constant, and the angle over half the record. */
    private static final class Problem implements GaussNewton.Model {
        private final double[] samples;
        private final int offset;
        private final int length;
        private final int harmonics;
        private final double middle;
        /** Half the record in seconds. */
        private final double half;

        Problem(double[] samples, int offset, int length, double rateHz, int harmonics) {
            this.samples = samples;
            this.offset = offset;
            this.length = length;
            this.harmonics = harmonics;
            this.middle = (length - 1) / 2.0;
            this.half = middle / rateHz;
        }

        /** Fits with the frequency known. */
        LinearFit linear(double frequencyHz) {
            double[] row = new double[2 * harmonics + 1];
            LinearLeastSquares linear = new LinearLeastSquares(row.length);
            for (int n = 0; n < length; n++) {
                columns(2 * Math.PI * frequencyHz * half, n, row);
                linear.add(row, samples[offset + n]);
            }
            return linear.solve();
        }

        private void columns(double angleOfHalf, int n, double[] row) {
            double angle = angleOfHalf * ((n - middle) / middle);
            double cos = StrictMath.cos(angle);
            double sin = StrictMath.sin(angle);
            double c = 1;
            double s = 0;
            for (int k = 1; k <= harmonics; k++) {
                double next = c * cos - s * sin;
                s = s * cos + c * sin;
                c = next;
                row[2 * k - 2] = c;
                row[2 * k - 1] = s;
            }
            row[2 * harmonics] = 1;
        }

        @Override
        public double valueAndGradient(double[] parameters, int observation, double[] gradient) {
            columns(parameters[2 * harmonics + 1], observation, gradient);
            double value = parameters[2 * harmonics];
            double slope = 0;
            for (int k = 1; k <= harmonics; k++) {
                double c = gradient[2 * k - 2];
                double s = gradient[2 * k - 1];
                double a = parameters[2 * k - 2];
                double b = parameters[2 * k - 1];
                value += a * c + b * s;
                slope += k * (b * c - a * s);
            }
            gradient[2 * harmonics + 1] = slope * (observation - middle) / middle;
            return value;
        }
    }

    /**
     * The fundamental.
     *
     * @return frequency in Hz
     */
    public double frequencyHz() {
        return frequencyHz;
    }

    /**
     * Standard error of the fundamental.
     *
     * @return standard error in Hz; 0 where the frequency was given
     */
    public double frequencyErrorHz() {
        return frequencyErrorHz;
    }

    /**
     * How many harmonics were fitted, the fundamental included.
     *
     * @return the number
     */
    public int harmonics() {
        return harmonics;
    }

    private double cosine(int k) {
        if (k < 1 || k > harmonics) {
            throw new IllegalArgumentException("harmonic " + k + " is not in 1 to " + harmonics);
        }
        return coefficients[2 * k - 2];
    }

    private double sine(int k) {
        return coefficients[2 * k - 1];
    }

    /**
     * Peak amplitude of a harmonic.
     *
     * @param k which one; 1 is the fundamental
     * @return amplitude in the unit of the samples
     */
    public double amplitude(int k) {
        return Math.hypot(cosine(k), sine(k));
    }

    /**
     * Phase of a harmonic at the middle of the record.
     *
     * @param k which one; 1 is the fundamental
     * @return phase in rad, -pi to pi
     */
    public double phaseRad(int k) {
        return Math.atan2(-sine(k), cosine(k));
    }

    /**
     * Standard error of an amplitude, by propagation through {@code sqrt(a^2 + b^2)}.
     *
     * @param k which one; 1 is the fundamental
     * @return standard error in the unit of the samples
     */
    public double amplitudeError(int k) {
        double amplitude = amplitude(k);
        return amplitude == 0 ? fit.standardError(2 * k - 2) : propagated(k, cosine(k), sine(k)) / amplitude;
    }

    /**
     * Standard error of a phase.
     *
     * @param k which one; 1 is the fundamental
     * @return standard error in rad; infinite for an amplitude of 0
     */
    public double phaseErrorRad(int k) {
        double amplitude = amplitude(k);
        return amplitude == 0 ? Double.POSITIVE_INFINITY : propagated(k, -sine(k), cosine(k)) / (amplitude * amplitude);
    }

    /** Standard error of ga a + gb b. */
    private double propagated(int k, double ga, double gb) {
        int a = 2 * k - 2;
        int b = 2 * k - 1;
        double variance =
                ga * ga * fit.covariance(a, a) + 2 * ga * gb * fit.covariance(a, b) + gb * gb * fit.covariance(b, b);
        return Math.sqrt(Math.max(0, variance));
    }

    /**
     * Constant part.
     *
     * @return offset in the unit of the samples
     */
    public double offset() {
        return coefficients[2 * harmonics];
    }

    /**
     * Standard error of the constant part.
     *
     * @return standard error in the unit of the samples
     */
    public double offsetError() {
        return fit.standardError(2 * harmonics);
    }

    /**
     * RMS of what the fit leaves.
     *
     * @return RMS in the unit of the samples
     */
    public double residualRms() {
        return residualRms;
    }

    /**
     * Middle of the record, to which phases refer.
     *
     * @return seconds from the first sample of the record
     */
    public double middleSeconds() {
        return middleSeconds;
    }

    @Override
    public String toString() {
        double[] amplitudes = new double[harmonics];
        Arrays.setAll(amplitudes, i -> amplitude(i + 1));
        return "HarmonicFit " + frequencyHz + " Hz " + Arrays.toString(amplitudes);
    }
}
