/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.damage;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.quantity.ExpandedUncertainty;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Unit;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.signals.damage.DamagedRecording;
import org.tapemetrology.signals.damage.Truth;

/**
 * Finds wrong numbers that nothing tells of: readings that are valid, of which no warning speaks, and which lie further from
 * the truth than twice their stated uncertainty, 5 % of the value, and 0.02 % of speed, 0.2 dB or 1 us, whichever is largest.
 */
final class SilentErrors {
    private static final double UNCERTAINTIES = 2;
    private static final double RELATIVE = 0.05;
    private static final double SPEED = 0.0002;
    private static final double DECIBELS = 0.2;
    private static final double MICROSECONDS = 1;

    /** Given at several frequencies: such a part has no truth of its own. */
    private static final Set<Quantity> PARTS = Set.of(Quantity.HUM, Quantity.NOISE_THIRD_OCTAVE, Quantity.RESPONSE);

    /** Counts of what was read. */
    int valid;

    int judged;
    int warned;
    int without;
    final List<Wrong> wrong = new ArrayList<>();

    /** A wrong number in silence. */
    record Wrong(DamagedRecording recording, Reading reading, Truth truth, double allowed) {
        @Override
        public String toString() {
            return String.format(
                    Locale.ROOT,
                    "seed %d: %s of channel %s is %.6g, U %.3g; true %s %.6g to %.6g, allowed %.3g",
                    recording.seed(),
                    reading.quantity().id(),
                    reading.channel().isPresent() ? reading.channel().getAsInt() : "1/2",
                    reading.value().orElseThrow(),
                    reading.uncertainty().map(ExpandedUncertainty::halfWidth).orElse(Double.NaN),
                    truth.kind(),
                    truth.low(),
                    truth.high(),
                    allowed);
        }
    }

    static Measurement measured(DamagedRecording recording) {
        RecordingMeter.Builder builder = RecordingMeter.builder(recording.sampleRateHz(), recording.channels());
        recording.nominalHz().ifPresent(builder::nominalHz);
        RecordingMeter meter = builder.build();
        meter.accept(recording.interleaved(), 0, recording.frames());
        return meter.reading();
    }

    void judge(DamagedRecording recording) {
        judge(recording, recording);
    }

    /** Judges what is measured of one recording by the truths of another, which differ where the judge can see. */
    void judge(DamagedRecording played, DamagedRecording recording) {
        Measurement measurement = measured(played);
        for (Reading reading : measurement.readings()) {
            if (!reading.isValid()) {
                without++;
                continue;
            }
            valid++;
            if (PARTS.contains(reading.quantity()) && reading.atFrequencyHz().isPresent()) {
                continue;
            }
            int channel = reading.channel().orElse(0);
            if (channel > recording.channels()) {
                continue;
            }
            Truth truth = recording.truth(reading.quantity().id(), channel);
            if (truth.kind() == Truth.Kind.NOT_STATED) {
                continue;
            }
            if (measurement.warnings().stream().anyMatch(warning -> speaksOf(warning, reading, channel))) {
                warned++;
                continue;
            }
            judged++;
            double allowed = allowed(reading, truth);
            if (truth.distance(reading.value().orElseThrow()) > allowed) {
                wrong.add(new Wrong(recording, reading, truth, allowed));
            }
        }
    }

    /** Whether a warning tells the reader that this figure may not be what it seems. */
    private static boolean speaksOf(Warning warning, Reading reading, int channel) {
        String id = reading.quantity().id();
        boolean flutter = id.startsWith("flutter") || id.startsWith("wow");
        boolean same =
                channel == 0 || warning.channel().isEmpty() || warning.channel().getAsInt() == channel;
        return same
                && switch (warning.code()) {
                    case NOMINAL_ASSUMED -> id.startsWith("speed");
                    case NOISE, BAND_TOO_NARROW -> flutter;
                    case OPPOSITE_POLARITY -> id.startsWith("azimuth") || id.equals("channel.polarity");
                    // The truth is given to whole cycles.
                    case WHOLE_CYCLE -> false;
                    default -> true;
                };
    }

    private static double allowed(Reading reading, Truth truth) {
        double uncertainty = reading.uncertainty()
                .map(stated -> UNCERTAINTIES * stated.halfWidth())
                .orElse(0.0);
        double size = Math.max(Math.abs(truth.low()), Math.abs(truth.high()));
        double floor = 0;
        Quantity quantity = reading.quantity();
        if (quantity == Quantity.TONE_FREQUENCY) {
            return Math.max(uncertainty, SPEED * size); // 5 % of a frequency would hide any error
        }
        if (quantity == Quantity.SPEED_ERROR || quantity == Quantity.SPEED_RANGE) {
            floor = 100 * SPEED;
        } else if (reading.unit() == Unit.DECIBEL || reading.unit() == Unit.DBFS) {
            return Math.max(uncertainty, DECIBELS); // a level in dB has no value to take 5 % of
        } else if (reading.unit() == Unit.MICROSECOND) {
            floor = MICROSECONDS;
        }
        return Math.max(uncertainty, Math.max(RELATIVE * size, floor));
    }
}
