/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import java.util.Objects;
import java.util.Optional;
import org.tapemetrology.core.internal.Require;

/**
 * Takes the deviation of a tone as it comes and keeps the mean spectrum of its scrape band, from 200 Hz up: multitaper
 * densities of consecutive records of one second. Memory does not grow, results do not depend on the blocks.
 * Thread-confined.
 *
 * <p>Deviations are in Hz, the spectrum in %<sup>2</sup>/Hz. A value that is not finite makes the spectrum so. The
 * method is this library's own: no standard has one for scrape flutter.
 *
 * <p>Settling and cost: the first whole second, and seven transforms a second.
 *
 * <p>Not for what lies below 200 Hz: {@link FlutterSpectrum}.
 */
public final class ScrapeMeter {
    /** Lower end of the scrape band in Hz. */
    public static final double LOWEST_HZ = 200;

    private static final double RECORD_SECONDS = 1;
    private static final double TIME_HALF_BANDWIDTH = 4;
    private static final int TAPERS = 7;

    private final double highestHz;
    private final Multitaper taken;
    private final double[] record;
    private int filled;
    private int records;

    /**
     * A meter that has taken nothing.
     *
     * @param rateHz values a second
     * @param highestHz upper end of the band in Hz, at most 0.47 of the rate
     */
    public ScrapeMeter(double rateHz, double highestHz) {
        this.highestHz = Require.inRange("highestHz", highestHz, 2 * LOWEST_HZ, 0.47 * rateHz);
        this.record = new double[(int) Math.round(RECORD_SECONDS * rateHz)];
        this.taken = new Multitaper(record.length, rateHz, TIME_HALF_BANDWIDTH, TAPERS);
    }

    /**
     * Takes values.
     *
     * @param deviationHz deviations in Hz
     * @param offset first of them
     * @param length number of them
     */
    public void accept(double[] deviationHz, int offset, int length) {
        Objects.checkFromIndexSize(offset, length, deviationHz.length);
        for (int done = 0; done < length; ) {
            int part = Math.min(length - done, record.length - filled);
            System.arraycopy(deviationHz, offset + done, record, filled, part);
            done += part;
            filled += part;
            if (filled == record.length) {
                filled = 0;
                taken.add(record);
                records++;
            }
        }
    }

    /** The values that come next do not follow those taken last: a record that has begun is not finished. */
    public void gap() {
        filled = 0;
    }

    /**
     * The spectrum so far.
     *
     * @param meanHz mean frequency of the tone in Hz, which the deviations are taken relative to
     * @return the spectrum, empty before the first whole record
     */
    public Optional<ScrapeSpectrum> spectrum(double meanHz) {
        if (records == 0) {
            return Optional.empty();
        }
        double[] density = taken.density();
        int first = (int) Math.ceil(LOWEST_HZ / taken.spacingHz());
        int last = (int) Math.min(density.length - 1.0, Math.floor(highestHz / taken.spacingHz()));
        double[] percent = new double[last - first + 1];
        double toPercent = 100 / Require.positive("meanHz", meanHz);
        for (int i = 0; i < percent.length; i++) {
            percent[i] = density[first + i] * toPercent * toPercent;
        }
        return Optional.of(
                new ScrapeSpectrum(first, taken.spacingHz(), taken.halfBandwidthHz(), 2.0 * TAPERS * records, percent));
    }
}
