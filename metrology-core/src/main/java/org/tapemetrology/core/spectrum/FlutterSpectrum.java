/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.tapemetrology.core.internal.Require;

/**
 * Spectrum of the relative speed deviation: density of power in %<sup>2</sup>/Hz with its confidence interval, the floor
 * of random flutter under it, the amplitude in % that a periodic component has, and the lines themselves.
 *
 * <p>The density is the mean of seven periodograms under orthogonal windows of four units of time-bandwidth (D. J.
 * Thomson, Proc. IEEE 70 (1982) p. 1055): over the mean of their chi-squares it has 14 degrees of freedom for each part
 * of the series, and a line stands as a plateau two {@link #halfBandwidthHz} wide. The floor is a running median of what
 * the fitted lines leave. The amplitude is that under a Hann window, up to 1.4 dB low between two points for a line.
 *
 * <p>The band is that of {@link LineFit}. A series longer than two minutes at 1 kHz (131 072 samples after decimation to
 * 1 to 2 kHz) is cut into equal parts: density, floor and amplitude are the power means of all, and lines are fitted in
 * each part. Samples that make no whole number in each part are left out, fewer than there are parts. Immutable.
 *
 * <p>Cost: that of {@link LineFit} for each part, and a transform for each window. A deviation that is not finite is
 * refused.
 *
 * <p>Not for a weighted figure: nothing is weighted here.
 */
public final class FlutterSpectrum {
    private static final int LONGEST_PART = 1 << 17;
    private static final double TIME_HALF_BANDWIDTH = 4;
    private static final int TAPERS = 7;
    private static final double PERCENT_SQUARED = 1e4;

    private final List<LineFit> fits;
    private final int first;
    private final double spacingHz;
    private final double halfBandwidthHz;
    private final double[] density;
    private final double[] floor;
    private final double[] amplitude;

    private FlutterSpectrum(double[] deviation, int offset, int length, double rateHz) {
        long reduced = length / ReducedRecord.factor(rateHz);
        int parts = (int) ((reduced + LONGEST_PART - 1) / LONGEST_PART);
        ReducedRecord record = ReducedRecord.of(deviation, offset, length / parts, rateHz);
        Multitaper taken = new Multitaper(record.samples().length, record.rateHz(), TIME_HALF_BANDWIDTH, TAPERS);
        taken.add(record.samples());
        List<LineFit> made = new ArrayList<>(List.of(new LineFit(record, record.middleSeconds())));
        for (int part = 1; part < parts; part++) {
            int from = (int) ((long) part * length / parts);
            record = ReducedRecord.of(deviation, offset + from, length / parts, rateHz);
            taken.add(record.samples());
            made.add(new LineFit(record, record.middleSeconds() + from / rateHz));
        }
        this.fits = List.copyOf(made);
        this.spacingHz = taken.spacingHz();
        this.halfBandwidthHz = taken.halfBandwidthHz();
        LineFit one = fits.get(0);
        this.first = (int) Math.ceil(one.lowestHz() / spacingHz);
        int last = (int) Math.floor(one.highestHz() / spacingHz);
        this.density = Arrays.copyOfRange(taken.density(), first, last + 1);
        this.amplitude = Arrays.copyOfRange(taken.amplitude(), first, last + 1);
        this.floor = new double[density.length];
        for (int i = 0; i < floor.length; i++) {
            for (LineFit fit : fits) {
                floor[i] += PERCENT_SQUARED * fit.noiseDensityPerHz(frequencyHz(i)) / fits.size();
            }
            density[i] *= PERCENT_SQUARED;
            amplitude[i] *= 100;
        }
    }

    /**
     * The spectrum of a series.
     *
     * @param deviation relative speed deviation, ratios
     * @param rateHz samples per second, 20 Hz to 100 kHz
     * @return the spectrum
     */
    public static FlutterSpectrum of(double[] deviation, double rateHz) {
        return of(deviation, 0, deviation.length, rateHz);
    }

    /**
     * The spectrum of part of a series.
     *
     * @param deviation relative speed deviation, ratios
     * @param offset first sample that counts
     * @param length samples that count: at least 1000, after decimation to 1 to 2 kHz
     * @param rateHz samples per second, 20 Hz to 100 kHz
     * @return the spectrum
     */
    public static FlutterSpectrum of(double[] deviation, int offset, int length, double rateHz) {
        LineFit.check(deviation, offset, length, rateHz);
        return new FlutterSpectrum(deviation, offset, length, rateHz);
    }

    /**
     * How many frequencies there are.
     *
     * @return the number
     */
    public int size() {
        return density.length;
    }

    /**
     * A frequency.
     *
     * @param index which one, from 0
     * @return frequency in Hz
     */
    public double frequencyHz(int index) {
        return (first + Objects.checkIndex(index, density.length)) * spacingHz;
    }

    /**
     * The index of the frequency nearest to one.
     *
     * @param frequencyHz a frequency in Hz
     * @return its index; that of the end of the band for a frequency outside it
     * @throws IllegalArgumentException if the frequency is NaN
     */
    public int indexOf(double frequencyHz) {
        if (Double.isNaN(frequencyHz)) {
            throw new IllegalArgumentException("frequencyHz " + frequencyHz + " is near no frequency");
        }
        double place = Math.rint(frequencyHz / spacingHz) - first;
        return (int) Math.max(0, Math.min(density.length - 1, place));
    }

    /**
     * Power density, one-sided, lines included.
     *
     * @param index which frequency, from 0
     * @return density in %<sup>2</sup>/Hz; its root is in % per root Hz
     */
    public double density(int index) {
        return density[index];
    }

    /**
     * Power density of the random flutter: a smooth curve, lines left out.
     *
     * @param index which frequency, from 0
     * @return density in %<sup>2</sup>/Hz
     */
    public double floor(int index) {
        return floor[index];
    }

    /**
     * Peak amplitude that a periodic component at a frequency has, or random flutter feigns.
     *
     * @param index which frequency, from 0
     * @return amplitude in %
     */
    public double amplitude(int index) {
        return amplitude[index];
    }

    /**
     * Degrees of freedom of the density: two for each window and part. Nearer to 0 Hz than the half bandwidth there are
     * half as many.
     *
     * @return the number
     */
    public int degreesOfFreedom() {
        return 2 * TAPERS * fits.size();
    }

    /**
     * An interval.
     *
     * <p>Its numbers are not checked.
     *
     * @param lower its lower end in %<sup>2</sup>/Hz
     * @param upper its upper end in %<sup>2</sup>/Hz
     */
    public record Interval(double lower, double upper) {}

    /**
     * Confidence interval of the density where the flutter is random, by the chi-square distribution.
     *
     * @param index which frequency, from 0
     * @param coverageProbability probability that it holds the truth, 0.5 to 0.9999
     * @return interval in %<sup>2</sup>/Hz
     */
    public Interval interval(int index, double coverageProbability) {
        Require.inRange("coverageProbability", coverageProbability, 0.5, 0.9999);
        int freedom = degreesOfFreedom();
        // Without a random generator, which it does not need here.
        ChiSquaredDistribution distribution = new ChiSquaredDistribution(null, freedom);
        double upper = distribution.inverseCumulativeProbability((1 + coverageProbability) / 2);
        double lower = distribution.inverseCumulativeProbability((1 - coverageProbability) / 2);
        return new Interval(density[index] * freedom / upper, density[index] * freedom / lower);
    }

    /**
     * Half the bandwidth of the density: to so far a line spreads to either side.
     *
     * @return half bandwidth in Hz
     */
    public double halfBandwidthHz() {
        return halfBandwidthHz;
    }

    /**
     * The lines, part by part.
     *
     * @return one fit for a series of up to 131 072 samples, else one for each part in turn
     */
    public List<LineFit> fits() {
        return fits;
    }
}
