/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.internal.Require;

/**
 * How well a companding noise reduction gives back what went in: at each frequency and level the reading with it less the
 * reading without it. A level error between encoder and decoder shows as an error that depends on frequency and level. Immutable.
 *
 * <p>The error is {@code L_with - L_without} in dB (common practice, no source). Cost: of the order of the product of
 * both numbers of tones. A level that is not finite is refused.
 *
 * <p>Not for one half of the system alone, nor for the noise that it takes away: only what comes back through both
 * halves is compared.
 */
public final class CompandingTracking {
    /** Two frequencies nearer than this are the same. */
    private static final double SAME_FREQUENCY = 0.02;

    private static final double SAME_LEVEL_DB = 0.5;

    private final List<Deviation> errors;

    /**
     * A level that was replayed.
     *
     * @param frequencyHz frequency of the tone in Hz, above 0
     * @param sentDb level at which it was sent, in dB re the reference level
     * @param replayedDb level at which it came back, in dB re the same
     */
    public record Level(double frequencyHz, double sentDb, double replayedDb) {

        /**
         * A level, checked.
         *
         * @param frequencyHz frequency
         * @param sentDb level sent
         * @param replayedDb level replayed
         * @throws IllegalArgumentException if the frequency is not finite and above 0 or a level is not finite
         */
        public Level {
            Require.positive("frequencyHz", frequencyHz);
            if (!Double.isFinite(sentDb) || !Double.isFinite(replayedDb)) {
                throw new IllegalArgumentException("levels " + sentDb + ", " + replayedDb + " are not finite");
            }
        }
    }

    /**
     * A tracking error.
     *
     * <p>Made by {@link CompandingTracking#of}; its numbers are not checked.
     *
     * @param frequencyHz frequency in Hz
     * @param sentDb level at which the tone was sent, in dB re the reference level
     * @param errorDb what the noise reduction adds, in dB
     */
    public record Deviation(double frequencyHz, double sentDb, double errorDb) {}

    private CompandingTracking(List<Deviation> errors) {
        this.errors = List.copyOf(errors);
    }

    /**
     * Compares two recordings of the same tones.
     *
     * @param without levels without the noise reduction
     * @param with levels with it
     * @return the errors where both have the tone
     */
    public static CompandingTracking of(List<Level> without, List<Level> with) {
        List<Deviation> errors = new ArrayList<>();
        for (Level one : with) {
            Optional<Level> other = without.stream()
                    .filter(o -> Math.abs(o.frequencyHz() / one.frequencyHz() - 1) < SAME_FREQUENCY
                            && Math.abs(o.sentDb() - one.sentDb()) < SAME_LEVEL_DB)
                    .findFirst();
            other.ifPresent(
                    o -> errors.add(new Deviation(one.frequencyHz(), one.sentDb(), one.replayedDb() - o.replayedDb())));
        }
        if (errors.isEmpty()) {
            throw new IllegalArgumentException("the recordings with and without noise reduction share no tone");
        }
        return new CompandingTracking(errors);
    }

    /**
     * Every error.
     *
     * @return the errors in the order of the recording with noise reduction
     */
    public List<Deviation> errors() {
        return errors;
    }

    /**
     * The largest error of either sign.
     *
     * @return that error
     */
    public Deviation largest() {
        return errors.stream()
                .max((a, b) -> Double.compare(Math.abs(a.errorDb()), Math.abs(b.errorDb())))
                .orElseThrow();
    }
}
