/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.filter.FirDecimator;
import org.tapemetrology.core.filter.FirDesign;
import org.tapemetrology.core.filter.MagnitudeCorrection;
import org.tapemetrology.core.filter.SevenTapFilter;

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
    /** More than that of the other stages: a half-band filter made of a windowed one loses some of it. */
    private static final double HALVING_ATTENUATION_DB = CarrierBand.ATTENUATION_DB + 10;

    private final CarrierBand band;
    private final MixingDecimator mixer;
    private final double firstDelaySamples;
    private final Optional<Rotator> rotator;
    private final FirDecimator[] second;
    private final Discriminator discriminator;
    private final SevenTapFilter deviationDroop;
    private final SevenTapFilter amplitudeDroop;

    private double[] mixedRe = new double[0];
    private double[] mixedIm = new double[0];
    private double[] envelopeRe = new double[0];
    private double[] envelopeIm = new double[0];
    private double[] rawDeviation = new double[0];
    private double[] rawAmplitudeDeviation = new double[0];
    private double[] rawPower = new double[0];
    private double[] powers = new double[0];
    private int heldPowers;

    /**
     * A demodulator at rest.
     *
     * @param band what it is tuned to
     */
    public Demodulator(CarrierBand band) {
        this.band = band;
        List<double[]> halvings = halvings(band);
        double[] first = tapsBehindHalvings(band);
        this.mixer = new MixingDecimator(halvings, first, band.firstFactor(), band.toneHz() / band.sampleRateHz());
        double delay = 0;
        for (int i = 0; i < halvings.size(); i++) {
            delay += (double) PhaseHalver.delaySamples(halvings.get(i)) * (1 << i);
        }
        // An odd number of taps.
        this.firstDelaySamples = delay + (first.length - 1) / 2.0 * (1 << halvings.size());
        if (band.secondFactor() > 1) {
            double[] taps =
                    FirDesign.lowPass(band.passHz(), band.stopHz(), CarrierBand.ATTENUATION_DB, band.firstRateHz());
            this.second = new FirDecimator[] {
                new FirDecimator(taps, band.secondFactor()), new FirDecimator(taps, band.secondFactor())
            };
            this.rotator = Optional.of(new Rotator(mixer.radiansPerColumn()));
        } else {
            this.second = new FirDecimator[0];
            this.rotator = Optional.empty();
        }
        // Where nothing follows that needs the envelope at rest, its turning is left to the discriminator.
        this.discriminator = new Discriminator(rotator.isPresent() ? 0 : mixer.radiansPerColumn());
        double rate = band.rateHz();
        double[] correction = MagnitudeCorrection.design(DROOP_HALF_LENGTH, band.passHz(), rate, f -> {
            double x = StrictMath.PI * f / rate;
            return x / StrictMath.sin(x);
        });
        double toHz = rate / (2 * StrictMath.PI);
        for (int i = 0; i < correction.length; i++) {
            correction[i] *= toHz; // what goes in is in radians a step
        }
        this.deviationDroop = new SevenTapFilter(correction);
        this.amplitudeDroop = new SevenTapFilter(correction);
    }

    /** The half-band filters before the first stage. */
    static List<double[]> halvings(CarrierBand band) {
        List<double[]> sides = new ArrayList<>();
        for (int i = 1; i <= band.halvings(); i++) {
            sides.add(FirDesign.halfBandSides(
                    band.toneHz() + band.stopHz(), HALVING_ATTENUATION_DB, band.halvedRateHz(i)));
        }
        return sides;
    }

    /** The low-pass of the first stage at the rate that the halvings leave, before it is moved to the tone. */
    static double[] tapsBehindHalvings(CarrierBand band) {
        double inputRate = band.halvedRateHz(band.halvings());
        double rate = band.firstRateHz();
        if (band.firstFactor() == 1 && band.secondFactor() > 1) {
            return new double[] {1}; // the second stage does it all
        }
        double stop = band.secondFactor() > 1 ? Math.min(rate - band.stopHz(), inputRate / 2) : band.stopHz();
        return FirDesign.lowPass(band.passHz(), stop, CarrierBand.ATTENUATION_DB, inputRate);
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
     * How many outputs a recording of some length gives, however it is cut into calls.
     *
     * @param inputs number of input samples, from the first one on
     * @return number of outputs that {@link #process} has given when it has taken them
     */
    public long outputsOf(long inputs) {
        long values = mixer.columnsOf(inputs);
        if (second.length > 0) {
            values = second[0].outputsOf(values);
        }
        // The first value makes no difference, and the droop correction takes as many after an output as before it.
        return Math.max(0, values - 1 - 2 * DROOP_HALF_LENGTH);
    }

    /**
     * Time from the first input sample to the moment that the first output stands for.
     *
     * @return seconds
     */
    public double firstOutputSeconds() {
        double samples = firstDelaySamples;
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
        if (rotator.isPresent()) {
            rotator.get().process(mixedRe, mixedIm, columns);
            count = second[0].process(mixedRe, 0, columns, envelopeRe, 0);
            second[1].process(mixedIm, 0, columns, envelopeIm, 0);
            re = envelopeRe;
            im = envelopeIm;
        }
        int differences = discriminator.process(re, im, count, rawDeviation, rawAmplitudeDeviation, rawPower);
        int outputs = deviationDroop.process(rawDeviation, 0, differences, deviationHz, 0);
        amplitudeDroop.process(rawAmplitudeDeviation, 0, differences, amplitudeDeviationHz, 0);
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
}
