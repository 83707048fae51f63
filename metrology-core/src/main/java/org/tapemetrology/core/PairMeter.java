/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.azimuth.AzimuthMeter;
import org.tapemetrology.core.flutter.BalanceScatter;
import org.tapemetrology.core.loss.TrackGeometry;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.core.separation.SeparationMeter;

/**
 * What two channels allow together: balance, azimuth where both carry the same signal, separation where one carries a
 * tone and the other is silent.
 */
final class PairMeter {
    private static final String BALANCE_METHOD = "difference of the RMS levels of the fundamentals";

    /** Ratio of the powers of two tones that are both recorded: -6 dB. */
    private static final double ALIKE = 0.25;

    private final AzimuthMeter azimuth;
    private final SeparationMeter separation;
    private final BalanceScatter balanceScatter = new BalanceScatter();
    private boolean wereAlike;

    /** The tracks, the speed and the frequencies of the level loss, where they are known. */
    record Tracks(TrackGeometry geometry, double speedCmPerSecond, List<Double> lossHz) {}

    PairMeter(int sampleRateHz, OptionalDouble nominalHz, Optional<Tracks> tracks, boolean running) {
        AzimuthMeter.Builder builder = AzimuthMeter.builder().sampleRateHz(sampleRateHz);
        tracks.ifPresent(known -> builder.tracks(known.geometry(), known.speedCmPerSecond())
                .levelLossAtHz(
                        known.lossHz().stream().mapToDouble(Double::doubleValue).toArray()));
        if (running) {
            builder.running();
        }
        this.azimuth = builder.build();
        boolean selective = nominalHz.isPresent()
                && nominalHz.getAsDouble() >= SeparationMeter.LOWEST_TONE_HZ
                && nominalHz.getAsDouble() <= SeparationMeter.HIGHEST_TONE * sampleRateHz;
        this.separation = selective
                ? new SeparationMeter(sampleRateHz, nominalHz.getAsDouble())
                : new SeparationMeter(sampleRateHz);
    }

    /** Takes a block of samples, which both channels have taken before. */
    void accept(float[] interleaved, int frames, ChannelMeter first, ChannelMeter second) {
        double firstPower = first.followedPower();
        double secondPower = second.followedPower();
        balanceScatter.accept(first.tone(), second.tone());
        azimuth.accept(interleaved, 0, 2, frames);
        // With a tone on both channels neither is silent, and the work can be saved.
        boolean alike = firstPower > ALIKE * secondPower && secondPower > ALIKE * firstPower;
        if (!alike) {
            separation.accept(interleaved, 0, 2, frames);
        } else if (!wereAlike) {
            separation.gap();
        }
        wereAlike = alike;
    }

    /** The readings that the recording allows, with those of the channels at hand. */
    Measurement reading(Measurement channels) {
        List<Reading> readings = new ArrayList<>();
        List<Warning> warnings = new ArrayList<>();
        balance(channels).ifPresent(readings::add);
        List<Reading> separations = separation.readings();
        boolean oneSilent = separations.stream().anyMatch(Reading::isValid);
        if (oneSilent) {
            readings.addAll(separations);
        } else {
            addAzimuth(channels, readings, warnings);
        }
        return new Measurement(readings, warnings);
    }

    /** Where there is no tone it takes a signal that both channels share; noise of their own says nothing. */
    private void addAzimuth(Measurement channels, List<Reading> readings, List<Warning> warnings) {
        List<Reading> azimuths = azimuth.readings();
        boolean tone = channels.readings().stream()
                .anyMatch(r -> r.quantity() == Quantity.LEVEL && r.status() != Status.NO_CARRIER);
        if (tone || azimuths.stream().anyMatch(Reading::isValid)) {
            readings.addAll(azimuths);
            azimuth.warnings().stream()
                    .filter(w -> w.code() == WarningCode.WHOLE_CYCLE || w.code() == WarningCode.OPPOSITE_POLARITY)
                    .forEach(warnings::add);
        }
    }

    private Optional<Reading> balance(Measurement channels) {
        Optional<Reading> first = channels.find(Quantity.LEVEL, 1);
        Optional<Reading> second = channels.find(Quantity.LEVEL, 2);
        if (first.isEmpty() || second.isEmpty()) {
            return Optional.empty(); // a recording of noise
        }
        if (first.get().isValid() && second.get().isValid()) {
            double difference =
                    second.get().value().orElseThrow() - first.get().value().orElseThrow();
            Reading reading = Reading.valid(Quantity.CHANNEL_BALANCE, difference, BALANCE_METHOD);
            return Optional.of(
                    balanceScatter.uncertainty().map(reading::withTypeA).orElse(reading));
        }
        Status status =
                first.get().isValid() ? second.get().status() : first.get().status();
        return Optional.of(Reading.without(Quantity.CHANNEL_BALANCE, status, BALANCE_METHOD));
    }

    AzimuthMeter azimuth() {
        return azimuth;
    }

    void reset() {
        azimuth.reset();
        separation.reset();
        balanceScatter.reset();
        wereAlike = false;
    }
}
