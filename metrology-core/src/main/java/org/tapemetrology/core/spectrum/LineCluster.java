/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import java.util.List;
import org.ejml.data.DMatrixRMaj;
import org.ejml.dense.row.decomposition.chol.CholeskyDecompositionInner_DDRM;
import org.ejml.dense.row.linsol.chol.LinearSolverChol_DDRM;

/**
 * Joint least-squares fit of lines that are near each other, on the points of the spectrum around them.
 *
 * <p>The transform of {@code a cos(w t) + b sin(w t)}, referred to the middle of the record, has {@code a (D- + D+) / 2}
 * as its real part and {@code -b (D- - D+) / 2} as its imaginary part, D being the transform of the record's extent at the
 * difference and at the sum of w and the point's frequency. Frequencies count in resolution widths, 1/(length of the
 * record). Every point weighs by the density of the noise there; points closer together than a resolution width repeat
 * each other, for which the information is divided by their number per width. What lies beyond the points used holds
 * 2.5 % of the information on the frequency.
 */
final class LineCluster {
    /** How far the points reach beyond the outermost lines, in resolution widths. */
    private static final double REACH = 24;

    private static final int PASSES = 20;
    /** Longest step of a frequency in resolution widths: beyond it the transform is nothing like its tangent. */
    private static final double LONGEST_STEP = 0.3;
    /** Last step in standard uncertainties. */
    private static final double CONVERGED = 1e-3;

    /** A line: place in resolution widths, cosine and sine, and what the latest fit said of their covariance. */
    static final class Component {
        double place;
        double cosine;
        double sine;
        /** Of cosine, sine and place. */
        final double[][] covariance = new double[3][3];

        Component(double place, double cosine, double sine) {
            this.place = place;
            this.cosine = cosine;
            this.sine = sine;
        }

        double power() {
            return (cosine * cosine + sine * sine) / 2;
        }

        double amplitude() {
            return Math.hypot(cosine, sine);
        }

        double amplitudeVariance() {
            return quadratic(cosine, sine) / (2 * power());
        }

        double phaseVariance() {
            return quadratic(-sine, cosine) / (4 * power() * power());
        }

        private double quadratic(double x, double y) {
            return x * x * covariance[0][0] + 2 * x * y * covariance[0][1] + y * y * covariance[1][1];
        }
    }

    /** The spectrum that lines are fitted to. */
    interface Residual {
        /** Samples of the record. */
        int samples();

        /** Points per resolution width. */
        double pointsPerWidth();

        int firstPoint();

        int lastPoint();

        /** Transform at a point, referred to the middle and scaled so that a line's cosine is its size: real part. */
        double re(int point);

        /** Imaginary part. */
        double im(int point);

        /** Variance of either part by the noise. */
        double variance(int point);
    }

    private final List<Component> lines;
    private final Residual residual;
    private final int low;
    private final int count;
    /** What the lines leave, as they are fitted. */
    private final double[] re;

    private final double[] im;

    /**
     * A cluster.
     *
     * @param lines its lines, by rising place
     * @param residual what all lines together leave
     */
    LineCluster(List<Component> lines, Residual residual) {
        this.lines = lines;
        this.residual = residual;
        double width = residual.pointsPerWidth();
        double from = (lines.get(0).place - REACH) * width;
        double to = (lines.get(lines.size() - 1).place + REACH) * width;
        this.low = Math.max(residual.firstPoint(), (int) Math.ceil(from));
        this.count = Math.min(residual.lastPoint(), (int) Math.floor(to)) - low + 1;
        this.re = new double[count];
        this.im = new double[count];
        for (int i = 0; i < count; i++) {
            re[i] = residual.re(low + i);
            im[i] = residual.im(low + i);
        }
    }

    private double place(int i) {
        return (low + i) / residual.pointsPerWidth();
    }

    private void addModels(double sign) {
        int n = residual.samples();
        for (Component line : lines) {
            for (int i = 0; i < count; i++) {
                double minus = extent(line.place - place(i), n);
                double plus = extent(line.place + place(i), n);
                re[i] += sign * line.cosine * (minus + plus);
                im[i] -= sign * line.sine * (minus - plus);
            }
        }
    }

    /** Transform of the record's extent, 1 in the middle. */
    static double extent(double widths, int samples) {
        double angle = Math.PI * widths;
        if (Math.abs(angle) < 1e-4) {
            return 1 - angle * angle / 6;
        }
        return Math.sin(angle) / (samples * Math.sin(angle / samples));
    }

    /** Its derivative by the frequency in widths. */
    static double extentSlope(double widths, int samples) {
        double angle = Math.PI * widths;
        if (Math.abs(angle) < 1e-4) {
            return -Math.PI * angle / 3;
        }
        double chord = samples * Math.sin(angle / samples);
        double value = Math.sin(angle) / chord;
        return Math.PI * (Math.cos(angle) - value * Math.cos(angle / samples)) / chord;
    }

    /**
     * Fits the lines in place.
     *
     * @return the largest change of a parameter in standard uncertainties; infinite where the points do not tell the
     *     lines apart
     */
    double fit() {
        int size = 3 * lines.size();
        double[] start = parameters();
        double[] scale = new double[size];
        DMatrixRMaj information = new DMatrixRMaj(size, size);
        DMatrixRMaj gradient = new DMatrixRMaj(size, 1);
        DMatrixRMaj step = new DMatrixRMaj(size, 1);
        DMatrixRMaj inverse = new DMatrixRMaj(size, size);
        LinearSolverChol_DDRM solver = new LinearSolverChol_DDRM(new CholeskyDecompositionInner_DDRM(true));
        for (int pass = 0; pass < PASSES; pass++) {
            if (!normalEquations(information, gradient, scale) || !solver.setA(information)) {
                return Double.POSITIVE_INFINITY;
            }
            solver.solve(gradient, step);
            solver.invert(inverse);
            double longest = LONGEST_STEP;
            double largest = 0;
            for (int p = 0; p < size; p++) {
                largest = Math.max(largest, Math.abs(step.data[p]) / Math.sqrt(inverse.get(p, p)));
                if (p % 3 == 2) {
                    longest = Math.max(longest, Math.abs(step.data[p] / scale[p]));
                }
            }
            addModels(1);
            move(step, LONGEST_STEP / longest, scale, inverse);
            addModels(-1);
            if (largest < CONVERGED) {
                break;
            }
        }
        return change(start);
    }

    private void move(DMatrixRMaj step, double part, double[] scale, DMatrixRMaj inverse) {
        for (int l = 0; l < lines.size(); l++) {
            Component line = lines.get(l);
            int p = 3 * l;
            line.cosine += part * step.data[p] / scale[p];
            line.sine += part * step.data[p + 1] / scale[p + 1];
            line.place += part * step.data[p + 2] / scale[p + 2];
            for (int i = 0; i < 3; i++) {
                for (int j = 0; j < 3; j++) {
                    line.covariance[i][j] = inverse.get(p + i, p + j) / (scale[p + i] * scale[p + j]);
                }
            }
        }
    }

    private double[] parameters() {
        double[] values = new double[3 * lines.size()];
        for (int l = 0; l < lines.size(); l++) {
            values[3 * l] = lines.get(l).cosine;
            values[3 * l + 1] = lines.get(l).sine;
            values[3 * l + 2] = lines.get(l).place;
        }
        return values;
    }

    private double change(double[] start) {
        double[] end = parameters();
        double largest = 0;
        for (int p = 0; p < end.length; p++) {
            double sigma = Math.sqrt(lines.get(p / 3).covariance[p % 3][p % 3]);
            largest = Math.max(largest, Math.abs(end[p] - start[p]) / sigma);
        }
        return largest;
    }

    /** Weighted normal equations, scaled to a diagonal of ones; false where a parameter has no effect. */
    private boolean normalEquations(DMatrixRMaj information, DMatrixRMaj gradient, double[] scale) {
        int size = scale.length;
        int n = residual.samples();
        double[] byRe = new double[size];
        double[] byIm = new double[size];
        information.zero();
        gradient.zero();
        for (int i = 0; i < count; i++) {
            for (int l = 0; l < lines.size(); l++) {
                Component line = lines.get(l);
                double minus = line.place - place(i);
                double plus = line.place + place(i);
                byRe[3 * l] = extent(minus, n) + extent(plus, n);
                byIm[3 * l + 1] = extent(plus, n) - extent(minus, n);
                double slopeMinus = extentSlope(minus, n);
                double slopePlus = extentSlope(plus, n);
                byRe[3 * l + 2] = line.cosine * (slopeMinus + slopePlus);
                byIm[3 * l + 2] = line.sine * (slopePlus - slopeMinus);
            }
            double weight = 1 / (residual.variance(low + i) * residual.pointsPerWidth());
            for (int p = 0; p < size; p++) {
                gradient.data[p] += weight * (byRe[p] * re[i] + byIm[p] * im[i]);
                for (int q = 0; q <= p; q++) {
                    information.data[p * size + q] += weight * (byRe[p] * byRe[q] + byIm[p] * byIm[q]);
                }
            }
        }
        for (int p = 0; p < size; p++) {
            scale[p] = Math.sqrt(information.get(p, p));
            if (!(scale[p] > 0)) {
                return false;
            }
        }
        for (int p = 0; p < size; p++) {
            gradient.data[p] /= scale[p];
            for (int q = 0; q <= p; q++) {
                double value = information.data[p * size + q] / (scale[p] * scale[q]);
                information.data[p * size + q] = value;
                information.data[q * size + p] = value;
            }
        }
        return true;
    }
}
