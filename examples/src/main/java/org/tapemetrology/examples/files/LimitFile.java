/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.files;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.conformity.Limit;
import org.tapemetrology.core.conformity.LimitSet;
import org.tapemetrology.core.quantity.Confidence;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Unit;

/**
 * The limits of a machine as JSON:
 *
 * <pre>{"name":"cassette deck 3", "source":"service manual, page 12", "limits":[
 *   {"quantity":"flutter.weighted.quasi-peak", "upper":0.18},
 *   {"quantity":"response", "frequencyHz":10000, "lower":-3, "upper":3, "name":"response at 10 kHz"},
 *   {"quantity":"response", "fromHz":40, "toHz":500, "lower":-4, "upper":4},
 *   {"quantity":"level.re-reference", "programmeStep":"reference", "lower":-1, "upper":1}]}</pre>
 *
 * <p>{@code fromHz} and {@code toHz} make a part of a tolerance field: every reading in that range is limited.
 * {@code programmeStep} ties a limit to the step of that name in a test programme; without it every step is limited that has
 * such a reading.
 */
public final class LimitFile {
    private static final double MOST = 1e9;
    private static final double MOST_HZ = 100_000;

    private LimitFile() {}

    /** A set that the library knows, or one that is read from a file. */
    public static MachineLimits named(String nameOrFile) throws IOException {
        Optional<LimitSet> known = LimitSet.named(nameOrFile);
        return known.isPresent() ? MachineLimits.of(known.get()) : read(Path.of(nameOrFile));
    }

    public static MachineLimits read(Path file) throws IOException {
        JsonFields fields = JsonFields.read(file);
        String name = fields.text("name").orElse(file.toString());
        String source = fields.text("source").orElse(file.toString());
        MachineLimits limits = limits(fields, name, source);
        fields.noOthers();
        if (limits.limits().isEmpty()) {
            throw fields.wrong("limits", "names none");
        }
        return limits;
    }

    /** The limits that an object lists. */
    public static MachineLimits limits(JsonFields fields, String name, String source) {
        List<Limit> limits = new ArrayList<>();
        Map<Limit, String> ofSteps = new LinkedHashMap<>();
        for (JsonFields each : fields.objects("limits")) {
            Optional<String> step = each.text("programmeStep");
            Limit limit = limit(each, step, source);
            limits.add(limit);
            step.ifPresent(of -> ofSteps.put(limit, of));
            each.noOthers();
        }
        return new MachineLimits(new LimitSet(name, limits), ofSteps);
    }

    private static Limit limit(JsonFields fields, Optional<String> step, String source) {
        String id = fields.requiredText("quantity");
        Quantity quantity = Quantity.ofId(id)
                .orElseThrow(() -> fields.wrong("quantity", "\"" + id + "\" is none that is measured"));
        OptionalDouble lower = fields.number("lower", -MOST, MOST);
        OptionalDouble upper = fields.number("upper", -MOST, MOST);
        Unit unit = quantity.unit();
        Optional<String> given = fields.text("unit");
        if (given.isPresent() && !given.get().equals(unit.symbol())) {
            if (unit != Unit.DBFS || !given.get().equals(Unit.DECIBEL.symbol())) {
                throw fields.wrong("unit", given.get() + " is not that of " + id + ", " + unit.symbol());
            }
            unit = Unit.DECIBEL;
        }
        if (lower.isEmpty() && upper.isEmpty()) {
            throw fields.wrong("upper", "and lower are missing: a limit needs one of them");
        }
        if (lower.isPresent() && upper.isPresent() && !(lower.getAsDouble() < upper.getAsDouble())) {
            throw fields.wrong("lower", lower.getAsDouble() + " is not below upper, " + upper.getAsDouble());
        }
        OptionalDouble from = fields.number("fromHz", 1, MOST_HZ);
        OptionalDouble to = fields.number("toHz", 1, MOST_HZ);
        OptionalDouble at = fields.number("frequencyHz", 1, MOST_HZ);
        if (from.isPresent() != to.isPresent()) {
            throw fields.wrong(from.isPresent() ? "toHz" : "fromHz", "is missing: a range has two ends");
        }
        if (from.isPresent() && at.isPresent()) {
            throw fields.wrong("frequencyHz", "does not go with fromHz and toHz");
        }
        if (from.isPresent() && !(from.getAsDouble() <= to.getAsDouble())) {
            throw fields.wrong("fromHz", from.getAsDouble() + " is above toHz, " + to.getAsDouble());
        }
        return new Limit(
                quantity,
                unit,
                lower,
                upper,
                at,
                from.isPresent()
                        ? Optional.of(new Limit.Range(from.getAsDouble(), to.getAsDouble()))
                        : Optional.empty(),
                // Told apart by its name from the same limit of another step.
                fields.text("name").orElse(id) + step.map(of -> " of " + of).orElse(""),
                fields.text("source").orElse(source),
                Confidence.SECOND_HAND);
    }
}
