/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.loss;

import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * One way to explain a response: a set of causes with their fitted sizes. Immutable.
 *
 * <p>Made by {@link LossFit}; its numbers are not checked.
 *
 * @param parameters causes and sizes; none where a plain offset alone is fitted
 * @param offsetDb fitted level offset in dB
 * @param offsetStandardErrorDb its standard error in dB
 * @param residualDb standard deviation of what is left, in dB, with the degrees of freedom of the fit
 * @param criterion Akaike's information criterion for small samples; lower is better
 * @param aboveBest its difference from the best explanation, a plain number
 */
public record LossExplanation(
        List<LossParameter> parameters,
        double offsetDb,
        double offsetStandardErrorDb,
        double residualDb,
        double criterion,
        double aboveBest) {
    /**
     * An explanation.
     *
     * @param parameters causes and sizes
     * @param offsetDb level offset in dB
     * @param offsetStandardErrorDb its standard error in dB
     * @param residualDb standard deviation of what is left in dB
     * @param criterion information criterion
     * @param aboveBest its difference from the best explanation
     */
    public LossExplanation {
        parameters = List.copyOf(parameters);
    }

    /**
     * The causes without their sizes.
     *
     * @return causes
     */
    public Set<LossCause> causes() {
        Set<LossCause> causes = EnumSet.noneOf(LossCause.class);
        parameters.forEach(parameter -> causes.add(parameter.cause()));
        return causes;
    }

    LossExplanation relativeTo(double best) {
        return new LossExplanation(
                parameters, offsetDb, offsetStandardErrorDb, residualDb, criterion, criterion - best);
    }

    /**
     * Causes and sizes in words.
     *
     * @return for example {@code spacing 1.2 um with azimuth 5.0 arcmin}
     */
    public String words() {
        return parameters.isEmpty()
                ? "a plain offset"
                : parameters.stream()
                        .map(parameter -> String.format(
                                Locale.ROOT,
                                "%s %.3g %s",
                                parameter.cause().label(),
                                parameter.value(),
                                parameter.cause().unit()))
                        .collect(Collectors.joining(" with "));
    }
}
