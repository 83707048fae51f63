/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import org.tapemetrology.core.internal.Require;

/**
 * How well the analogue-to-digital converter is known. Immutable.
 *
 * @param name what it is called
 * @param clock its sampling rate re the nominal one, in ppm
 * @param clockStability how much that varies during a recording, in ppm
 * @param ownFlutter weighted flutter, RMS, that its clock adds, in %; a known value is subtracted from the weighted RMS figure
 * @param gain its gain in dB: between recordings, over frequency and level
 * @param fullScale the voltage of its full scale re the stated one, in dB
 * @param balance gain of channel 2 re channel 1, in dB
 * @param delay delay of channel 2 re channel 1, in us
 * @param distortion harmonic distortion that it adds, in %
 * @param noiseDbfs its own noise, unweighted, in dBFS
 * @param crosstalkDb crosstalk from one channel into the other, in dB below it
 */
public record Converter(
        String name,
        StatedValue clock,
        StatedValue clockStability,
        StatedValue ownFlutter,
        StatedValue gain,
        StatedValue fullScale,
        StatedValue balance,
        StatedValue delay,
        StatedValue distortion,
        double noiseDbfs,
        double crosstalkDb) {
    private static final String PRACTICE = "assumed, common practice, no source";

    /**
     * A converter, checked.
     *
     * @param name what it is called
     * @param clock its sampling rate re the nominal one
     * @param clockStability how much that varies
     * @param ownFlutter flutter that its clock adds
     * @param gain its gain
     * @param fullScale the voltage of its full scale
     * @param balance gain of channel 2 re channel 1
     * @param delay delay of channel 2 re channel 1
     * @param distortion distortion that it adds
     * @param noiseDbfs its own noise
     * @param crosstalkDb crosstalk between the channels
     * @throws IllegalArgumentException if noise or crosstalk is not finite
     */
    public Converter {
        Require.finite("noiseDbfs", noiseDbfs);
        Require.finite("crosstalkDb", crosstalkDb);
    }

    /**
     * A converter that nobody has checked.
     *
     * @return assumed values for everything
     */
    public static Converter assumed() {
        return new Converter(
                "converter",
                StatedValue.within(100, PRACTICE).asAssumed(),
                StatedValue.within(2, PRACTICE).asAssumed(),
                StatedValue.atMost(0.001, PRACTICE).asAssumed(),
                StatedValue.within(0.1, PRACTICE).asAssumed(),
                StatedValue.within(0.2, PRACTICE).asAssumed(),
                StatedValue.within(0.1, PRACTICE).asAssumed(),
                StatedValue.within(0.5, PRACTICE).asAssumed(),
                StatedValue.atMost(0.01, PRACTICE).asAssumed(),
                -96,
                80);
    }
}
