/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import org.tapemetrology.signals.internal.Require;

/**
 * White Gaussian noise, such as hiss. Each sample is a function of seed and sample number, so any part can be made on
 * its own. Between the samples the nearest one holds: to be white it must be sampled at its own rate.
 *
 * <p>The same seed gives the same noise.
 *
 * @param seed start of the random numbers; signals of different seeds are independent
 * @param rms RMS value, which is the standard deviation; full scale is 1
 * @param sampleRateHz rate in Hz at which the samples are independent
 */
public record WhiteNoise(long seed, double rms, double sampleRateHz) implements ExactSignal {
    /**
     * Checks the values.
     *
     * @param seed any
     * @param rms finite and not below 0
     * @param sampleRateHz finite and above 0
     * @throws IllegalArgumentException if the RMS value is not finite or below 0, or the rate is not finite and above
     *     0
     */
    public WhiteNoise {
        Require.notNegative("RMS value of the noise", rms);
        Require.positive("sample rate of the noise in Hz", sampleRateHz);
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        return rms * CounterRandom.of(seed).gaussian(index(sampleRateHz, wholeSeconds, fraction));
    }

    static long index(double sampleRateHz, long wholeSeconds, double fraction) {
        return Math.round(wholeSeconds * sampleRateHz + fraction * sampleRateHz);
    }
}
