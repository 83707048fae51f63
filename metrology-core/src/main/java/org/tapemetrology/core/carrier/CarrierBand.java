/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

/**
 * How a tone is cut out of a recording: what the demodulator passes and stops on each side of the tone, and by which
 * factors it lowers the rate.
 *
 * <p>The nearest thing that must be kept out is the second harmonic or zero frequency, one tone frequency away, or the
 * mirror image of the tone at half the sampling rate. Pass and stop edge are fixed shares of that distance, with upper
 * bounds where the distance would allow more than the figures need.
 *
 * @param sampleRateHz sampling rate of the recording in Hz
 * @param toneHz frequency that the demodulator is tuned to
 * @param passHz what it passes on each side of the tone
 * @param stopHz from where on each side it stops
 * @param firstFactor factor by which the first stage lowers the rate
 * @param secondFactor factor by which the second stage lowers the rate; 1 means that there is no second stage
 */
public record CarrierBand(
        double sampleRateHz, double toneHz, double passHz, double stopHz, int firstFactor, int secondFactor) {

    /** Attenuation of everything beyond the stop edge, and ripple within the pass band, in dB. */
    static final double ATTENUATION_DB = 105;

    private static final double PASS_SHARE = 0.48;
    private static final double STOP_SHARE = 0.80;
    /** Room for deviation rates up to 1 kHz (scrape flutter on 3 kHz) on a tone that wanders by 5 %. */
    private static final double NARROW_PASS_HZ = 1200;

    private static final double NARROW_STOP_HZ = 2500;
    private static final double NARROW_RATE_HZ = 4000;
    /** Tones from here on get room for deviation rates up to 5 kHz (scrape flutter on 12.5 kHz). */
    private static final double WIDE_FROM_HZ = 10_000;

    private static final double WIDE_PASS_HZ = 5300;
    private static final double WIDE_STOP_HZ = 9900;
    private static final double WIDE_RATE_HZ = 16_000;
    /** Below this the pass band would be too narrow for the flutter rates that matter. */
    public static final double LOWEST_TONE_HZ = 150;

    /**
     * The band for a tone.
     *
     * @param sampleRateHz sampling rate in Hz
     * @param toneHz frequency of the tone in Hz, at least {@link #LOWEST_TONE_HZ} and that far below half the rate
     * @return the band
     */
    public static CarrierBand of(double sampleRateHz, double toneHz) {
        double room = Math.min(toneHz, sampleRateHz - 2 * toneHz);
        if (!(toneHz >= LOWEST_TONE_HZ && room >= LOWEST_TONE_HZ)) {
            throw new IllegalArgumentException("toneHz " + toneHz + " is not in " + LOWEST_TONE_HZ + " to "
                    + (sampleRateHz - LOWEST_TONE_HZ) / 2 + " at a sampling rate of " + sampleRateHz + " Hz");
        }
        boolean wide = toneHz >= WIDE_FROM_HZ;
        double pass = Math.min(PASS_SHARE * room, wide ? WIDE_PASS_HZ : NARROW_PASS_HZ);
        double stop = Math.min(STOP_SHARE * room, wide ? WIDE_STOP_HZ : NARROW_STOP_HZ);
        // The last stage needs twice the stop edge at its input; half of that rate is enough behind it.
        if (wide) {
            return new CarrierBand(sampleRateHz, toneHz, pass, stop, factor(sampleRateHz, WIDE_RATE_HZ), 1);
        }
        return new CarrierBand(sampleRateHz, toneHz, pass, stop, factor(sampleRateHz, 2 * NARROW_RATE_HZ), 2);
    }

    private static int factor(double sampleRateHz, double leastRateHz) {
        return (int) Math.max(1, Math.floor(sampleRateHz / leastRateHz));
    }

    /**
     * Rate behind the first stage.
     *
     * @return rate in Hz
     */
    double firstRateHz() {
        return sampleRateHz / firstFactor;
    }

    /**
     * Rate of the demodulated deviation.
     *
     * @return rate in Hz
     */
    public double rateHz() {
        return firstRateHz() / secondFactor;
    }

    /**
     * Upper end of the rates of deviation that are passed flat, also while the tone is 2 % away from where the
     * demodulator was tuned.
     *
     * @return rate of deviation in Hz
     */
    public double flatDeviationHz() {
        return passHz - 0.02 * toneHz;
    }
}
