/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.conformity;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import org.tapemetrology.core.uncertainty.Budget;
import org.tapemetrology.core.uncertainty.UncertaintyComponent;

/**
 * What would turn an undecided verdict into a decision, if the value stays where it is: a longer measurement, by which the
 * components of type A fall with the square root of the time, or one component made smaller.
 *
 * <p>Made by {@link #on}; its numbers are not checked. Cost: some dozens of expanded uncertainties for each component.
 *
 * @param decided what the verdict would be; undecided where nothing helps
 * @param timesLonger the factor by which to measure longer in all, above 1; empty where no time is long enough
 * @param improvements the components any one of which is enough, the least demanding first
 * @param sentences the advice for a person
 */
public record Advice(
        Verdict decided, OptionalDouble timesLonger, List<Improvement> improvements, List<String> sentences) {

    private static final int HALVINGS = 60;

    /** Beyond this the machine will not stay as it is for so long. */
    private static final double LONGEST = 1e6;

    /** Half of this much better is enough to hear of a component: below it is as good as gone. */
    private static final double LEAST_FACTOR = 0.01;

    /**
     * A component that need be made smaller.
     *
     * <p>Its numbers are not checked.
     *
     * @param component the component as it is
     * @param factor factor that its standard uncertainty must be multiplied by, below 1
     * @param standardUncertainty what its standard uncertainty must fall to, in its unit
     */
    public record Improvement(UncertaintyComponent component, double factor, double standardUncertainty) {}

    /**
     * Advice, its lists copied.
     *
     * @param decided what the verdict would be
     * @param timesLonger how many times as long to measure
     * @param improvements the components any one of which is enough
     * @param sentences the advice for a person
     */
    public Advice {
        improvements = List.copyOf(improvements);
        sentences = List.copyOf(sentences);
    }

    /**
     * Advice on a decision.
     *
     * @param decision the decision
     * @param budget budget of its reading
     * @return what would decide it; nothing where it is decided, or where the rule or the reading leaves nothing to gain
     */
    public static Advice on(Decision decision, Budget budget) {
        Verdict verdict = decision.verdict();
        DecisionRule rule = decision.rule();
        if (verdict == Verdict.PASS || verdict == Verdict.FAIL) {
            return nothing(verdict, "The verdict is " + verdict.id() + " already.");
        }
        if (decision.guardBand().isEmpty()) {
            return nothing(Verdict.UNDECIDED, decision.reason() + " A valid reading with its uncertainty comes first.");
        }
        if (!rule.dependsOnUncertainty()) {
            return nothing(Verdict.UNDECIDED, "The guard band is agreed upon: a smaller uncertainty changes nothing.");
        }
        double margin = decision.limit().margin(decision.reading().value().orElseThrow());
        if (margin == 0) {
            return nothing(
                    Verdict.UNDECIDED,
                    "The reading is exactly at the limit: no measurement will decide it if the value stays.");
        }
        return search(decision, budget, margin);
    }

    private static Advice nothing(Verdict verdict, String sentence) {
        return new Advice(verdict, OptionalDouble.empty(), List.of(), List.of(sentence));
    }

    private static Advice search(Decision decision, Budget budget, double margin) {
        DecisionRule rule = decision.rule();
        double probability = DecisionRule.coverageProbability(decision.reading());
        // A hair below the margin, so that the rule, asked again, is on the decided side of its own rounding.
        double allowed = Math.abs(margin) * (1 - 1e-9);
        Verdict decided = margin > 0 ? Verdict.PASS : Verdict.FAIL;
        List<String> sentences = new ArrayList<>();
        OptionalDouble times = OptionalDouble.empty();
        if (rule.guardBand(budget.longer(LONGEST), probability) <= allowed) {
            double log = greatest(
                    inverse -> rule.guardBand(budget.longer(Math.exp(-inverse)), probability),
                    -Math.log(LONGEST),
                    0,
                    allowed);
            times = OptionalDouble.of(Math.exp(-log));
            sentences.add("Measured " + DecisionRule.number(times.getAsDouble())
                    + " times as long, the verdict becomes " + decided.id() + " if the value stays.");
        }
        List<Improvement> improvements = new ArrayList<>();
        for (UncertaintyComponent component : budget.components()) {
            if (component.contribution() == 0
                    || rule.guardBand(budget.scaled(component.name(), LEAST_FACTOR), probability) > allowed) {
                continue;
            }
            double factor = greatest(
                    f -> rule.guardBand(budget.scaled(component.name(), f), probability), LEAST_FACTOR, 1, allowed);
            improvements.add(new Improvement(component, factor, factor * component.standardUncertainty()));
        }
        improvements.sort(Comparator.comparingDouble(Improvement::factor).reversed());
        String unit = decision.limit().unit().symbol();
        for (Improvement improvement : improvements) {
            UncertaintyComponent component = improvement.component();
            String inputUnit = component.inputUnit().isEmpty() ? unit : component.inputUnit();
            sentences.add("With the standard uncertainty of \"" + component.name() + "\" at most "
                    + DecisionRule.number(improvement.standardUncertainty()) + " " + inputUnit + " instead of "
                    + DecisionRule.number(component.standardUncertainty()) + " " + inputUnit
                    + ", the verdict becomes " + decided.id() + ".");
        }
        if (sentences.isEmpty()) {
            decided = Verdict.UNDECIDED;
            sentences.add("The reading is " + DecisionRule.number(Math.abs(margin)) + " " + unit
                    + " from the limit: neither a longer measurement nor one better component decides it.");
        }
        return new Advice(decided, times, improvements, sentences);
    }

    /** The greatest argument at which a guard band that grows with it is small enough; at the lower end it is. */
    private static double greatest(DoubleUnaryOperator guardBand, double from, double to, double allowed) {
        double low = from;
        double high = to;
        for (int i = 0; i < HALVINGS && high - low > 1e-9; i++) {
            double middle = (low + high) / 2;
            if (guardBand.applyAsDouble(middle) <= allowed) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return low;
    }
}
