/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.files;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import org.tapemetrology.core.conformity.Limit;
import org.tapemetrology.core.conformity.LimitSet;
import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.core.programme.ProgrammeMeasurement;
import org.tapemetrology.core.programme.Step;
import org.tapemetrology.core.quantity.Measurement;

/**
 * Limits of a machine, some of which are for one step of a test programme alone.
 *
 * @param set every limit
 * @param ofSteps the step that a limit is for, of those that are for one
 */
public record MachineLimits(LimitSet set, Map<Limit, String> ofSteps) {
    /** A part of what was measured: a step of a programme, or a recording without one. */
    public record Part(Optional<String> step, Measurement measurement) {
        /** A step of a programme. */
        public static Part of(ProgrammeMeasurement.StepMeasurement step) {
            return new Part(Optional.of(step.step().name()), step.measurement());
        }
    }

    public MachineLimits {
        ofSteps = Map.copyOf(ofSteps);
    }

    /** Limits that are for everything. */
    public static MachineLimits of(LimitSet set) {
        return new MachineLimits(set, Map.of());
    }

    public String name() {
        return set.name();
    }

    public List<Limit> limits() {
        return set.limits();
    }

    /** Those of some quantities. */
    public MachineLimits only(Predicate<Limit> wanted) {
        return new MachineLimits(
                new LimitSet(name(), limits().stream().filter(wanted).toList()), ofSteps);
    }

    /** Those that speak of a part. */
    public LimitSet of(Part part) {
        return only(limit -> isFor(limit, part)).set.of(part.measurement());
    }

    /** Those that speak of none of the parts. */
    public LimitSet ofNoneOf(List<Part> parts) {
        return only(limit -> parts.stream().noneMatch(part -> of(part).limits().contains(limit))).set;
    }

    /** Refuses limits for a step that a programme does not have. */
    public void requireStepsOf(Programme programme) {
        List<String> known = programme.steps().stream().map(Step::name).toList();
        ofSteps.forEach((limit, step) -> {
            if (!known.contains(step)) {
                throw new IllegalArgumentException("limits of " + name() + ": programmeStep \"" + step + "\" of "
                        + limit.quantity().id() + " is none of programme " + programme.name() + ": " + known);
            }
        });
    }

    private boolean isFor(Limit limit, Part part) {
        String step = ofSteps.get(limit);
        return step == null || part.step().equals(Optional.of(step));
    }
}
