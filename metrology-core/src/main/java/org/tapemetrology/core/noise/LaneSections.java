/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import java.util.Arrays;
import org.tapemetrology.core.filter.SecondOrderSections;

/**
 * A {@link SecondOrderSections} over the lanes of a frame.
 *
 * <p>A section is linear, so its output is what it gives from rest plus what its state leaves behind. Each lane is first
 * filtered from outputs of zero, all lanes at once; then the true last outputs are handed from lane to lane, two numbers
 * each; and then every lane gets the response to the two true outputs before it, again all lanes at once.
 */
final class LaneSections {
    private static final int COEFFICIENTS = 5;
    /** Below this a state is silence; it keeps the decay out of the subnormal numbers. */
    private static final double SILENT = 1e-30;

    private final double[] coefficients;
    private final int sections;
    private final int lanes;
    private final int length;
    private final boolean[] band;
    /** Output of a section at each time of a lane after an output of 1 one step, or two steps, before it, and rest. */
    private final double[][] afterOne;

    private final double[][] afterTwo;
    /** The last two inputs of the filter and outputs of every section, in the frame before. */
    private final double[] last;

    private final double[] beforeLast;
    private final double[] silence;
    /** Outputs of a section with those of two earlier moments in front, taken in turns by the sections. */
    private final double[][][] outputs;

    private final double[] inputOne;
    private final double[] inputTwo;

    LaneSections(SecondOrderSections filter, int lanes, int length) {
        this.coefficients = filter.coefficients();
        this.sections = coefficients.length / COEFFICIENTS;
        this.lanes = lanes;
        this.length = length;
        this.band = new boolean[sections];
        this.afterOne = new double[sections][length];
        this.afterTwo = new double[sections][length];
        for (int s = 0; s < sections; s++) {
            int c = s * COEFFICIENTS;
            band[s] = coefficients[c + 1] == 0 && coefficients[c + 2] == -coefficients[c];
            response(coefficients[c + 3], coefficients[c + 4], 1, 0, afterOne[s]);
            response(coefficients[c + 3], coefficients[c + 4], 0, 1, afterTwo[s]);
        }
        this.last = new double[sections + 1];
        this.beforeLast = new double[sections + 1];
        this.silence = new double[lanes];
        this.outputs = new double[Math.min(2, sections)][length + 2][lanes];
        this.inputOne = new double[lanes];
        this.inputTwo = new double[lanes];
    }

    private static void response(double a1, double a2, double one, double two, double[] out) {
        double y1 = one;
        double y2 = two;
        for (int t = 0; t < out.length; t++) {
            double y = -a1 * y1 - a2 * y2;
            out[t] = y;
            y2 = y1;
            y1 = y;
        }
    }

    /** Filters a frame; row t of the output is {@link #row}. */
    void process(LaneFrame in) {
        double[] one = in.row(length - 1);
        double[] two = in.row(length - 2);
        System.arraycopy(one, 0, inputOne, 1, lanes - 1);
        System.arraycopy(two, 0, inputTwo, 1, lanes - 1);
        inputOne[0] = last[0];
        inputTwo[0] = beforeLast[0];
        last[0] = one[lanes - 1];
        beforeLast[0] = two[lanes - 1];
        for (int s = 0; s < sections; s++) {
            double[][] y = outputs[s % 2];
            fromRest(in, s, y);
            handOver(s, y);
            for (int t = 0; t < length; t++) {
                Lanes.addTwo(y[t + 2], y[1], y[0], afterOne[s][t], afterTwo[s][t]);
            }
        }
    }

    private void fromRest(LaneFrame in, int s, double[][] y) {
        int c = s * COEFFICIENTS;
        double b0 = coefficients[c];
        double b1 = coefficients[c + 1];
        double b2 = coefficients[c + 2];
        double a1 = coefficients[c + 3];
        double a2 = coefficients[c + 4];
        for (int t = 0; t < length; t++) {
            double[] y1 = t < 1 ? silence : y[t + 1];
            double[] y2 = t < 2 ? silence : y[t];
            if (band[s]) {
                Lanes.bandSection(y[t + 2], input(in, s, t), input(in, s, t - 2), y1, y2, b0, a1, a2);
            } else {
                Lanes.section(
                        y[t + 2],
                        input(in, s, t),
                        input(in, s, t - 1),
                        input(in, s, t - 2),
                        y1,
                        y2,
                        b0,
                        b1,
                        b2,
                        a1,
                        a2);
            }
        }
    }

    private double[] input(LaneFrame in, int s, int t) {
        if (s > 0) {
            return outputs[(s - 1) % 2][t + 2];
        }
        return t >= 0 ? in.row(t) : t == -1 ? inputOne : inputTwo;
    }

    /**
     * Rows -1 and -2 of every lane: the true outputs at the end of the lane before. Two lanes at a time, so that the
     * chain of numbers that wait for each other is half as long.
     */
    private void handOver(int s, double[][] y) {
        double[] end1 = y[length + 1];
        double[] end2 = y[length];
        double[] before1 = y[1];
        double[] before2 = y[0];
        double g11 = afterOne[s][length - 1];
        double g12 = afterTwo[s][length - 1];
        double g21 = afterOne[s][length - 2];
        double g22 = afterTwo[s][length - 2];
        double h11 = g11 * g11 + g12 * g21;
        double h12 = g11 * g12 + g12 * g22;
        double h21 = g21 * g11 + g22 * g21;
        double h22 = g21 * g12 + g22 * g22;
        double y1 = last[s + 1];
        double y2 = beforeLast[s + 1];
        for (int p = 0; p < lanes; p += 2) {
            before1[p] = y1;
            before2[p] = y2;
            before1[p + 1] = end1[p] + g11 * y1 + g12 * y2;
            before2[p + 1] = end2[p] + g21 * y1 + g22 * y2;
            double next1 = end1[p + 1] + g11 * end1[p] + g12 * end2[p] + h11 * y1 + h12 * y2;
            y2 = end2[p + 1] + g21 * end1[p] + g22 * end2[p] + h21 * y1 + h22 * y2;
            y1 = next1;
        }
        last[s + 1] = Math.abs(y1) < SILENT ? 0 : y1;
        beforeLast[s + 1] = Math.abs(y2) < SILENT ? 0 : y2;
    }

    /** Row t of the frame that was filtered last, valid until the next one. */
    double[] row(int t) {
        return outputs[(sections - 1) % 2][t + 2];
    }

    void reset() {
        Arrays.fill(last, 0);
        Arrays.fill(beforeLast, 0);
    }
}
