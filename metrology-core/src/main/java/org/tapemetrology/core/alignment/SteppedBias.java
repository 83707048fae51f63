/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import org.apache.commons.math3.analysis.polynomials.PolynomialFunction;
import org.apache.commons.math3.fitting.PolynomialCurveFitter;
import org.apache.commons.math3.fitting.WeightedObservedPoints;
import org.apache.commons.math3.stat.descriptive.SummaryStatistics;
import org.apache.commons.math3.stat.regression.SimpleRegression;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;

/**
 * The bias of one channel by a recording with stepped bias. What a tape does at short waves re long ones falls as the bias
 * rises, and where both are recorded at once the jumps of the tape drop out of it; so the abscissa of the bias curve is
 * that ratio, and neither the law of the trimmer nor the hand that turned it counts.
 */
final class SteppedBias {
    private static final int LEAST_POINTS = 6;
    private static final int NEIGHBOURS = 5;
    private static final int CUBIC = 3;
    /** The nearer to the top the less the model errs, but a narrow top may hold too little: then a wider one. */
    private static final double[] TOPS_OF_CUBIC_DB = {12, 15};

    private static final int PARABOLA = 2;
    private static final double TOP_OF_PARABOLA_DB = 6;
    private static final int GRID = 2000;
    /** How far off the curve its peak may be supposed, re the length of the curve. */
    private static final double BEYOND = 0.25;

    private final AlignmentPlan plan;
    private final int channel;
    private final List<Point> points = new ArrayList<>();
    private OptionalDouble target = OptionalDouble.empty();
    private OptionalDouble deviation = OptionalDouble.empty();

    /** A take: where the trimmer stood by the turns that were asked for, levels re the reference frequency and of the tone itself. */
    private record Point(double place, double shortWaveDb, double trebleDb, double levelDb) {}

    SteppedBias(AlignmentPlan plan, int channel) {
        this.plan = plan;
        this.channel = channel;
    }

    /** Takes the measurements of the takes, the first at place 0. */
    void take(List<Measurement> takes, double stepTurns) {
        points.clear();
        for (int i = 0; i < takes.size(); i++) {
            List<Measurement> one = List.of(takes.get(i));
            Reading shortWave = Readers.at(one, Quantity.RESPONSE, channel, plan.biasHz());
            Reading treble = Readers.at(one, Quantity.RESPONSE, channel, plan.trebleHz());
            Reading level = Readers.at(one, Quantity.LEVEL, channel, plan.biasHz());
            if (shortWave.isValid() && treble.isValid() && level.isValid()) {
                points.add(new Point(
                        i * stepTurns,
                        shortWave.value().orElseThrow(),
                        treble.value().orElseThrow(),
                        level.value().orElseThrow()));
            }
        }
        points.sort(Comparator.comparingDouble(Point::shortWaveDb).reversed());
        target = targetOf(points);
        deviation = target.isPresent() ? jackknife() : OptionalDouble.empty();
    }

    private OptionalDouble targetOf(List<Point> some) {
        OptionalDouble found = OptionalDouble.empty();
        if (some.size() >= LEAST_POINTS) {
            for (double top : TOPS_OF_CUBIC_DB) {
                found = found.isPresent() ? found : ratioAtDrop(some, CUBIC, top);
            }
            found = found.isPresent() ? found : ratioAtDrop(some, PARABOLA, TOP_OF_PARABOLA_DB);
        }
        return found;
    }

    /** From the targets that are found when each take in turn is left out (M. H. Quenouille, J. W. Tukey; from memory). */
    private OptionalDouble jackknife() {
        SummaryStatistics targets = new SummaryStatistics();
        for (int i = 0; i < points.size(); i++) {
            List<Point> others = new ArrayList<>(points);
            others.remove(i);
            OptionalDouble without = targetOf(others);
            if (without.isEmpty()) {
                return OptionalDouble.empty();
            }
            targets.addValue(without.getAsDouble());
        }
        return OptionalDouble.of((points.size() - 1) / Math.sqrt(points.size()) * targets.getStandardDeviation());
    }

    /**
     * A polynomial by least squares through the top of the curve: of levels that jump it finds peak and drop better than
     * curves that follow every point, and where the trimmer does not go down to the peak it tells where that would be, if
     * it is not far. Wide tops want a cubic, since a curve falls otherwise beyond its peak than it rises before; where a
     * cubic has no peak in reach a parabola may, which bends alike everywhere.
     */
    private OptionalDouble ratioAtDrop(List<Point> some, int degree, double topDb) {
        double highest = some.stream().mapToDouble(Point::levelDb).max().orElseThrow();
        double start = some.get(0).shortWaveDb();
        double end = some.get(some.size() - 1).shortWaveDb();
        double last = start;
        WeightedObservedPoints top = new WeightedObservedPoints();
        for (Point point : some) {
            if (point.levelDb() > highest - topDb) {
                top.add(start - point.shortWaveDb(), point.levelDb());
                last = point.shortWaveDb();
            }
        }
        if (top.toList().size() < LEAST_POINTS) {
            return OptionalDouble.empty();
        }
        PolynomialFunction level =
                new PolynomialFunction(PolynomialCurveFitter.create(degree).fit(top.toList()));
        double from = -BEYOND * (start - end);
        double step = (start - last - from) / GRID;
        int peak = 0;
        for (int i = 1; i <= GRID; i++) {
            peak = level.value(from + i * step) > level.value(from + peak * step) ? i : peak;
        }
        if (peak == 0) {
            return OptionalDouble.empty();
        }
        double dropped = level.value(from + peak * step) - plan.overBiasDropDb();
        for (int i = peak; i <= GRID; i++) {
            if (level.value(from + i * step) <= dropped) {
                return OptionalDouble.of(start - from - i * step);
            }
        }
        return OptionalDouble.empty();
    }

    /** Short waves re long ones at the bias to be set, in dB; empty where the curve has no peak or ends before the drop. */
    OptionalDouble target() {
        return target;
    }

    /** Standard deviation of the target by the scatter of the levels; empty where the target hangs on a single take. */
    OptionalDouble deviation() {
        return deviation;
    }

    /** Where the trimmer stood with that, by the turns that were asked for. */
    double placeOfTarget() {
        return line(Point::place).predict(target.orElseThrow());
    }

    /** Change of short waves re long ones per turn there. */
    double perTurn() {
        return 1 / line(Point::place).getSlope();
    }

    /** By how much treble re the reference frequency changes when short waves re long ones go from a value to the target. */
    double trebleChange(double fromDb) {
        SimpleRegression line = line(Point::trebleDb);
        return line.getSlope() * (target.orElseThrow() - fromDb);
    }

    /** A straight line over the ratio through the points about the target. */
    private SimpleRegression line(java.util.function.ToDoubleFunction<Point> of) {
        double middle = target.orElseThrow();
        SimpleRegression line = new SimpleRegression();
        points.stream()
                .sorted(Comparator.comparingDouble(p -> Math.abs(p.shortWaveDb() - middle)))
                .limit(NEIGHBOURS)
                .forEach(p -> line.addData(p.shortWaveDb(), of.applyAsDouble(p)));
        return line;
    }
}
