/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.conformity.Decision;
import org.tapemetrology.core.conformity.DecisionRule;
import org.tapemetrology.core.programme.ProgrammeMeasurement.StepMeasurement;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.core.uncertainty.ReadingBudgets;
import org.tapemetrology.examples.files.MachineLimits;
import org.tapemetrology.examples.files.MachineLimits.Part;
import org.tapemetrology.examples.files.Setup;
import org.tapemetrology.examples.recording.Assessment;
import org.tapemetrology.examples.recording.Recording;
import org.tapemetrology.examples.service.ServiceFile.Recorded;
import org.tapemetrology.examples.service.ServiceMeasurements.Outcome;
import org.tapemetrology.examples.service.ServiceRecord.Measured;

/** Judges recordings by the limits that the step and the machine give, and says what makes a recording doubtful. */
public final class StepJudge {
    /** Figures that take several recordings. */
    private static final Set<Quantity> COMBINED =
            EnumSet.of(Quantity.COMPANDING_TRACKING, Quantity.BIAS_DROP, Quantity.AZIMUTH_LEVEL_DROP);

    /** Figures that take two channels. */
    private static final Set<Quantity> OF_A_PAIR = EnumSet.of(
            Quantity.AZIMUTH_DELAY,
            Quantity.AZIMUTH_ANGLE,
            Quantity.CHANNEL_BALANCE,
            Quantity.CHANNEL_POLARITY,
            Quantity.SEPARATION);

    private final ServiceFile service;
    private final DecisionRule rule;

    StepJudge(ServiceFile service, DecisionRule rule) {
        this.service = service;
        this.rule = rule;
    }

    Measured judged(Recorded recorded, Outcome outcome) {
        List<StepMeasurement> parts = outcome.steps().stream()
                .filter(part -> recorded.contents().parts().isEmpty()
                        || recorded.contents().parts().contains(part.step().name()))
                .toList();
        Recording.Result result = outcome.result();
        boolean ofProgramme = recorded.contents().programme().isPresent();
        if (ofProgramme && result.error().isEmpty()) {
            result = result.with(new Measurement(
                    parts.stream()
                            .flatMap(part -> part.measurement().readings().stream())
                            .toList(),
                    result.measurement().warnings()));
        }
        List<Decision> decisions = List.of();
        if (result.error().isEmpty()) {
            List<Part> judged = ofProgramme
                    ? parts.stream()
                            .filter(part -> isJudged(recorded, part))
                            .map(MachineLimits.Part::of)
                            .toList()
                    : List.of(new Part(Optional.empty(), result.measurement()));
            decisions = decisions(limits(recorded), judged, outcome.budgets(), recorded.setup());
        }
        return new Measured(
                recorded, result, parts, outcome.budgets(), decisions, doubts(recorded, result, parts), told(result));
    }

    /** Decisions on a figure that several recordings make together. */
    List<Decision> decisions(ServiceStep step, Measurement combined, ReadingBudgets budgets) {
        MachineLimits limits = limits(limit -> step.judges(limit) && COMBINED.contains(limit) && isOfTheMachine(limit));
        return decisions(limits, List.of(new Part(Optional.empty(), combined)), budgets, service.setup());
    }

    private List<Decision> decisions(MachineLimits limits, List<Part> parts, ReadingBudgets budgets, Setup setup) {
        return new Assessment(Assessment.Expansion.ANALYTIC, false, Optional.of(limits), rule)
                .ofParts(parts, budgets, setup).stream()
                        .flatMap(part -> part.decisions().stream())
                        .toList();
    }

    private MachineLimits limits(Recorded recorded) {
        if (recorded.contents().companding().orElse(false)) {
            return limits(none -> false); // judged by what it adds to the one without
        }
        return limits(limit -> recorded.step().judges(limit) && !COMBINED.contains(limit) && isOfTheMachine(limit));
    }

    private MachineLimits limits(Predicate<Quantity> wanted) {
        return service.limits().only(limit -> wanted.test(limit.quantity()));
    }

    private boolean isOfTheMachine(Quantity quantity) {
        return service.channels() == 1 ? !OF_A_PAIR.contains(quantity) : quantity != Quantity.AZIMUTH_LEVEL_DROP;
    }

    /** Of the tones for a companding noise reduction the first is the reference level, and it alone has a limit of its own. */
    private static boolean isJudged(Recorded recorded, StepMeasurement part) {
        return recorded.step() != ServiceStep.COMPANDING
                || part.step().name().equals(recorded.contents().parts().get(0));
    }

    private List<String> doubts(Recorded recorded, Recording.Result result, List<StepMeasurement> parts) {
        List<String> doubts = new ArrayList<>();
        if (result.error().isPresent()) {
            doubts.add(result.error().get().message());
            return doubts;
        }
        if (isHalf(recorded.step(), result)) {
            doubts.add(
                    result.file()
                            + ": the recording has one channel and the machine two: the other channel, balance and azimuth are not known");
        }
        if (recorded.contents().programme().isPresent()) {
            for (String name : recorded.contents().parts()) {
                if (parts.stream().noneMatch(part -> part.step().name().equals(name))) {
                    doubts.add(result.file() + ": step " + name + " of the programme is missing");
                }
            }
            if (parts.isEmpty() && recorded.contents().parts().isEmpty()) {
                doubts.add(result.file() + ": no step of the programme was recognised: is this another tape?");
            }
        } else if (recorded.step() != ServiceStep.NOISE && recorded.step() != ServiceStep.ERASURE) {
            FoundTone.wrong(recorded, result).ifPresent(why -> doubts.add(result.file() + ": " + why));
        }
        result.measurement().warnings().stream()
                .filter(warning -> warning.code() == WarningCode.CHANNELS_SWAPPED)
                .forEach(warning -> doubts.add(result.file() + ": " + warning.message()));
        return doubts;
    }

    /** Whether a channel is missing that the step asks for; speed and flutter are told by one. */
    private boolean isHalf(ServiceStep step, Recording.Result result) {
        return service.channels() == 2
                && result.channels() == 1
                && step != ServiceStep.SPEED
                && step != ServiceStep.FLUTTER;
    }

    /** Warnings that a person must read beside the verdicts. */
    private static List<String> told(Recording.Result result) {
        Set<WarningCode> codes = EnumSet.of(
                WarningCode.STEP_MISSING,
                WarningCode.STEP_CUT_SHORT,
                WarningCode.STEP_UNCERTAIN,
                WarningCode.FRINGING,
                WarningCode.OVERLOAD,
                WarningCode.DAMAGED_FILE);
        return result.measurement().warnings().stream()
                .filter(warning -> codes.contains(warning.code()))
                .map(Warning::message)
                .distinct()
                .toList();
    }
}
