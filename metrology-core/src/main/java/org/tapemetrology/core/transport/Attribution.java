/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.transport;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.tapemetrology.core.internal.Require;

/**
 * Which parts of a transport can have made a component or a family of the flutter, with the probability of each.
 *
 * <p>Each part is a hypothesis, each of its harmonics too: the observed fundamental is then normally distributed about the
 * rate that geometry gives, with the uncertainty of both. A pack has any rate of its band, and its rate moves with the
 * tape; other rates stand still. Against them stands that no part of the list made it: any frequency is then as likely as
 * any other on a logarithmic scale. Bayes' rule gives the probabilities, every part being as likely as any other before,
 * its n-th harmonic less so by n squared (an assumption).
 *
 * <p>Made by {@link #of}, which refuses a speed ratio that is not finite and above 0; its numbers themselves are not
 * checked. Not for a part that is missing in the transport: its flutter counts as unexplained, or falls to a part of
 * nearly the same rate.
 *
 * @param parts parts by falling probability, those below one in a thousand left out
 * @param unexplained probability that it is none of them
 */
public record Attribution(List<PartProbability> parts, double unexplained) {
    private static final int HARMONICS = 6;
    /** Before anything is known: one in ten components comes from a part that the list lacks. */
    private static final double UNEXPLAINED = 0.1;

    private static final double LOWEST_HZ = 0.05;
    private static final double HIGHEST_HZ = 20_000;
    private static final double LEAST_PROBABILITY = 1e-3;
    /** Tapes of the trade are 6 to 60 um thick. */
    private static final double THINNEST_MILLIMETRES = 0.006;

    private static final double THICKEST_MILLIMETRES = 0.06;
    private static final int THICKNESSES = 24;
    /** What else than a pack may make a rate move: the speed of the machine itself. */
    private static final double STEADY_PER_SECOND = 1e-5;

    /**
     * A part with its probability.
     *
     * <p>Its numbers are not checked.
     *
     * @param part name of the part
     * @param harmonic how many times its rate the fundamental is
     * @param probability probability that this harmonic of it made the fundamental
     */
    public record PartProbability(String part, int harmonic, double probability) {}

    /**
     * An attribution; its list is copied.
     *
     * @param parts parts by falling probability
     * @param unexplained probability that it is none of them
     */
    public Attribution {
        parts = List.copyOf(parts);
    }

    /**
     * Attributes a family.
     *
     * @param family what was observed
     * @param transport the transport
     * @param speedRatio measured speed over the nominal one
     * @return the parts that can have made it
     * @throws IllegalArgumentException if the speed ratio is not finite and above 0
     */
    public static Attribution of(ObservedFamily family, Transport transport, double speedRatio) {
        double speed = transport.tapeSpeedMillimetresPerSecond() * Require.positive("speedRatio", speedRatio);
        double harmonicSum = 0;
        for (int n = 1; n <= HARMONICS; n++) {
            harmonicSum += 1.0 / (n * n);
        }
        double perPart = (1 - UNEXPLAINED) / transport.parts().size();
        double none = UNEXPLAINED
                * logUniform(family.fundamentalHz(), LOWEST_HZ, HIGHEST_HZ)
                * 0.5
                * (steady(family) + moving(family, speed));
        List<PartProbability> all = new ArrayList<>();
        double sum = none;
        for (Part part : transport.parts()) {
            for (int n = 1; n <= HARMONICS; n++) {
                double weight = perPart / (n * n * harmonicSum) * likelihood(family, part, n, speedRatio);
                weight *= part.kind() == PartKind.PACK ? moving(family, speed) : steady(family);
                sum += weight;
                all.add(new PartProbability(part.name(), n, weight));
            }
        }
        if (!(sum > 0)) {
            return new Attribution(List.of(), 1); // far from everything, beyond the reach of numbers
        }
        List<PartProbability> likely = new ArrayList<>();
        for (PartProbability each : all) {
            double probability = each.probability() / sum;
            if (probability >= LEAST_PROBABILITY) {
                likely.add(new PartProbability(each.part(), each.harmonic(), probability));
            }
        }
        likely.sort(Comparator.comparingDouble(PartProbability::probability).reversed());
        return new Attribution(likely, none / sum);
    }

    /** Density of the observed fundamental, in 1/Hz, if a harmonic of a part made it. */
    private static double likelihood(ObservedFamily family, Part part, int harmonic, double speedRatio) {
        double scale = harmonic * (part.scalesWithSpeed() ? speedRatio : 1);
        double low = scale * part.lowestHz();
        double high = scale * part.highestHz();
        double f = family.fundamentalHz();
        double spread = Math.hypot(
                part.relativeUncertainty() * Math.min(Math.max(f, low), high), family.standardUncertaintyHz());
        if (high - low < spread) {
            return normal((f - (low + high) / 2) / spread) / spread;
        }
        // Anywhere in the band alike on a logarithmic scale, with blurred ends.
        double beyond = f < low ? low - f : f > high ? f - high : 0;
        double inside = logUniform(Math.min(Math.max(f, low), high), low, high);
        return inside * Math.exp(-0.5 * beyond * beyond / (spread * spread));
    }

    private static double logUniform(double f, double low, double high) {
        return f < low || f > high ? 0 : 1 / (f * Math.log(high / low));
    }

    private static double normal(double z) {
        return Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
    }

    /** Density of the observed trend if the rate stands still, 1 where no trend was observed. */
    private static double steady(ObservedFamily family) {
        return family.trend()
                .map(trend -> {
                    double spread = Math.hypot(trend.standardUncertainty(), STEADY_PER_SECOND);
                    return normal(trend.perSecond() / spread) / spread;
                })
                .orElse(1.0);
    }

    /**
     * Density of the observed trend if it is the rate of a pack: r^2 grows or shrinks by {@code v t/pi} a second for a tape
     * of thickness t, so the rate f = v/(2 pi r) changes by {@code 2 pi t f^2/v} of itself a second, downwards for take-up,
     * upwards for supply.
     */
    private static double moving(ObservedFamily family, double speed) {
        if (family.trend().isEmpty()) {
            return 1;
        }
        ObservedFamily.Trend trend = family.trend().get();
        double f = family.fundamentalHz();
        double spread = Math.hypot(trend.standardUncertainty(), STEADY_PER_SECOND);
        double sum = 0;
        for (int i = 0; i < THICKNESSES; i++) {
            double thickness = THINNEST_MILLIMETRES
                    * Math.pow(THICKEST_MILLIMETRES / THINNEST_MILLIMETRES, (i + 0.5) / THICKNESSES);
            double expected = 2 * Math.PI * thickness * f * f / speed;
            sum += normal((trend.perSecond() - expected) / spread) + normal((trend.perSecond() + expected) / spread);
        }
        return sum / (2 * THICKNESSES * spread);
    }
}
