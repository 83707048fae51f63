/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.util.ArrayList;
import java.util.List;

/**
 * An axis of a chart: from a value to a place along it, and the values that are marked.
 *
 * @param title quantity and unit
 * @param low lowest value
 * @param high highest value
 * @param logarithmic whether equal ratios are equally long
 * @param ticks marked values, rising
 */
record Axis(String title, double low, double high, boolean logarithmic, List<Double> ticks) {
    private static final double[] STEPS = {1, 2, 5, 10};

    Axis {
        if (!(high > low)) {
            throw new IllegalArgumentException(title + ": " + high + " is not above " + low);
        }
        ticks = List.copyOf(ticks);
    }

    /** A linear axis that holds a range, widened to whole ticks. */
    static Axis linear(String title, double least, double greatest, int about) {
        double span = greatest - least;
        double centre = (least + greatest) / 2;
        double smallest = Math.max(1e-9, 1e-9 * Math.abs(centre));
        double from = span > smallest ? least : centre - 0.5;
        double to = span > smallest ? greatest : centre + 0.5;
        double step = step((to - from) / about);
        double low = Math.floor(from / step + 1e-9) * step;
        double high = Math.ceil(to / step - 1e-9) * step;
        return new Axis(title, low, high, false, multiples(low, high, step));
    }

    /** A linear axis that ends where the values end. */
    static Axis exact(String title, double least, double greatest, int about) {
        double to = greatest > least ? greatest : least + 1;
        double step = step((to - least) / about);
        return new Axis(title, least, to, false, multiples(Math.ceil(least / step - 1e-9) * step, to, step));
    }

    /** A logarithmic axis with marks at 1, 2 and 5 of each decade, or at the decades alone where there are many. */
    static Axis logarithmic(String title, double least, double greatest) {
        double to = greatest > least ? greatest : 10 * least;
        boolean fine = Math.log10(to / least) <= 3.2;
        List<Double> ticks = new ArrayList<>();
        for (int decade = (int) Math.floor(Math.log10(least)); Math.pow(10, decade) <= to; decade++) {
            for (double factor : fine ? new double[] {1, 2, 5} : new double[] {1}) {
                double tick = factor * Math.pow(10, decade);
                if (tick >= least * 0.999 && tick <= to * 1.001) {
                    ticks.add(tick);
                }
            }
        }
        return new Axis(title, least, to, true, ticks);
    }

    private static List<Double> multiples(double low, double high, double step) {
        List<Double> ticks = new ArrayList<>();
        for (int i = 0; low + i * step <= high + 1e-6 * step; i++) {
            double tick = low + i * step;
            ticks.add(Math.abs(tick) < 1e-9 * step ? 0 : tick);
        }
        return ticks;
    }

    private static double step(double raw) {
        double decade = Math.pow(10, Math.floor(Math.log10(raw)));
        for (double step : STEPS) {
            if (step * decade >= raw * (1 - 1e-9)) {
                return step * decade;
            }
        }
        throw new IllegalStateException("no step for " + raw);
    }

    /** Where a value stands along the axis, from 0 to 1; what lies beyond an end stands at it. */
    double place(double value) {
        double place = logarithmic
                ? Math.log(Math.max(value, low / 10) / low) / Math.log(high / low)
                : (value - low) / (high - low);
        return Math.max(0, Math.min(1, place));
    }

    /** How a marked value is written. */
    String label(double tick) {
        if (logarithmic && tick >= 1000 && title.contains("Hz")) {
            return Words.shortest(tick / 1000) + "k";
        }
        return Words.shortest(tick);
    }
}
