/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.flutter.FlutterIndicator;
import org.tapemetrology.core.quantity.Reading;

/**
 * What a {@link LiveMeter} shows at one moment. Immutable.
 *
 * <p>Made by {@link LiveMeter}; its numbers are not checked.
 *
 * @param seconds time of the recording in s up to which everything was taken
 * @param channels what each channel shows, in order
 * @param balance channel 2 minus channel 1 in dB; empty unless there are two channels
 * @param azimuthDelay lag of channel 2 in us; empty unless there are two channels
 * @param overruns how often samples were lost before they could be measured
 */
public record LiveReading(
        double seconds,
        List<Channel> channels,
        Optional<Figure> balance,
        Optional<Figure> azimuthDelay,
        long overruns) {

    /**
     * A reading at one moment, with a list of its own.
     *
     * @param seconds time of the recording
     * @param channels what each channel shows
     * @param balance channel 2 minus channel 1
     * @param azimuthDelay lag of channel 2
     * @param overruns how often samples were lost
     */
    public LiveReading {
        channels = List.copyOf(channels);
    }

    /**
     * A figure that somebody sets a trimmer by.
     *
     * <p>Its numbers are not checked.
     *
     * @param steady its mean since the last change, with its uncertainty; without a value and with the status that says why
     *     where there is none
     * @param now its mean over the last 3 s; empty where the steady one has no value
     * @param averagedSeconds over how long the steady mean goes, in s
     */
    public record Figure(Reading steady, OptionalDouble now, double averagedSeconds) {}

    /**
     * What a channel shows.
     *
     * @param number 1-based channel
     * @param frequency frequency of the tone in Hz
     * @param speedError speed error in %
     * @param levels level in dBFS, then on every other scale that the meter was given
     * @param flutter the chosen flutter figure
     * @param indicator indication of the chosen level meter now and its highest; empty without one
     */
    public record Channel(
            int number,
            Figure frequency,
            Figure speedError,
            List<Figure> levels,
            FlutterIndicator.Shown flutter,
            List<Reading> indicator) {

        /**
         * What a channel shows, with lists of its own.
         *
         * @param number 1-based channel
         * @param frequency frequency of the tone
         * @param speedError speed error
         * @param levels level on every scale
         * @param flutter the chosen flutter figure
         * @param indicator indication of the chosen level meter
         */
        public Channel {
            levels = List.copyOf(levels);
            indicator = List.copyOf(indicator);
        }
    }
}
