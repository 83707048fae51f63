/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import java.util.List;
import org.tapemetrology.core.internal.Require;

/** What is sent during a step. Levels are RMS in dBFS, full-scale sine 0 dBFS. Immutable. */
public sealed interface StepSignal {
    /** Lowest frequency of any step, in Hz. */
    double LOWEST_HZ = 20;

    /** Highest frequency of any step, in Hz. */
    double HIGHEST_HZ = 40_000;

    /** Lowest level of any step, in dBFS. */
    double LOWEST_DBFS = -80;

    /**
     * A steady tone.
     *
     * @param frequencyHz frequency in Hz
     * @param levelDbfs level in dBFS
     */
    record Tone(double frequencyHz, double levelDbfs) implements StepSignal {
        /**
         * A tone, checked.
         *
         * @param frequencyHz frequency in Hz, 20 to 40 000
         * @param levelDbfs level in dBFS, -80 to 0
         * @throws IllegalArgumentException if a number is outside its range; NaN is in none
         */
        public Tone {
            requireFrequency("frequencyHz", frequencyHz);
            requireLevel(levelDbfs);
        }
    }

    /**
     * A logarithmic sweep, {@code f(t) = start (end/start)^(t/seconds)}.
     *
     * @param startHz frequency at the start in Hz
     * @param endHz frequency at the end in Hz
     * @param levelDbfs level in dBFS
     */
    record Sweep(double startHz, double endHz, double levelDbfs) implements StepSignal {
        /**
         * A sweep, checked.
         *
         * @param startHz frequency at the start in Hz, 20 to 10 000
         * @param endHz frequency at the end in Hz, at least 4 times the start, at most 40 000
         * @param levelDbfs level in dBFS, -80 to 0
         * @throws IllegalArgumentException if a number is outside its range; NaN is in none
         */
        public Sweep {
            Require.inRange("startHz", startHz, LOWEST_HZ, HIGHEST_HZ / 4);
            Require.inRange("endHz", endHz, 4 * startHz, HIGHEST_HZ);
            requireLevel(levelDbfs);
        }
    }

    /**
     * Several tones at once, each of the same level.
     *
     * @param frequenciesHz frequencies in Hz, rising
     * @param levelDbfs level of each tone in dBFS
     */
    record Multitone(List<Double> frequenciesHz, double levelDbfs) implements StepSignal {
        /**
         * A multitone, checked.
         *
         * @param frequenciesHz at least three frequencies in Hz, 20 to 40 000, each at least 1.1 times the one below
         * @param levelDbfs level of each tone in dBFS, -80 to 0
         * @throws IllegalArgumentException if there are fewer than three frequencies, two are nearer than 1.1 to 1,
         *     or a number is outside its range; NaN is in none
         */
        public Multitone {
            frequenciesHz = List.copyOf(frequenciesHz);
            if (frequenciesHz.size() < 3) {
                throw new IllegalArgumentException(
                        "frequenciesHz has " + frequenciesHz.size() + " tones, allowed: 3 or more");
            }
            for (int i = 0; i < frequenciesHz.size(); i++) {
                requireFrequency("frequenciesHz " + i, frequenciesHz.get(i));
                if (i > 0) {
                    Require.timesTheOneBelow("frequenciesHz " + i, frequenciesHz.get(i), 1.1, frequenciesHz.get(i - 1));
                }
            }
            requireLevel(levelDbfs);
        }
    }

    /**
     * Noise, all of it or a band.
     *
     * @param pink true where each octave has the same power, false where each hertz has
     * @param fromHz lower edge of the band in Hz
     * @param toHz upper edge of the band in Hz
     * @param levelDbfs level in dBFS
     */
    record Noise(boolean pink, double fromHz, double toHz, double levelDbfs) implements StepSignal {
        /**
         * Noise, checked.
         *
         * @param pink whether it is pink
         * @param fromHz lower edge in Hz, 20 to 10 000
         * @param toHz upper edge in Hz, at least 4 times the lower one, at most 40 000
         * @param levelDbfs level in dBFS, -80 to 0
         * @throws IllegalArgumentException if a number is outside its range; NaN is in none
         */
        public Noise {
            Require.inRange("fromHz", fromHz, LOWEST_HZ, HIGHEST_HZ / 4);
            Require.inRange("toHz", toHz, 4 * fromHz, HIGHEST_HZ);
            requireLevel(levelDbfs);
        }
    }

    /** Nothing. */
    record Pause() implements StepSignal {}

    private static void requireFrequency(String name, double hertz) {
        Require.inRange(name, hertz, LOWEST_HZ, HIGHEST_HZ);
    }

    private static void requireLevel(double dbfs) {
        Require.inRange("levelDbfs", dbfs, LOWEST_DBFS, 0);
    }
}
