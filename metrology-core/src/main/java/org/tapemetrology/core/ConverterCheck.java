/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import java.util.Locale;
import java.util.Optional;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.Distribution;
import org.tapemetrology.core.uncertainty.StatedValue;

/**
 * What a converter itself adds to readings, from recordings of its own output looped back to its input: balance, delay,
 * distortion, residual flutter and noise, and its clock by a second recorder or a known interval. What a loop cannot show
 * (gain and full-scale voltage, which need a voltmeter) stays as it was known.
 *
 * <p>The loop-back recording holds one tone on both channels, played by the converter itself; both of its directions share
 * one clock, so the speed error of the loop says nothing, and the flutter only what its clock does between playing and
 * recording. Thread-confined.
 *
 * <p>Figures are in the units of {@link Converter}. The clock is off by {@code 1e6 (f2/f1 - 1)} ppm for a tone that
 * the second recorder reads as f2 and the converter as f1, or by {@code 1e6 (T1/T2 - 1)} ppm for an interval of T2
 * that was recorded as T1 (by definition). Cost: next to none, it reads finished measurements. Readings are never
 * NaN; a number that is not finite is refused.
 *
 * <p>Not for telling playing from recording: either may have all that the loop shows.
 */
public final class ConverterCheck {
    private static final double PPM = 1e6;
    /** A loop shows what playing and recording add together; either may have all of it. */
    private static final String SOURCE = "loop-back recording";

    private final Measurement loop;
    private Converter known = Converter.assumed();
    private Optional<Measurement> silence = Optional.empty();
    private Optional<StatedValue> clock = Optional.empty();

    /**
     * A check by a loop-back recording.
     *
     * @param loop readings of a recording of a tone on one or two channels
     */
    public ConverterCheck(Measurement loop) {
        this.loop = loop;
        reading(loop, Quantity.TONE_FREQUENCY, 1);
    }

    /**
     * Sets what is known of the converter otherwise.
     *
     * @param converter the converter as far as it is known
     * @return this check
     */
    public ConverterCheck beside(Converter converter) {
        known = converter;
        return this;
    }

    /**
     * Sets a recording with the input closed, for the noise.
     *
     * @param measurement its readings
     * @return this check
     */
    public ConverterCheck silence(Measurement measurement) {
        silence = Optional.of(measurement);
        return this;
    }

    /**
     * Finds the clock by a second recorder that recorded the same tone.
     *
     * @param own this converter's readings of the tone
     * @param second the second recorder's readings of the same tone
     * @param withinPpm how well the second recorder's clock is known, in ppm to either side
     * @return this check
     */
    public ConverterCheck clockAgainst(Measurement own, Measurement second, double withinPpm) {
        Require.notNegative("withinPpm", withinPpm);
        Reading here = reading(own, Quantity.TONE_FREQUENCY, 1);
        Reading there = reading(second, Quantity.TONE_FREQUENCY, 1);
        double ownHz = here.value().orElseThrow();
        // A clock that runs fast takes more samples of a period: the tone reads low.
        double ppm = PPM * (there.value().orElseThrow() / ownHz - 1);
        double scatter = Math.hypot(scatter(here), scatter(there)) / ownHz * PPM;
        double standard = Math.hypot(scatter, Distribution.RECTANGULAR.standardUncertainty(withinPpm));
        clock = Optional.of(new StatedValue(
                ppm,
                Distribution.NORMAL,
                standard,
                String.format(Locale.ROOT, "second recorder, known within %.3g ppm", withinPpm),
                false));
        return this;
    }

    /**
     * Finds the clock by an interval of known length, as between two time signals, that was recorded.
     *
     * @param recordedSeconds its length by the number of samples and the nominal sampling rate, above 0
     * @param trueSeconds its true length, above 0
     * @param withinSeconds how well both are known together, to either side
     * @return this check
     */
    public ConverterCheck clockByInterval(double recordedSeconds, double trueSeconds, double withinSeconds) {
        Require.positive("recordedSeconds", recordedSeconds);
        Require.positive("trueSeconds", trueSeconds);
        Require.notNegative("withinSeconds", withinSeconds);
        clock = Optional.of(new StatedValue(
                PPM * (recordedSeconds / trueSeconds - 1),
                Distribution.RECTANGULAR,
                PPM * withinSeconds / trueSeconds,
                String.format(Locale.ROOT, "interval of %.6g s, known within %.3g s", trueSeconds, withinSeconds),
                false));
        return this;
    }

    /**
     * The converter, as the recordings show it.
     *
     * @param name what it is called
     * @return the description, with what the recordings do not show taken from what was known
     */
    public Converter result(String name) {
        return new Converter(
                name,
                clock.orElse(known.clock()),
                known.clockStability(),
                atMost(Quantity.FLUTTER_WEIGHTED_RMS).orElse(known.ownFlutter()),
                known.gain(),
                known.fullScale(),
                offset(Quantity.CHANNEL_BALANCE).orElse(known.balance()),
                offset(Quantity.AZIMUTH_DELAY).orElse(known.delay()),
                atMost(Quantity.DISTORTION_THD).orElse(known.distortion()),
                silence.flatMap(m -> m.find(Quantity.NOISE_UNWEIGHTED))
                        .filter(Reading::isValid)
                        .map(r -> r.value().orElseThrow())
                        .orElse(known.noiseDbfs()),
                known.crosstalkDb());
    }

    /** A known error with its scatter. */
    private Optional<StatedValue> offset(Quantity quantity) {
        return loop.find(quantity)
                .filter(Reading::isValid)
                .map(r -> new StatedValue(r.value().orElseThrow(), Distribution.NORMAL, scatter(r), SOURCE, false));
    }

    /** The most that the converter adds: what the loop reads, on the worse channel. */
    private Optional<StatedValue> atMost(Quantity quantity) {
        return loop.readings().stream()
                .filter(r -> r.quantity() == quantity && r.isValid())
                .map(r -> r.value().orElseThrow())
                .max(Double::compare)
                .map(most -> StatedValue.atMost(most, SOURCE));
    }

    private static Reading reading(Measurement measurement, Quantity quantity, int channel) {
        Reading reading = measurement
                .find(quantity, channel)
                .orElseThrow(() -> new IllegalArgumentException("the recording has no " + quantity.id()));
        if (!reading.isValid()) {
            throw new IllegalArgumentException("the recording has no valid " + quantity.id() + ": "
                    + reading.status().id());
        }
        return reading;
    }

    private static double scatter(Reading reading) {
        return reading.typeA().map(StandardUncertainty::value).orElse(0.0);
    }
}
