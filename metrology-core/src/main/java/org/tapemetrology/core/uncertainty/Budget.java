/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.UnaryOperator;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.ExpandedUncertainty;

/**
 * Uncertainty budget of one reading, in its unit (JCGM 100:2008).
 *
 * <p>The combined standard uncertainty is the root mean square of the error of the reading: the root sum square of the
 * contributions, with their correlations (5.2.2). Where several one-sided effects act, their means add up before they are
 * squared.
 *
 * <p>The expanded uncertainty is not a multiple of it where one rectangular component dominates: 1.96/√3 of its half-width
 * would be more than all of it. The widest component with bounds stays a rectangle, the others become a second rectangle
 * and a normal remainder of the same variance and fourth cumulant together, all that have no bounds a scaled Student's t with
 * the effective degrees of freedom of Welch and Satterthwaite (G.4), and the half-width is solved for that holds the
 * probability. Without a rectangle of weight this is the coverage factor of Student's t of G.3. The two largest sinusoids are
 * averaged over their phases. One-sided effects are uniform to their side of the reading, which stays uncorrected, and the
 * interval stays symmetric about it.
 *
 * <p>A component with bounds but finite degrees of freedom counts as t-distributed (G.4.2). Components that are correlated
 * count together as one, normal, with the least degrees of freedom among them: G.4 holds for independent ones. Immutable.
 *
 * <p>Cost: a search for a root over a few functions, over up to 256 phases of them where sinusoids count. Components
 * are finite, and a bound or factor that is NaN is refused: never NaN.
 *
 * <p>Not for several results of common inputs: that is {@link LinearPropagation}.
 */
public final class Budget {
    /** Where a rectangle has less of the variance, a normal distribution in its place is right within some 0.1 %. */
    private static final double LEAST_RECTANGLE = 0.05;

    /** Up to here a rectangle describes a sinusoid. */
    private static final double LEAST_SINUSOID = 0.15;

    private static final int MOST_SINUSOIDS = 2;

    /** Fourth cumulant of a sinusoid re that of a rectangle of the same half-width. */
    private static final double SINUSOID_AS_RECTANGLE = 45.0 / 16;

    /** A component below this share of the variance moves the uncertainty by less than half a per cent. */
    private static final double MATTERS = 0.01;

    private static final double ROUNDING = 1e-12;

    private final List<UncertaintyComponent> components;
    private final List<Correlation> correlations;

    private record Correlation(int first, int second, double coefficient) {
        boolean joins(int component) {
            return first == component || second == component;
        }

        double covariance(List<UncertaintyComponent> components) {
            return coefficient * signed(components.get(first)) * signed(components.get(second));
        }

        private static double signed(UncertaintyComponent component) {
            return component.sensitivity() * component.standardUncertainty();
        }
    }

    /** Components that are correlated with one another, as one. */
    private record Group(double variance, double degreesOfFreedom) {}

    private Budget(List<UncertaintyComponent> components, List<Correlation> correlations) {
        this.components = List.copyOf(components);
        this.correlations = List.copyOf(correlations);
    }

    /**
     * A budget of independent components.
     *
     * @param components the components, no two of the same name
     * @return the budget
     */
    public static Budget of(List<UncertaintyComponent> components) {
        Set<String> names = new HashSet<>();
        for (UncertaintyComponent component : components) {
            if (!names.add(component.name())) {
                throw new IllegalArgumentException("two components are named \"" + component.name() + "\"");
            }
        }
        return new Budget(components, List.of());
    }

    /**
     * A budget of independent components.
     *
     * @param components the components, no two of the same name
     * @return the budget
     */
    public static Budget of(UncertaintyComponent... components) {
        return of(List.of(components));
    }

    /**
     * This budget with one more, independent component.
     *
     * @param component the component
     * @return the larger budget
     */
    public Budget with(UncertaintyComponent component) {
        List<UncertaintyComponent> more = new ArrayList<>(components);
        more.add(component);
        of(more);
        return new Budget(more, correlations);
    }

    /**
     * This budget with two of its components correlated.
     *
     * @param first name of a component
     * @param second name of another one
     * @param coefficient correlation coefficient of the two inputs, -1 to 1
     * @return the budget with that correlation
     */
    public Budget withCorrelation(String first, String second, double coefficient) {
        Require.inRange("correlation of \"" + first + "\" and \"" + second + "\"", coefficient, -1, 1);
        int i = index(first);
        int j = index(second);
        if (i == j) {
            throw new IllegalArgumentException("\"" + first + "\" cannot be correlated with itself");
        }
        double[][] matrix = correlationMatrix();
        matrix[i][j] = coefficient;
        matrix[j][i] = coefficient;
        return withCorrelations(matrix);
    }

    /**
     * This budget with its components correlated.
     *
     * @param matrix correlation coefficients of the inputs in the order of the components, 1 with themselves
     * @return the budget with those correlations instead of earlier ones
     */
    public Budget withCorrelations(double[][] matrix) {
        if (matrix.length != components.size()) {
            throw new IllegalArgumentException(
                    "correlations has " + matrix.length + " rows where " + components.size() + " are needed");
        }
        Covariance.root("correlations", matrix);
        List<Correlation> all = new ArrayList<>();
        for (int i = 0; i < matrix.length; i++) {
            if (matrix[i][i] != 1) {
                throw new IllegalArgumentException(
                        "correlations: element " + i + ", " + i + " is " + matrix[i][i] + ", not 1");
            }
            for (int j = 0; j < i; j++) {
                if (matrix[i][j] != 0) {
                    all.add(new Correlation(j, i, matrix[i][j]));
                }
            }
        }
        return new Budget(components, all);
    }

    private double[][] correlationMatrix() {
        double[][] matrix = new double[components.size()][components.size()];
        for (int i = 0; i < matrix.length; i++) {
            matrix[i][i] = 1;
        }
        for (Correlation c : correlations) {
            matrix[c.first][c.second] = c.coefficient;
            matrix[c.second][c.first] = c.coefficient;
        }
        return matrix;
    }

    /**
     * The components in the order in which they were given.
     *
     * @return the components
     */
    public List<UncertaintyComponent> components() {
        return components;
    }

    /**
     * A component by its name.
     *
     * @param name its name
     * @return the component
     */
    public UncertaintyComponent component(String name) {
        return components.get(index(name));
    }

    /**
     * Combined standard uncertainty.
     *
     * @return the uncertainty in the unit of the reading, 0 without components
     */
    public double combined() {
        return Math.sqrt(variance());
    }

    private double variance() {
        double offset = offset();
        double sum = 0;
        for (int i = 0; i < components.size(); i++) {
            sum += partOfVariance(i, offset);
        }
        return Math.max(0, sum);
    }

    private double offset() {
        double sum = 0;
        for (UncertaintyComponent component : components) {
            sum += component.offset();
        }
        return sum;
    }

    private double partOfVariance(int index, double offset) {
        UncertaintyComponent component = components.get(index);
        double own = component.offset();
        double part = component.contribution() * component.contribution() + own * (offset - own);
        for (Correlation c : correlations) {
            part += c.joins(index) ? c.covariance(components) : 0;
        }
        return part;
    }

    /**
     * Share of a component in the variance of the result; what it has in common with others is divided between them. The
     * shares add up to 1.
     *
     * @param component a component of this budget
     * @return the share, 0 where there is no uncertainty at all
     */
    public double share(UncertaintyComponent component) {
        double variance = variance();
        return variance == 0 ? 0 : partOfVariance(index(component.name()), offset()) / variance;
    }

    /**
     * The component with the largest share.
     *
     * @return the component, empty where there is no uncertainty at all
     */
    public Optional<UncertaintyComponent> dominant() {
        return components.stream().filter(c -> share(c) > 0).max(Comparator.comparingDouble(this::share));
    }

    /**
     * Whether a component that matters, with 1 % of the variance or more, is an assumption.
     *
     * @return true where one is
     */
    public boolean assumed() {
        return components.stream().anyMatch(c -> c.assumed() && share(c) >= MATTERS);
    }

    /**
     * Effective degrees of freedom of the combined uncertainty by Welch and Satterthwaite (G.4.1), not truncated.
     *
     * @return the degrees of freedom, infinite where every component is beyond doubt
     */
    public double effectiveDegreesOfFreedom() {
        double doubt = 0;
        for (int i = 0; i < components.size(); i++) {
            doubt += correlated(i) ? 0 : doubt(square(components.get(i).contribution()), components.get(i));
        }
        for (Group group : groups()) {
            doubt += square(group.variance) / group.degreesOfFreedom;
        }
        double variance = variance();
        return doubt == 0 ? Double.POSITIVE_INFINITY : variance * variance / doubt;
    }

    private static double doubt(double variance, UncertaintyComponent component) {
        return square(variance) / component.degreesOfFreedom();
    }

    /**
     * Expanded uncertainty: the reading plus and minus it holds the true value with a probability.
     *
     * @param coverageProbability the probability, between 0 and 1
     * @return the half-width in the unit of the reading with its probability
     */
    public ExpandedUncertainty expanded(double coverageProbability) {
        return new ExpandedUncertainty(
                distribution().halfWidth(Coverage.probability(coverageProbability)), coverageProbability);
    }

    /**
     * Expanded uncertainty as in the examples of JCGM 100:2008: the coverage factor of Student's t for the next lower whole
     * number of effective degrees of freedom (G.4.1), whatever the distributions are.
     *
     * @param coverageProbability the probability, between 0 and 1
     * @return the half-width in the unit of the reading with its probability
     */
    public ExpandedUncertainty expandedTruncated(double coverageProbability) {
        double degreesOfFreedom = Math.max(1, Math.floor(effectiveDegreesOfFreedom()));
        return new ExpandedUncertainty(
                Coverage.factor(coverageProbability, degreesOfFreedom) * combined(), coverageProbability);
    }

    /**
     * Probability that the true value minus the reading lies between two bounds.
     *
     * @param lower lower bound in the unit of the reading, may be negative infinity
     * @param upper upper bound, may be infinity
     * @return the probability
     * @throws IllegalArgumentException if a bound is NaN
     */
    public double probabilityBetween(double lower, double upper) {
        if (Double.isNaN(lower) || Double.isNaN(upper)) {
            throw new IllegalArgumentException("bounds " + lower + " and " + upper + " are not both numbers");
        }
        return distribution().probabilityBetween(-upper, -lower); // the error is the reading minus the true value
    }

    private ErrorDistribution distribution() {
        double normal = 0;
        double doubt = 0;
        double bounded = 0;
        List<Double> rectangles = new ArrayList<>();
        List<Double> sinusoids = new ArrayList<>();
        for (int i = 0; i < components.size(); i++) {
            UncertaintyComponent component = components.get(i);
            if (correlated(i) || component.contribution() == 0) {
                continue;
            }
            double own = component.offset();
            double variance = square(component.contribution()) - own * own;
            if (isNormal(component)) {
                normal += variance;
                doubt += doubt(variance, component);
            } else {
                bounded += variance;
                double reach = component.reach();
                switch (component.distribution()) {
                    case ARCSINE -> sinusoids.add(reach);
                    case TRIANGULAR -> rectangles.addAll(List.of(reach / 2, reach / 2)); // two make a triangle
                    case ONE_SIDED -> rectangles.add(reach / 2); // to either side of its mean
                    default -> rectangles.add(reach);
                }
            }
        }
        for (Group group : groups()) {
            normal += group.variance;
            doubt += square(group.variance) / group.degreesOfFreedom;
        }
        return distribution(normal, doubt, bounded, rectangles, sinusoids);
    }

    private ErrorDistribution distribution(
            double normal, double doubt, double bounded, List<Double> rectangles, List<Double> sinusoids) {
        double total = normal + bounded;
        rectangles.sort(Comparator.reverseOrder());
        sinusoids.sort(Comparator.reverseOrder());
        double rest = total;
        List<Double> averaged = new ArrayList<>();
        double quartic = 0;
        double left = bounded;
        for (double sinusoid : sinusoids) {
            double variance = sinusoid * sinusoid / 2;
            if (averaged.size() < MOST_SINUSOIDS && variance > LEAST_SINUSOID * total) {
                averaged.add(sinusoid);
                rest -= variance;
                left -= variance;
            } else {
                quartic += SINUSOID_AS_RECTANGLE * square(sinusoid * sinusoid);
            }
        }
        double first = 0;
        for (double rectangle : rectangles) {
            if (first == 0) {
                first = rectangle;
                left -= rectangle * rectangle / 3;
            } else {
                quartic += square(rectangle * rectangle);
            }
        }
        double second = Math.min(Math.sqrt(3 * Math.max(0, left)), Math.sqrt(Math.sqrt(quartic)));
        if (second > first) {
            double wider = second;
            second = first;
            first = wider;
        }
        if (second * second / 3 < LEAST_RECTANGLE * total) {
            second = 0;
        }
        if (first * first / 3 < LEAST_RECTANGLE * total) {
            first = 0;
        }
        rest -= (first * first + second * second) / 3;
        if (rest < ROUNDING * total) {
            rest = 0;
        }
        return new ErrorDistribution(
                offset(),
                averaged,
                first,
                second,
                Math.sqrt(rest),
                // What is lost in rounding has no degrees of freedom to be reckoned with.
                doubt == 0 || rest == 0 ? Double.POSITIVE_INFINITY : rest * rest / doubt);
    }

    private static boolean isNormal(UncertaintyComponent component) {
        return component.distribution() == Distribution.NORMAL
                || component.degreesOfFreedom() < Double.POSITIVE_INFINITY;
    }

    private boolean correlated(int index) {
        return correlations.stream().anyMatch(c -> c.joins(index));
    }

    private List<Group> groups() {
        if (correlations.isEmpty()) {
            return List.of();
        }
        List<Group> groups = new ArrayList<>();
        Set<Integer> grouped = new HashSet<>();
        for (int i = 0; i < components.size(); i++) {
            if (correlated(i) && !grouped.contains(i)) {
                Set<Integer> members = membersWith(i);
                grouped.addAll(members);
                groups.add(group(members));
            }
        }
        return groups;
    }

    private Set<Integer> membersWith(int index) {
        Set<Integer> members = new HashSet<>(Set.of(index));
        boolean grown = true;
        while (grown) {
            grown = false;
            for (Correlation c : correlations) {
                if (members.contains(c.first) || members.contains(c.second)) {
                    grown |= members.addAll(List.of(c.first, c.second));
                }
            }
        }
        return members;
    }

    private Group group(Set<Integer> members) {
        double variance = 0;
        double degreesOfFreedom = Double.POSITIVE_INFINITY;
        for (int i : members) {
            UncertaintyComponent component = components.get(i);
            variance += square(component.contribution()) - square(component.offset());
            degreesOfFreedom = Math.min(degreesOfFreedom, component.degreesOfFreedom());
        }
        for (Correlation c : correlations) {
            variance += members.contains(c.first) ? 2 * c.covariance(components) : 0;
        }
        return new Group(Math.max(0, variance), degreesOfFreedom);
    }

    /** Draws an error of the reading by the distributions of the components, none of them merged with another. */
    MonteCarlo.Draw errors() {
        List<UncertaintyComponent> independent = new ArrayList<>();
        for (int i = 0; i < components.size(); i++) {
            if (!correlated(i)) {
                independent.add(components.get(i));
            }
        }
        List<Group> groups = groups();
        double groupOffset = offset()
                - independent.stream().mapToDouble(UncertaintyComponent::offset).sum();
        return random -> {
            double error = groupOffset;
            for (UncertaintyComponent component : independent) {
                if (isNormal(component)) {
                    double spread = Math.sqrt(square(component.contribution()) - square(component.offset()));
                    error += component.offset() + spread * Draws.student(random, component.degreesOfFreedom());
                } else {
                    error += component.sensitivity()
                            * component.distribution().sample(random, component.standardUncertainty());
                }
            }
            for (Group group : groups) {
                error += Math.sqrt(group.variance) * Draws.student(random, group.degreesOfFreedom);
            }
            return error;
        };
    }

    /**
     * This budget without a component.
     *
     * @param name name of the component
     * @return the smaller budget
     */
    public Budget without(String name) {
        return scaledOrWithout(name, 0, false);
    }

    /**
     * This budget as it would be with a component smaller or larger.
     *
     * @param name name of the component
     * @param factor what its standard uncertainty is multiplied by, not negative
     * @return the other budget
     */
    public Budget scaled(String name, double factor) {
        return scaledOrWithout(name, factor, true);
    }

    private Budget scaledOrWithout(String name, double factor, boolean keep) {
        int index = index(name);
        List<UncertaintyComponent> others = new ArrayList<>(components);
        if (keep) {
            others.set(index, components.get(index).scaled(factor));
            return new Budget(others, correlations);
        }
        others.remove(index);
        List<Correlation> left = new ArrayList<>();
        for (Correlation c : correlations) {
            if (!c.joins(index)) {
                left.add(new Correlation(after(index, c.first), after(index, c.second), c.coefficient));
            }
        }
        return new Budget(others, left);
    }

    private static int after(int removed, int index) {
        return index > removed ? index - 1 : index;
    }

    /**
     * This budget as it would be after a longer measurement of the same kind: components of type A fall with the square root of
     * the time, and their degrees of freedom grow with it.
     *
     * @param times how many times as long, above 0
     * @return the other budget
     */
    public Budget longer(double times) {
        double root = Math.sqrt(Require.positive("times", times));
        return map(c -> c.evaluation() == Evaluation.TYPE_A
                ? c.scaled(1 / root).withDegreesOfFreedom(c.degreesOfFreedom() * times)
                : c);
    }

    /**
     * This budget for a reading in another unit or of another size.
     *
     * @param factor change of the new result per change of the old one
     * @return the budget with every sensitivity multiplied by it
     */
    public Budget times(double factor) {
        return map(c -> c.withSensitivity(c.sensitivity() * factor));
    }

    private Budget map(UnaryOperator<UncertaintyComponent> change) {
        return new Budget(components.stream().map(change).toList(), correlations);
    }

    private int index(String name) {
        for (int i = 0; i < components.size(); i++) {
            if (components.get(i).name().equals(name)) {
                return i;
            }
        }
        throw new IllegalArgumentException("no component is named \"" + name + "\"; there are "
                + components.stream().map(UncertaintyComponent::name).toList());
    }

    private static double square(double value) {
        return value * value;
    }
}
