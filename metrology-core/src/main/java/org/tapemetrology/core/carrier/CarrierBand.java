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
 * <p>Made by {@link #of}, which refuses a tone that does not fit; its numbers themselves are not checked. The shares
 * and bounds are this project's own.
 *
 * @param sampleRateHz sampling rate of the recording in Hz
 * @param toneHz frequency in Hz that the demodulator is tuned to
 * @param passHz what it passes on each side of the tone, in Hz
 * @param stopHz from where on each side it stops, in Hz
 * @param firstFactor factor by which the first stage lowers the rate
 * @param secondFactor factor by which the second stage lowers the rate; 1 means that there is no second stage
 */
public record CarrierBand(
        double sampleRateHz, double toneHz, double passHz, double stopHz, int firstFactor, int secondFactor) {

    /** Attenuation of everything beyond the stop edge, and ripple within the pass band, in dB. */
    static final double ATTENUATION_DB = 105;

    private static final double SHORTEST_WINDOW_SECONDS = 0.005;
    private static final double PASS_SHARE = 0.48;
    private static final double STOP_SHARE = 0.80;
    /**
     * The same for tones whose pass edge stands at its bound: mains hum is far from them, a tone may still wander by 6 %,
     * and the wider transition takes a sixth fewer taps.
     */
    private static final double BOUND_STOP_SHARE = 0.88;

    /** Room for deviation rates up to 1 kHz (scrape flutter on 3 kHz) on a tone that wanders by 5 %. */
    private static final double NARROW_PASS_HZ = 1200;

    /** What folds at the rate of 4 kHz stays above the pass edge. */
    private static final double NARROW_STOP_HZ = 2800;

    private static final double NARROW_RATE_HZ = 4000;
    /** Tones from here on get room for deviation rates up to 5 kHz (scrape flutter on 12.5 kHz). */
    private static final double WIDE_FROM_HZ = 10_000;

    /** Up to this share of the halved rate a half-band filter of 20 taps beside the middle does. */
    private static final double HALVED_SHARE = 0.30;

    private static final double WIDE_PASS_HZ = 5300;
    private static final double WIDE_STOP_HZ = 9900;
    private static final double WIDE_RATE_HZ = 16_000;
    /** Where the edges are nearer to each other, two stages take fewer taps than one. */
    private static final double ONE_STAGE_FROM_HZ = 800;
    /**
     * Lowest tone that is found by itself, and how far below half the sampling rate the highest stays, in Hz. Lower ones
     * are looked for where they are expected alone: a recording without a tone has its mains hum there.
     */
    public static final double LOWEST_FOUND_HZ = 150;
    /** Lowest tone that is followed, in Hz: one of 20 Hz on a machine that runs 15 % slow. */
    public static final double LOWEST_TONE_HZ = 17;
    /** Tones below {@link #LOWEST_FOUND_HZ} leave so narrow a band that this is enough. */
    private static final double LOW_RATE_HZ = 1000;

    /**
     * The band for a tone.
     *
     * @param sampleRateHz sampling rate in Hz
     * @param toneHz frequency of the tone in Hz, from {@link #LOWEST_TONE_HZ} to {@link #LOWEST_FOUND_HZ} / 2 below half the rate
     * @return the band
     */
    public static CarrierBand of(double sampleRateHz, double toneHz) {
        double room = Math.min(toneHz, sampleRateHz - 2 * toneHz);
        if (!(toneHz >= LOWEST_TONE_HZ && sampleRateHz - 2 * toneHz >= LOWEST_FOUND_HZ)) {
            throw new IllegalArgumentException("toneHz " + toneHz + " is not in " + LOWEST_TONE_HZ + " to "
                    + (sampleRateHz - LOWEST_FOUND_HZ) / 2 + " at a sampling rate of " + sampleRateHz + " Hz");
        }
        boolean wide = toneHz >= WIDE_FROM_HZ;
        double bound = wide ? WIDE_PASS_HZ : NARROW_PASS_HZ;
        double pass = Math.min(PASS_SHARE * room, bound);
        double share = pass < bound ? STOP_SHARE : BOUND_STOP_SHARE;
        double stop = Math.min(share * room, wide ? WIDE_STOP_HZ : NARROW_STOP_HZ);
        // The last stage needs twice the stop edge at its input; half of that rate is enough behind it.
        if (wide) {
            return new CarrierBand(sampleRateHz, toneHz, pass, stop, factor(sampleRateHz, WIDE_RATE_HZ), 1);
        }
        double rateHz = toneHz < LOWEST_FOUND_HZ ? LOW_RATE_HZ : NARROW_RATE_HZ;
        int half = factor(sampleRateHz, 2 * rateHz);
        boolean oneStage = stop - pass >= ONE_STAGE_FROM_HZ;
        return new CarrierBand(sampleRateHz, toneHz, pass, stop, oneStage ? 2 * half : half, oneStage ? 1 : 2);
    }

    private static int factor(double sampleRateHz, double leastRateHz) {
        return (int) Math.max(1, Math.floor(sampleRateHz / leastRateHz));
    }

    /**
     * How often the rate is halved before the tone is cut out: as long as a short half-band filter keeps out of the
     * tone's surroundings, up to the stop edge, what would fold into them.
     *
     * @return number of halvings
     */
    int halvings() {
        int count = 0;
        while (firstFactor % (2 << count) == 0 && toneHz + stopHz <= HALVED_SHARE * halvedRateHz(count + 1)) {
            count++;
        }
        return count;
    }

    /** Rate after so many halvings. */
    double halvedRateHz(int halvings) {
        return sampleRateHz / (1 << halvings);
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
     * Time over which the tone is judged. In the narrow band of a low tone noise looks like a tone for a moment: two
     * periods of the band's edge show that it is none.
     *
     * @return time in s, at least 5 ms
     */
    public double windowSeconds() {
        return Math.max(SHORTEST_WINDOW_SECONDS, toneHz < LOWEST_FOUND_HZ ? 2 / passHz : 0);
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
