/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.List;
import org.tapemetrology.core.internal.Require;

/**
 * One stretch of a recording: tones that sound together, on every channel alike.
 *
 * @param tones one tone, or several of rising frequency
 * @param seconds how long it is recorded or played, in s
 */
public record Take(List<SentTone> tones, double seconds) {

    /**
     * A take, checked.
     *
     * @param tones at least one, of rising frequency
     * @param seconds length in s, above 0
     * @throws IllegalArgumentException if there is no tone, the tones do not rise, or the length is not finite and
     *     above 0
     */
    public Take {
        tones = List.copyOf(tones);
        Require.positive("seconds", seconds);
        if (tones.isEmpty()) {
            throw new IllegalArgumentException("a take without a tone");
        }
        for (int i = 1; i < tones.size(); i++) {
            if (!(tones.get(i).frequencyHz() > tones.get(i - 1).frequencyHz())) {
                throw new IllegalArgumentException(
                        "tone " + i + " of " + tones.get(i).frequencyHz() + " Hz is not above the one before");
            }
        }
    }

    /**
     * A single tone.
     *
     * @param frequencyHz its frequency in Hz
     * @param levelDb its level in dB re the reference level
     * @param seconds length in s
     * @return the take
     */
    public static Take tone(double frequencyHz, double levelDb, double seconds) {
        return new Take(List.of(new SentTone(frequencyHz, levelDb)), seconds);
    }

    /**
     * Several tones of the same level at once.
     *
     * @param frequenciesHz frequencies in Hz, rising
     * @param levelDb level of each in dB re the reference level
     * @param seconds length in s
     * @return the take
     */
    public static Take tones(List<Double> frequenciesHz, double levelDb, double seconds) {
        return new Take(
                frequenciesHz.stream().map(f -> new SentTone(f, levelDb)).toList(), seconds);
    }
}
