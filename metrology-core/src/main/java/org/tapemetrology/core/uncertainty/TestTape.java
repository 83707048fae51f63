/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

/**
 * How well a test tape is known. Immutable.
 *
 * @param name what it is called
 * @param frequency frequency of its tone re the nominal one, in %
 * @param slowSpeed slow variation of the speed that it was recorded at, in %
 * @param ownFlutter its own weighted flutter, RMS, in %; a known value is subtracted from the weighted RMS figure
 * @param level level of its tone re the nominal one, in dB
 * @param levelFluctuation 95 % range of its own level, in dB
 * @param balance level of track 2 re track 1, in dB
 * @param response level of its response section at any frequency re the nominal one, in dB
 * @param delay delay of track 2 re track 1 by its own azimuth, in us
 */
public record TestTape(
        String name,
        StatedValue frequency,
        StatedValue slowSpeed,
        StatedValue ownFlutter,
        StatedValue level,
        StatedValue levelFluctuation,
        StatedValue balance,
        StatedValue response,
        StatedValue delay) {
    private static final String PRACTICE = "assumed, common practice, no source";

    /**
     * A tape without a certificate: what is usual of one that was bought as a test tape. The azimuth is that of good reference
     * recordings, 1 arc minute, on the tracks of a cassette.
     *
     * @return assumed values for everything
     */
    public static TestTape assumed() {
        return new TestTape(
                "test tape",
                StatedValue.within(0.2, PRACTICE).asAssumed(),
                StatedValue.atMost(0.02, PRACTICE).asAssumed(),
                StatedValue.atMost(0.03, PRACTICE).asAssumed(),
                StatedValue.within(0.3, PRACTICE).asAssumed(),
                StatedValue.atMost(0.5, PRACTICE).asAssumed(),
                StatedValue.within(0.2, PRACTICE).asAssumed(),
                StatedValue.within(1, PRACTICE).asAssumed(),
                StatedValue.within(5, PRACTICE).asAssumed());
    }

    /**
     * No test tape: a recording that the machine made itself, of tones whose errors are those of the converter alone.
     *
     * @return a tape without errors
     */
    public static TestTape none() {
        StatedValue nothing = StatedValue.within(0, "the machine's own recording");
        return new TestTape("own recording", nothing, nothing, nothing, nothing, nothing, nothing, nothing, nothing);
    }
}
