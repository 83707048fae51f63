/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import org.tapemetrology.core.filter.Butterworth;
import org.tapemetrology.core.filter.SecondOrderSections;

/**
 * IEC 61260-1:2014, octave-band and fractional-octave-band filters: one-third-octave bands of base ten, class 1.
 *
 * <p>Bands are numbered by n, with the exact mid-band frequency {@code 1000 * 10^(n/10)} Hz: n = 0 is 1 kHz, n = -16 is
 * 25 Hz, n = 13 is 20 kHz. The nominal labels are those of ISO 266.
 *
 * <p>Mid-band frequencies and limits are second-hand. A sampling rate that is NaN or too low for a band is refused.
 * Not for bands of whole octaves or of base two.
 */
public final class Iec61260Edition2014 {
    /** Number of the 25 Hz band. */
    public static final int LOWEST_BAND = -16;

    /** Number of the 20 kHz band. */
    public static final int HIGHEST_BAND = 13;

    /** Octave frequency ratio G of base ten (second-hand). */
    public static final double OCTAVE_RATIO = StrictMath.pow(10, 0.3);

    /**
     * Highest band edge over the sampling rate at which {@link #bandFilter} still meets class 1: the bilinear transform
     * flattens the lower skirt towards half the sampling rate (computed: class 1 holds to 0.48).
     */
    public static final double HIGHEST_EDGE_RATIO = 0.47;

    /** Order of the low-pass prototype: third order meets class 1 up to 0.22 of the rate only, fourth up to 0.48. */
    private static final int ORDER = 4;

    /** Half a band, as a factor on the mid-band frequency: {@code G^(1/6)}. */
    private static final double HALF_BAND = StrictMath.pow(10, 0.05);

    private Iec61260Edition2014() {}

    /**
     * Exact mid-band frequency.
     *
     * @param band number of the band
     * @return frequency in Hz
     */
    public static double midBandHz(int band) {
        return 1000 * StrictMath.pow(10, band / 10.0);
    }

    /**
     * Lower band-edge frequency, {@code fm G^(-1/6)}.
     *
     * @param band number of the band
     * @return frequency in Hz
     */
    public static double lowerEdgeHz(int band) {
        return midBandHz(band) / HALF_BAND;
    }

    /**
     * Upper band-edge frequency, {@code fm G^(1/6)}.
     *
     * @param band number of the band
     * @return frequency in Hz
     */
    public static double upperEdgeHz(int band) {
        return midBandHz(band) * HALF_BAND;
    }

    /**
     * A filter for a band: Butterworth, -3.01 dB at both band edges.
     *
     * @param band number of the band
     * @param sampleRateHz sampling rate in Hz, such that the upper edge is at most {@link #HIGHEST_EDGE_RATIO} of it
     * @return a filter at rest
     */
    public static SecondOrderSections bandFilter(int band, double sampleRateHz) {
        if (!(upperEdgeHz(band) <= HIGHEST_EDGE_RATIO * sampleRateHz)) {
            throw new IllegalArgumentException("band " + band + " ends at " + upperEdgeHz(band) + " Hz, above "
                    + HIGHEST_EDGE_RATIO + " of the sampling rate " + sampleRateHz + " Hz");
        }
        return Butterworth.bandPass(ORDER, lowerEdgeHz(band), upperEdgeHz(band), sampleRateHz);
    }
}
