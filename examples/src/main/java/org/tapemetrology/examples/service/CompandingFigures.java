/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.tapemetrology.core.alignment.CompandingTracking;
import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.core.programme.ProgrammeMeasurement.StepMeasurement;
import org.tapemetrology.core.programme.Step;
import org.tapemetrology.core.programme.StepSignal;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.examples.service.ServiceRecord.Measured;

/** How a companding noise reduction tracks: the levels of a programme with it less those without it. */
public final class CompandingFigures {
    private CompandingFigures() {}

    /** A level of one channel as it was sent and as it came back. */
    private record Replayed(CompandingTracking.Level level, Reading reading) {}

    static CombinedFigures of(List<Measured> latest) {
        List<Reading> readings = new ArrayList<>();
        List<String> notes = new ArrayList<>();
        for (Measured with : latest) {
            if (!isOn(with) || with.result().error().isPresent()) {
                continue;
            }
            Optional<Measured> without = latest.stream()
                    .filter(other -> !isOn(other)
                            && other.recorded().where().equals(with.recorded().where()))
                    .findFirst();
            if (without.isEmpty()) {
                notes.add("there is no recording without the companding noise reduction to compare with");
            } else {
                compare(without.get(), with, readings, notes);
            }
        }
        if (latest.stream().noneMatch(CompandingFigures::isOn) && !latest.isEmpty()) {
            notes.add("there is no recording with the companding noise reduction");
        }
        return new CombinedFigures(readings, notes);
    }

    private static boolean isOn(Measured one) {
        return one.recorded().contents().companding().orElse(false);
    }

    private static void compare(Measured without, Measured with, List<Reading> readings, List<String> notes) {
        int channels =
                Math.min(2, Math.min(without.result().channels(), with.result().channels()));
        for (int channel = 1; channel <= channels; channel++) {
            List<Replayed> off = replayed(without, channel);
            List<Replayed> on = replayed(with, channel);
            try {
                CompandingTracking tracking = CompandingTracking.of(levels(off), levels(on));
                for (CompandingTracking.Deviation error : tracking.errors()) {
                    readings.add(reading(error, off, on, channel));
                }
            } catch (IllegalArgumentException nothingInCommon) {
                notes.add("channel " + channel + ": " + nothingInCommon.getMessage());
            }
        }
    }

    private static List<CompandingTracking.Level> levels(List<Replayed> replayed) {
        return replayed.stream().map(Replayed::level).toList();
    }

    private static List<Replayed> replayed(Measured of, int channel) {
        Programme programme = of.recorded().contents().programme().orElseThrow();
        String reference = of.recorded().contents().parts().get(0);
        double referenceDbfs = programme.steps().stream()
                .filter(step -> step.name().equals(reference) && step.signal() instanceof StepSignal.Tone)
                .mapToDouble(step -> ((StepSignal.Tone) step.signal()).levelDbfs())
                .findFirst()
                .orElse(0);
        List<Replayed> replayed = new ArrayList<>();
        for (StepMeasurement part : of.parts()) {
            Step step = programme.steps().get(part.step().index());
            Optional<Reading> level =
                    part.measurement().find(Quantity.LEVEL, channel).filter(Reading::isValid);
            if (step.signal() instanceof StepSignal.Tone tone && level.isPresent()) {
                replayed.add(new Replayed(
                        new CompandingTracking.Level(
                                tone.frequencyHz(),
                                tone.levelDbfs() - referenceDbfs,
                                level.get().value().orElseThrow()),
                        level.get()));
            }
        }
        return replayed;
    }

    private static Reading reading(
            CompandingTracking.Deviation error, List<Replayed> off, List<Replayed> on, int channel) {
        Reading reading = Reading.valid(
                        Quantity.COMPANDING_TRACKING,
                        error.errorDb(),
                        String.format(
                                Locale.ROOT,
                                "with less without, sent at %.1f dB re the reference level",
                                error.sentDb()))
                .onChannel(channel)
                .atFrequency(error.frequencyHz());
        return CombinedFigures.withScatterOf(reading, like(error, off), like(error, on));
    }

    /** The level that an error is about: that of the same frequency nearest in what was sent. */
    private static Reading like(CompandingTracking.Deviation error, List<Replayed> among) {
        Replayed nearest = among.get(0);
        for (Replayed one : among) {
            nearest = distance(error, one) < distance(error, nearest) ? one : nearest;
        }
        return nearest.reading();
    }

    private static double distance(CompandingTracking.Deviation error, Replayed one) {
        return Math.abs(error.sentDb() - one.level().sentDb())
                + 1000 * Math.abs(error.frequencyHz() / one.level().frequencyHz() - 1);
    }
}
