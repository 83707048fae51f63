/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import org.apache.commons.math3.fitting.PolynomialCurveFitter;
import org.apache.commons.math3.fitting.WeightedObservedPoints;

/**
 * Finds the place of the highest level by trying places: steps uphill until the highest lies between lower ones, then a
 * parabola by least squares through the nearest five.
 */
final class PeakSearch {
    private static final int POINTS = 5;
    /** Places nearer than this part of a step tell nothing new. */
    private static final double SAME = 0.3;

    private final double step;
    private final int most;
    private final List<double[]> tried = new ArrayList<>();

    /**
     * A search.
     *
     * @param step distance between the places that are tried
     * @param most most places
     */
    PeakSearch(double step, int most) {
        this.step = step;
        this.most = most;
    }

    void found(double place, double level) {
        tried.add(new double[] {place, level});
        tried.sort(Comparator.comparingDouble(point -> point[0]));
    }

    /** The next place to try, empty where the peak is known or too many were tried. */
    OptionalDouble next() {
        int size = tried.size();
        if (size >= most) {
            return OptionalDouble.empty();
        }
        int best = best();
        if (size == 1 || best == size - 1) {
            return OptionalDouble.of(place(best) + step);
        }
        if (best == 0) {
            return OptionalDouble.of(place(0) - step);
        }
        OptionalDouble vertex = peak();
        if (vertex.isPresent() && isNew(vertex.getAsDouble())) {
            return vertex;
        }
        if (size >= POINTS) {
            return OptionalDouble.empty();
        }
        boolean rightIsEmptier = place(size - 1) - place(best) <= place(best) - place(0);
        return OptionalDouble.of(rightIsEmptier ? place(size - 1) + step : place(0) - step);
    }

    /** Whether the highest level found lies between lower ones. */
    boolean isEnclosed() {
        return tried.size() >= 3 && best() > 0 && best() < tried.size() - 1;
    }

    /** The place of the peak, by a parabola about the highest level; that of the highest level where it bends the wrong way. */
    OptionalDouble peak() {
        if (!isEnclosed()) {
            return OptionalDouble.empty();
        }
        double middle = place(best());
        List<double[]> nearest = tried.stream()
                .sorted(Comparator.comparingDouble(point -> Math.abs(point[0] - middle)))
                .limit(POINTS)
                .toList();
        WeightedObservedPoints points = new WeightedObservedPoints();
        nearest.forEach(point -> points.add(point[0] - middle, point[1]));
        double[] parabola = PolynomialCurveFitter.create(2).fit(points.toList());
        if (!(parabola[2] < 0)) {
            return OptionalDouble.of(middle);
        }
        double vertex = middle - parabola[1] / (2 * parabola[2]);
        return OptionalDouble.of(Math.max(place(best() - 1), Math.min(place(best() + 1), vertex)));
    }

    private int best() {
        int best = 0;
        for (int i = 1; i < tried.size(); i++) {
            best = tried.get(i)[1] > tried.get(best)[1] ? i : best;
        }
        return best;
    }

    private boolean isNew(double place) {
        return tried.stream().allMatch(point -> Math.abs(point[0] - place) > SAME * step);
    }

    private double place(int index) {
        return tried.get(index)[0];
    }
}
