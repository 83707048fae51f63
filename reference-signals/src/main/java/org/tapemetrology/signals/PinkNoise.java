/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import org.tapemetrology.signals.internal.Require;

/**
 * Noise whose power falls by about 3 dB per octave: the sum of sixteen white noises of equal power, each held twice as
 * long as the one before. The spectrum ripples by about 1 dB about the straight line from 1/1000
 * to 1/8 of the sample rate. Any part can be made on its own; it must be sampled at its own rate.
 *
 * <p>The same seed gives the same noise.
 *
 * @param seed start of the random numbers; signals of different seeds are independent
 * @param rms RMS value over a long time; full scale is 1
 * @param sampleRateHz rate in Hz at which the fastest part changes
 */
public record PinkNoise(long seed, double rms, double sampleRateHz) implements ExactSignal {
    private static final int ROWS = 16;

    /**
     * Checks the values.
     *
     * @param seed any
     * @param rms finite and not below 0
     * @param sampleRateHz finite and above 0
     * @throws IllegalArgumentException if the RMS value is not finite or below 0, or the rate is not finite and above
     *     0
     */
    public PinkNoise {
        Require.notNegative("RMS value of the noise", rms);
        Require.positive("sample rate of the noise in Hz", sampleRateHz);
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        long index = WhiteNoise.index(sampleRateHz, wholeSeconds, fraction);
        CounterRandom random = CounterRandom.of(seed);
        double sum = 0;
        for (int row = 0; row < ROWS; row++) {
            // Half a holding time of shift keeps the rows from all changing at once.
            sum += random.stream(row).gaussian((index + ((1L << row) >> 1)) >> row);
        }
        return rms / Math.sqrt(ROWS) * sum;
    }
}
