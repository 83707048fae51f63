/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

import java.util.Arrays;
import org.tapemetrology.core.filter.FirDecimator;
import org.tapemetrology.core.filter.FirDesign;
import org.tapemetrology.core.filter.MagnitudeCorrection;

/**
 * FM demodulator of a tone: for the complex envelope z of the tone it gives, at {@link CarrierBand#rateHz()},
 *
 * <ul>
 *   <li>the deviation, {@code Im(d ln z / dt) / 2 pi}, in Hz from the tuned frequency,
 *   <li>the amplitude deviation, {@code Re(d ln z / dt) / 2 pi}, in Hz: noise beside the tone shows in both alike, so this
 *       one tells how much of the other is noise,
 *   <li>the power |z|^2, where a tone of amplitude 1 has 1.
 * </ul>
 *
 * <p>The phase difference of two neighbouring values is the mean of the deviation over that interval; the droop
 * sin(x)/x, x = pi f/rate, of that mean is taken out by a short fitted filter. Everything beyond the stop edge of the
 * band is at least 100 dB down. A non-finite sample makes the outputs that it reaches non-finite. Thread-confined.
 */
public final class Demodulator {
    private static final int DROOP_HALF_LENGTH = 3;

    private final CarrierBand band;
    private final MixingDecimator mixer;
    private final int mixerTaps;
    private final FirDecimator[] second;
    private final FirDecimator[] droop;

    private double[] mixedRe = new double[0];
    private double[] mixedIm = new double[0];
    private double[] envelopeRe = new double[0];
    private double[] envelopeIm = new double[0];
    private double[] rawDeviation = new double[0];
    private double[] rawAmplitudeDeviation = new double[0];
    private double[] rawPower = new double[0];
    private double[] powers = new double[0];
    private int heldPowers;

    private boolean started;
    private double lastRe;
    private double lastIm;

    /**
     * A demodulator at rest.
     *
     * @param band what it is tuned to
     */
    public Demodulator(CarrierBand band) {
        this.band = band;
        double[] first = firstTaps(band);
        this.mixerTaps = first.length;
        this.mixer = new MixingDecimator(first, band.firstFactor(), band.toneHz() / band.sampleRateHz());
        if (band.secondFactor() > 1) {
            double[] taps =
                    FirDesign.lowPass(band.passHz(), band.stopHz(), CarrierBand.ATTENUATION_DB, band.firstRateHz());
            this.second = new FirDecimator[] {
                new FirDecimator(taps, band.secondFactor()), new FirDecimator(taps, band.secondFactor())
            };
        } else {
            this.second = new FirDecimator[0];
        }
        double rate = band.rateHz();
        double[] correction = MagnitudeCorrection.design(DROOP_HALF_LENGTH, band.passHz(), rate, f -> {
            double x = StrictMath.PI * f / rate;
            return x / StrictMath.sin(x);
        });
        this.droop = new FirDecimator[] {new FirDecimator(correction, 1), new FirDecimator(correction, 1)};
    }

    static double[] firstTaps(CarrierBand band) {
        double rate = band.firstRateHz();
        if (band.firstFactor() == 1 && band.secondFactor() > 1) {
            return new double[] {1}; // the second stage does it all
        }
        double stop = band.secondFactor() > 1 ? Math.min(rate - band.stopHz(), band.sampleRateHz() / 2) : band.stopHz();
        return FirDesign.lowPass(band.passHz(), stop, CarrierBand.ATTENUATION_DB, band.sampleRateHz());
    }

    /**
     * Most outputs that one call of {@link #process} gives.
     *
     * @param inputs number of input samples in the call
     * @return upper bound of the number of outputs
     */
    public int mostOutputs(int inputs) {
        return mixer.mostOutputs(inputs) / band.secondFactor() + 1;
    }

    /**
     * Time from the first input sample to the moment that the first output stands for.
     *
     * @return seconds
     */
    public double firstOutputSeconds() {
        double samples = (mixerTaps - 1) / 2.0; // an odd number of taps
        if (second.length > 0) {
            samples += (double) second[0].delaySamples() * band.firstFactor();
        }
        // A phase difference stands for the middle between its two values.
        return samples / band.sampleRateHz() + (DROOP_HALF_LENGTH + 0.5) / band.rateHz();
    }

    /**
     * Demodulates a block.
     *
     * @param in samples, full scale 1
     * @param offset first sample
     * @param length number of samples
     * @param deviationHz room for {@link #mostOutputs} deviations
     * @param amplitudeDeviationHz room for as many amplitude deviations
     * @param power room for as many powers
     * @return number of outputs
     */
    public int process(
            float[] in, int offset, int length, double[] deviationHz, double[] amplitudeDeviationHz, double[] power) {
        makeRoom(mixer.mostOutputs(length));
        int columns = mixer.process(in, offset, length, mixedRe, mixedIm);
        double[] re = mixedRe;
        double[] im = mixedIm;
        int count = columns;
        if (second.length > 0) {
            count = second[0].process(mixedRe, 0, columns, envelopeRe, 0);
            second[1].process(mixedIm, 0, columns, envelopeIm, 0);
            re = envelopeRe;
            im = envelopeIm;
        }
        int differences = discriminate(re, im, count);
        int outputs = droop[0].process(rawDeviation, 0, differences, deviationHz, 0);
        droop[1].process(rawAmplitudeDeviation, 0, differences, amplitudeDeviationHz, 0);
        alignPower(differences, power);
        return outputs;
    }

    /** Passes the powers on as far behind as the droop correction is, and drops those before its first output. */
    private void alignPower(int differences, double[] power) {
        int ready = heldPowers + differences;
        int late = DROOP_HALF_LENGTH;
        int outputs = Math.max(0, ready - 2 * late);
        int kept = ready - outputs;
        // The droop filter needs as many values after an output as before it: both stay here until it can give it.
        System.arraycopy(rawPower, 0, powers, heldPowers, differences);
        System.arraycopy(powers, late, power, 0, outputs);
        System.arraycopy(powers, outputs, powers, 0, kept);
        heldPowers = kept;
    }

    private void makeRoom(int columns) {
        if (mixedRe.length < columns) {
            mixedRe = new double[columns];
            mixedIm = new double[columns];
            envelopeRe = new double[columns];
            envelopeIm = new double[columns];
            rawDeviation = new double[columns];
            rawAmplitudeDeviation = new double[columns];
            rawPower = new double[columns];
            powers = Arrays.copyOf(powers, columns + 2 * DROOP_HALF_LENGTH);
        }
    }

    private int discriminate(double[] re, double[] im, int count) {
        double toHz = band.rateHz() / (2 * Math.PI);
        int written = 0;
        int i = 0;
        if (!started && count > 0) {
            started = true;
            lastRe = re[0];
            lastIm = im[0];
            i = 1;
        }
        for (; i < count; i++) {
            double x = re[i];
            double y = im[i];
            double dot = x * lastRe + y * lastIm;
            double cross = y * lastRe - x * lastIm;
            double power = x * x + y * y;
            double lastPower = lastRe * lastRe + lastIm * lastIm;
            rawDeviation[written] = toHz * Angle.of(cross, dot);
            rawAmplitudeDeviation[written] = toHz * halfLogRatio(power, lastPower);
            rawPower[written] = power;
            written++;
            lastRe = x;
            lastIm = y;
        }
        return written;
    }

    /** ln(a/b)/2; the series of the inverse hyperbolic tangent is good to 1e-9 where both are close. */
    private static double halfLogRatio(double a, double b) {
        double sum = a + b;
        if (sum == 0) {
            return 0;
        }
        double u = (a - b) / sum;
        double square = u * u;
        if (square < 1e-3) {
            return u * (1 + square * (1.0 / 3 + square * (1.0 / 5 + square / 7)));
        }
        return a > 0 && b > 0 ? 0.5 * Math.log(a / b) : 0;
    }
}
