/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import java.util.Arrays;
import org.tapemetrology.core.filter.FirDecimator;
import org.tapemetrology.core.filter.FirDesign;

/**
 * A record at the rate that the band needs: from 2 kHz up it is decimated to 1 to 1.5 kHz, whereby half the length of the
 * filter is lost at either end.
 */
final class ReducedRecord {
    static final int SHORTEST = 1000;
    /** The fit of lines holds several transforms of the record in memory. */
    static final int LONGEST = 1 << 18;

    private static final double ATTENUATION_DB = 90;

    private final double[] samples;
    private final double rateHz;
    private final double middleSeconds;

    private ReducedRecord(double[] samples, double rateHz, double middleSeconds) {
        this.samples = samples;
        this.rateHz = rateHz;
        this.middleSeconds = middleSeconds;
    }

    /** The samples, not to be written to. */
    double[] samples() {
        return samples;
    }

    double rateHz() {
        return rateHz;
    }

    /** Their middle, in seconds from the first sample of the record before. */
    double middleSeconds() {
        return middleSeconds;
    }

    static int factor(double rateHz) {
        return Math.max(1, (int) (rateHz / 1000));
    }

    static ReducedRecord of(double[] series, int offset, int length, double rateHz) {
        int factor = factor(rateHz);
        double[] samples;
        double start = 0;
        if (factor == 1) {
            samples = Arrays.copyOfRange(series, offset, offset + length);
        } else {
            double stopHz = rateHz / factor - LineFit.HIGHEST_HZ;
            double[] taps = FirDesign.lowPass(LineFit.HIGHEST_HZ, stopHz, ATTENUATION_DB, rateHz);
            double[] out = new double[length / factor + 1];
            int count = new FirDecimator(taps, factor).process(series, offset, length, out, 0);
            samples = Arrays.copyOf(out, count);
            int delay = taps.length / 2;
            start = delay / rateHz;
        }
        if (samples.length < SHORTEST || samples.length > LONGEST) {
            throw new IllegalArgumentException("length " + length + " at " + rateHz + " Hz leaves " + samples.length
                    + " samples at " + rateHz / factor + " Hz, not " + SHORTEST + " to " + LONGEST);
        }
        return new ReducedRecord(samples, rateHz / factor, start + (samples.length - 1) / 2.0 * factor / rateHz);
    }
}
