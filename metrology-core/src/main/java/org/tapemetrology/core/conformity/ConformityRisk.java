/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.conformity;

import org.apache.commons.math3.analysis.integration.gauss.GaussIntegrator;
import org.apache.commons.math3.analysis.integration.gauss.GaussIntegratorFactory;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.uncertainty.Coverage;

/**
 * Risks of a decision rule before anything is measured (JCGM 106:2012, 9.5): how often, over a population of items, one is
 * accepted that does not conform, and rejected that does.
 *
 * <p>Made by {@link #global}, which refuses what is not finite; its numbers themselves are not checked. Not for a
 * single item that was measured: that is {@link #probabilityOfConformity}.
 *
 * @param falseAccept probability that an item does not conform and is accepted (consumer's risk)
 * @param falseReject probability that an item conforms and is rejected (producer's risk)
 */
public record ConformityRisk(double falseAccept, double falseReject) {
    private static final int NODES = 20;

    /** Pieces of the integral are no wider than this in the narrower of the two standard deviations. */
    private static final double PIECE = 1;

    /** Beyond this many standard deviations lies less than 1e-15. */
    private static final double REACH = 8;

    /**
     * Global risks of normally distributed items and a normal error of measurement. Accepted is a reading that lies at least the
     * guard band inside the limits; every other one is rejected.
     *
     * @param mean mean of the items
     * @param deviation standard deviation of the items, above 0
     * @param standardUncertainty standard uncertainty of a reading, above 0
     * @param lower lower tolerance limit, may be negative infinity
     * @param upper upper tolerance limit, may be infinity
     * @param guardBand guard band w, negative for guarded rejection, 0 for simple acceptance
     * @return the risks
     * @throws IllegalArgumentException if a number is not finite but for one of the limits, or the limits are not in
     *     order
     */
    public static ConformityRisk global(
            double mean, double deviation, double standardUncertainty, double lower, double upper, double guardBand) {
        Require.finite("mean", mean);
        Require.finite("guardBand", guardBand);
        Require.positive("deviation", deviation);
        Require.positive("standardUncertainty", standardUncertainty);
        requireOrdered(lower, upper);
        double from = mean - REACH * deviation;
        double to = mean + REACH * deviation;
        double first = Math.min(to, Math.max(from, lower));
        double last = Math.min(to, Math.max(from, upper));
        Acceptance accepted =
                new Acceptance(mean, deviation, standardUncertainty, lower + guardBand, upper - guardBand);
        double inside = accepted.over(first, last);
        double conforming = below((last - mean) / deviation) - below((first - mean) / deviation);
        return new ConformityRisk(
                accepted.over(from, first) + accepted.over(last, to), Math.max(0, conforming - inside));
    }

    /**
     * Probability that the item at hand conforms, by one reading and nothing else: where it was accepted, the specific
     * consumer's risk is 1 less this, where it was rejected, this is the specific producer's risk (JCGM 106:2012, 9.3.2).
     *
     * @param value the reading
     * @param standardUncertainty its standard uncertainty, above 0
     * @param lower lower tolerance limit, may be negative infinity
     * @param upper upper tolerance limit, may be infinity
     * @return the probability of conformity
     * @throws IllegalArgumentException if the value is not finite, or the limits are not in order
     */
    public static double probabilityOfConformity(double value, double standardUncertainty, double lower, double upper) {
        Require.finite("value", value);
        Require.positive("standardUncertainty", standardUncertainty);
        requireOrdered(lower, upper);
        return below((upper - value) / standardUncertainty) - below((lower - value) / standardUncertainty);
    }

    private static void requireOrdered(double lower, double upper) {
        if (!(lower < upper)) {
            throw new IllegalArgumentException("lower limit " + lower + " is not below the upper limit " + upper);
        }
    }

    private static double below(double z) {
        return Coverage.probabilityBelow(z, Double.POSITIVE_INFINITY);
    }

    /** Probability that an item lies in an interval and is accepted. */
    private record Acceptance(double mean, double deviation, double standardUncertainty, double lower, double upper) {

        double over(double from, double to) {
            int pieces = (int) Math.ceil((to - from) / (PIECE * Math.min(deviation, standardUncertainty)));
            GaussIntegratorFactory rules = new GaussIntegratorFactory();
            double sum = 0;
            for (int i = 0; i < pieces; i++) {
                GaussIntegrator rule =
                        rules.legendre(NODES, from + (to - from) * i / pieces, from + (to - from) * (i + 1) / pieces);
                sum += rule.integrate(this::densityAndAccepted);
            }
            return sum;
        }

        private double densityAndAccepted(double item) {
            double z = (item - mean) / deviation;
            double density = Math.exp(-z * z / 2) / Math.sqrt(2 * Math.PI) / deviation;
            double accepted = below((upper - item) / standardUncertainty) - below((lower - item) / standardUncertainty);
            return density * Math.max(0, accepted);
        }
    }
}
