/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import java.util.List;
import java.util.Objects;
import org.tapemetrology.core.internal.Require;

/**
 * Periodic components of a record of the relative speed deviation, with the random flutter that they stand in.
 *
 * <p>A peak of the periodogram counts as a line if random flutter of the density around it would make such a peak anywhere
 * in the band in fewer than one record out of 200. Frequencies, amplitudes and phases of all lines are fitted by
 * least squares weighted with that density, neighbours jointly; lines from about 1/(length of the record) apart are told
 * from each other, and nearer ones where the fit has them five times the sum of their standard uncertainties apart. Of others there is one line,
 * the steady one that is most like their sum. If it leaves more than the random flutter, what it leaves is part of the uncertainty
 * of amplitude and phase, and that of the frequency is 1/(length of the record) to either side. A slow drift of the speed is taken out as a cubic.
 *
 * <p>A line whose frequency drifts evenly, as that of a hub on which the pack grows, is fitted with its drift if it stands
 * 20 dB above the noise and the drift shows, up to 24/(length of the record) in all. One whose frequency wavers at random
 * over the record by more than some tenths of a radian has further lines beside it: its sidebands.
 *
 * <p>The band reaches from 0.05 Hz, at least three periods in the record, to 470 Hz, at most 0.47 of the rate. Immutable.
 *
 * <p>The deviation is a ratio, frequencies are in Hz; the limits are this project's own, found by trial. Cost: n log
 * n for n samples, and some passes over the record for each line. A deviation that is not finite is refused.
 *
 * <p>Not for what comes once, such as a splice: that has no frequency.
 */
public final class LineFit {
    /** False alarms per record that are allowed at most. */
    public static final double FALSE_ALARM_RATE = 0.005;

    static final double LOWEST_HZ = 0.05;
    static final double HIGHEST_HZ = 470;
    /** Periods of the lowest frequency: the cubic takes the first two. */
    private static final double LEAST_PERIODS = 3;

    private final double middleSeconds;
    private final double seconds;
    private final double lowestHz;
    private final double highestHz;
    private final List<Line> lines;
    private final NoiseFloor floor;

    LineFit(ReducedRecord record, double middleSeconds) {
        double rateHz = record.rateHz();
        this.middleSeconds = middleSeconds;
        this.seconds = record.samples().length / rateHz;
        this.lowestHz = Math.max(LOWEST_HZ, LEAST_PERIODS / seconds);
        this.highestHz = highestHz(rateHz);
        LineSearch search = new LineSearch(record.samples(), rateHz, lowestHz, highestHz, FALSE_ALARM_RATE);
        this.lines = search.lines();
        this.floor = search.floor();
    }

    static double highestHz(double rateHz) {
        return Math.min(HIGHEST_HZ, 0.47 * rateHz);
    }

    /**
     * Fits the lines of a record.
     *
     * @param deviation relative speed deviation, ratios
     * @param rateHz samples per second, 20 Hz to 100 kHz
     * @return the fit
     */
    public static LineFit of(double[] deviation, double rateHz) {
        return of(deviation, 0, deviation.length, rateHz);
    }

    /**
     * Fits the lines of part of a series.
     *
     * @param deviation relative speed deviation, ratios
     * @param offset first sample of the record
     * @param length samples of the record: at least 1000, and at most 262144 after decimation to 1 to 2 kHz
     * @param rateHz samples per second, 20 Hz to 100 kHz
     * @return the fit
     */
    public static LineFit of(double[] deviation, int offset, int length, double rateHz) {
        check(deviation, offset, length, rateHz);
        ReducedRecord record = ReducedRecord.of(deviation, offset, length, rateHz);
        return new LineFit(record, record.middleSeconds());
    }

    static void check(double[] deviation, int offset, int length, double rateHz) {
        Objects.checkFromIndexSize(offset, length, deviation.length);
        Require.inRange("rateHz", rateHz, 20, 100_000);
        if (length < ReducedRecord.SHORTEST) {
            throw new IllegalArgumentException("length " + length + " is below " + ReducedRecord.SHORTEST + " samples");
        }
        for (int i = offset; i < offset + length; i++) {
            if (!Double.isFinite(deviation[i])) {
                throw new IllegalArgumentException("deviation[" + i + "] is " + deviation[i] + ", not a finite number");
            }
        }
    }

    /**
     * The lines.
     *
     * @return lines by rising frequency
     */
    public List<Line> lines() {
        return lines;
    }

    /**
     * The lines that are harmonics of one another.
     *
     * @return families by rising fundamental
     */
    public List<HarmonicFamily> families() {
        return HarmonicFamily.among(lines);
    }

    /**
     * One-sided power density of the random flutter, that is of what the lines leave: a smooth curve.
     *
     * @param frequencyHz frequency in Hz, within the band
     * @return density in 1/Hz
     */
    public double noiseDensityPerHz(double frequencyHz) {
        return floor.density(Require.inRange("frequencyHz", frequencyHz, lowestHz, highestHz));
    }

    /**
     * Lower end of the band.
     *
     * @return frequency in Hz
     */
    public double lowestHz() {
        return lowestHz;
    }

    /**
     * Upper end of the band.
     *
     * @return frequency in Hz
     */
    public double highestHz() {
        return highestHz;
    }

    /**
     * Length of the record as it was fitted.
     *
     * @return seconds
     */
    public double seconds() {
        return seconds;
    }

    /**
     * Middle of the record, to which phases refer.
     *
     * @return seconds from the first sample of the record; for a part of a {@link FlutterSpectrum} from the first sample
     *     of the whole series
     */
    public double middleSeconds() {
        return middleSeconds;
    }
}
