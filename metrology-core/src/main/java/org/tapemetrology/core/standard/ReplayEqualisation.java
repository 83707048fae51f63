/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import java.util.OptionalDouble;
import org.tapemetrology.core.internal.Require;

/**
 * A replay equalisation: the flux level over frequency, in dB, that a recording must have so that the replay chain gives
 * a flat response.
 *
 * <p>{@code L(f) = 10 lg(1 + 1/(2 pi f t1)^2) - 10 lg(1 + (2 pi f t2)^2)}; without t1 the first term is 0 (IEC
 * 60094-1:1981, clause 15). A frequency outside (0, infinity) is refused, so no result is NaN. Immutable.
 *
 * @param bassMicroseconds time constant t1 of the bass term in us, empty where the curve has none
 * @param trebleMicroseconds time constant t2 of the treble term in us
 */
public record ReplayEqualisation(OptionalDouble bassMicroseconds, double trebleMicroseconds) {

    /**
     * A curve, checked.
     *
     * @param bassMicroseconds t1 in us, above 0 where there is one
     * @param trebleMicroseconds t2 in us, above 0
     * @throws IllegalArgumentException if a time constant is not finite and above 0
     */
    public ReplayEqualisation {
        if (bassMicroseconds.isPresent()) {
            Require.positive("bassMicroseconds", bassMicroseconds.getAsDouble());
        }
        Require.positive("trebleMicroseconds", trebleMicroseconds);
    }

    /**
     * A curve with a bass and a treble term.
     *
     * @param bassMicroseconds t1 in us
     * @param trebleMicroseconds t2 in us
     * @return the curve
     */
    public static ReplayEqualisation of(double bassMicroseconds, double trebleMicroseconds) {
        return new ReplayEqualisation(OptionalDouble.of(bassMicroseconds), trebleMicroseconds);
    }

    /**
     * A curve without a bass term.
     *
     * @param trebleMicroseconds t2 in us
     * @return the curve
     */
    public static ReplayEqualisation trebleOnly(double trebleMicroseconds) {
        return new ReplayEqualisation(OptionalDouble.empty(), trebleMicroseconds);
    }

    /**
     * Flux level.
     *
     * @param frequencyHz frequency in Hz
     * @return L(f) in dB
     */
    public double fluxLevelDb(double frequencyHz) {
        Require.positive("frequencyHz", frequencyHz);
        double treble = square(radians(frequencyHz, trebleMicroseconds));
        double bass =
                bassMicroseconds.isPresent() ? 1 / square(radians(frequencyHz, bassMicroseconds.getAsDouble())) : 0;
        return 10 * (StrictMath.log10(1 + bass) - StrictMath.log10(1 + treble));
    }

    /**
     * Flux level relative to that at a reference frequency.
     *
     * @param frequencyHz frequency in Hz
     * @param referenceHz reference frequency in Hz
     * @return L(f) - L(reference) in dB
     */
    public double fluxLevelDb(double frequencyHz, double referenceHz) {
        return fluxLevelDb(frequencyHz) - fluxLevelDb(referenceHz);
    }

    /**
     * Gain that a replay amplifier needs behind an ideal head, whose voltage rises with the frequency: the inverse of
     * the flux curve times an integration of 6 dB per octave.
     *
     * @param frequencyHz frequency in Hz
     * @param referenceHz frequency in Hz at which the gain is 0 dB
     * @return gain in dB
     */
    public double replayGainDb(double frequencyHz, double referenceHz) {
        return -fluxLevelDb(frequencyHz, referenceHz) - 20 * StrictMath.log10(frequencyHz / referenceHz);
    }

    /**
     * What a recording made to this curve reads when it is replayed by another: the recording's flux level less the
     * level that the replay chain expects.
     *
     * @param replay the curve that the replay chain is set to
     * @param frequencyHz frequency in Hz
     * @return level in dB, 0 where both curves agree
     */
    public double replayedByDb(ReplayEqualisation replay, double frequencyHz) {
        return fluxLevelDb(frequencyHz) - replay.fluxLevelDb(frequencyHz);
    }

    /**
     * As {@link #replayedByDb(ReplayEqualisation, double)}, relative to a reference frequency.
     *
     * @param replay the curve that the replay chain is set to
     * @param frequencyHz frequency in Hz
     * @param referenceHz frequency in Hz at which the result is 0 dB
     * @return level in dB
     */
    public double replayedByDb(ReplayEqualisation replay, double frequencyHz, double referenceHz) {
        return replayedByDb(replay, frequencyHz) - replayedByDb(replay, referenceHz);
    }

    /**
     * Corner frequency of a time constant, {@code 1/(2 pi t)}.
     *
     * @param microseconds time constant in us
     * @return frequency in Hz
     */
    public static double cornerHz(double microseconds) {
        return 1e6 / (2 * StrictMath.PI * Require.positive("microseconds", microseconds));
    }

    private static double radians(double frequencyHz, double microseconds) {
        return 2 * StrictMath.PI * frequencyHz * microseconds * 1e-6;
    }

    private static double square(double x) {
        return x * x;
    }
}
