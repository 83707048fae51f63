/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import org.apache.commons.math3.fitting.PolynomialCurveFitter;
import org.apache.commons.math3.fitting.WeightedObservedPoints;
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
    /** The top of the curve, which a parabola follows. */
    private static final double TOP_DB = 6;
    /** How far off the curve its peak may be supposed, re the length of the curve. */
    private static final double BEYOND = 0.25;

    private final AlignmentPlan plan;
    private final int channel;
    private final List<Point> points = new ArrayList<>();
    private OptionalDouble target = OptionalDouble.empty();

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
        List<BiasCurve.Point> curve = new ArrayList<>();
        for (Point point : points) {
            // The curve wants each bias once.
            if (curve.isEmpty()
                    || -point.shortWaveDb() > curve.get(curve.size() - 1).bias()) {
                curve.add(new BiasCurve.Point(-point.shortWaveDb(), point.levelDb(), OptionalDouble.empty()));
            }
        }
        OptionalDouble bias = curve.size() < LEAST_POINTS ? OptionalDouble.empty() : biasForDrop(curve);
        target = bias.isPresent() ? OptionalDouble.of(-bias.getAsDouble()) : bias;
    }

    private OptionalDouble biasForDrop(List<BiasCurve.Point> curve) {
        OptionalDouble seen = BiasCurve.of(curve).biasForDrop(plan.overBiasDropDb());
        return seen.isPresent() ? seen : beyondTheStop(curve);
    }

    /**
     * Where the trimmer does not go down to the peak: a parabola through the top of the curve tells where it would be, if it
     * is not far.
     */
    private OptionalDouble beyondTheStop(List<BiasCurve.Point> curve) {
        double highest =
                curve.stream().mapToDouble(BiasCurve.Point::levelDb).max().orElseThrow();
        double start = curve.get(0).bias();
        double end = curve.get(curve.size() - 1).bias();
        WeightedObservedPoints top = new WeightedObservedPoints();
        for (BiasCurve.Point point : curve) {
            if (point.levelDb() > highest - TOP_DB) {
                top.add(point.bias() - start, point.levelDb());
            }
        }
        if (top.toList().size() < LEAST_POINTS) {
            return OptionalDouble.empty();
        }
        double[] parabola = PolynomialCurveFitter.create(2).fit(top.toList());
        double vertex = start - parabola[1] / (2 * parabola[2]);
        double wanted = vertex + Math.sqrt(-plan.overBiasDropDb() / parabola[2]);
        boolean near = parabola[2] < 0 && vertex > start - BEYOND * (end - start);
        return near && wanted > start && wanted < end ? OptionalDouble.of(wanted) : OptionalDouble.empty();
    }

    /** Short waves re long ones at the bias to be set, in dB; empty where the curve has no peak or ends before the drop. */
    OptionalDouble target() {
        return target;
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
