/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import java.util.List;
import org.ejml.data.DMatrixRMaj;
import org.ejml.dense.row.decomposition.chol.CholeskyDecompositionInner_DDRM;
import org.ejml.dense.row.linsol.chol.LinearSolverChol_DDRM;

/**
 * Joint least-squares fit of lines that are near each other, on the points of the spectrum around them.
 *
 * <p>The transform of {@code a cos + b sin}, referred to the middle of the record, is {@code (a - jb) E + (a + jb) I}, E
 * being the line's shape and I its image. Frequencies count in resolution widths, 1/(length of the record). Every point
 * weighs by the density of the noise there; points closer together than a resolution width repeat each other, for which
 * the information is divided by their number per width. What lies beyond the points used holds 2.5 % of the information
 * on the frequency.
 */
final class LineCluster {
    /** How far the points reach beyond the outermost lines, in resolution widths. */
    static final double REACH = 24;

    private static final int PASSES = 20;
    /** Longest step of place or sweep in resolution widths: beyond it the transform is nothing like its tangent. */
    private static final double LONGEST_STEP = 0.3;
    /** Last step in standard uncertainties. */
    private static final double CONVERGED = 1e-3;

    private static final int SWEEP_SAMPLES = 64;
    private static final double SWEEP_STEP = 0.5;

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
    private final LineShape[] shapes;
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
        this.count = Math.max(0, Math.min(residual.lastPoint(), (int) Math.floor(to)) - low + 1);
        this.re = new double[count];
        this.im = new double[count];
        for (int i = 0; i < count; i++) {
            re[i] = residual.re(low + i);
            im[i] = residual.im(low + i);
        }
        this.shapes = new LineShape[lines.size()];
        for (int l = 0; l < shapes.length; l++) {
            shapes[l] = new LineShape(count);
        }
        takeShapes();
    }

    private double place(int i) {
        return (low + i) / residual.pointsPerWidth();
    }

    private void takeShapes() {
        for (int l = 0; l < shapes.length; l++) {
            Component line = lines.get(l);
            shapes[l].take(line.place, line.sweep, place(0), 1 / residual.pointsPerWidth(), residual.samples());
        }
    }

    private void addModels(double sign) {
        for (int l = 0; l < shapes.length; l++) {
            LineShape e = shapes[l];
            double a = sign * lines.get(l).cosine;
            double b = sign * lines.get(l).sine;
            for (int i = 0; i < count; i++) {
                re[i] += a * (e.re[i] + e.image[i]) + b * e.im[i];
                im[i] += a * e.im[i] - b * (e.re[i] - e.image[i]);
            }
        }
    }

    /** Mean power of what is left around a place, re the noise: 1 where the lines explain everything. */
    double rest(double around, double reach) {
        double sum = 0;
        int points = 0;
        for (int i = 0; i < count; i++) {
            if (Math.abs(place(i) - around) <= reach) {
                sum += (re[i] * re[i] + im[i] * im[i]) / (2 * residual.variance(low + i));
                points++;
            }
        }
        return points == 0 ? 0 : sum / points;
    }

    /**
     * Finds where a single line's fit with a sweep has to start: the points around it, as a slow complex signal, are
     * multiplied with sweeps until a single frequency stands out most.
     */
    void startSweep() {
        Component line = lines.get(0);
        addModels(1);
        double[] zRe = new double[SWEEP_SAMPLES];
        double[] zIm = new double[SWEEP_SAMPLES];
        for (int j = 0; j < SWEEP_SAMPLES; j++) {
            double s = (j + 0.5) / SWEEP_SAMPLES - 0.5;
            for (int i = 0; i < count; i++) {
                double angle = 2 * Math.PI * (place(i) - line.place) * s;
                double c = Math.cos(angle) / residual.pointsPerWidth();
                double d = Math.sin(angle) / residual.pointsPerWidth();
                zRe[j] += re[i] * c - im[i] * d;
                zIm[j] += re[i] * d + im[i] * c;
            }
        }
        double best = 0;
        double place = line.place;
        for (double sweep = -REACH; sweep <= REACH; sweep += SWEEP_STEP) {
            for (double off = -REACH / 2; off <= REACH / 2; off += SWEEP_STEP) {
                double sumRe = 0;
                double sumIm = 0;
                double phase = 0;
                for (int j = 0; j < SWEEP_SAMPLES; j++) {
                    double s = (j + 0.5) / SWEEP_SAMPLES - 0.5;
                    phase = 2 * Math.PI * off * s + Math.PI * sweep * s * s;
                    double c = Math.cos(phase);
                    double d = Math.sin(phase);
                    sumRe += zRe[j] * c + zIm[j] * d;
                    sumIm += zIm[j] * c - zRe[j] * d;
                }
                double power = sumRe * sumRe + sumIm * sumIm;
                if (power > best) {
                    best = power;
                    line.place = place + off;
                    line.sweep = sweep;
                    line.cosine = sumRe / SWEEP_SAMPLES;
                    line.sine = -sumIm / SWEEP_SAMPLES;
                }
            }
        }
        line.sweeping = true;
        takeShapes();
        addModels(-1);
    }

    /**
     * Fits the lines in place.
     *
     * @return the largest change of a parameter in standard uncertainties; infinite where the points do not tell the
     *     lines apart
     */
    double fit() {
        int size = 0;
        for (Component line : lines) {
            size += line.parameters();
        }
        if (count < size) {
            return Double.POSITIVE_INFINITY;
        }
        int[] owner = new int[size];
        int[] parameter = new int[size];
        double[] start = new double[size];
        for (int l = 0, p = 0; l < lines.size(); l++) {
            for (int k = 0; k < lines.get(l).parameters(); k++, p++) {
                owner[p] = l;
                parameter[p] = k;
                start[p] = lines.get(l).parameter(k);
            }
        }
        double[] scale = new double[size];
        DMatrixRMaj information = new DMatrixRMaj(size, size);
        DMatrixRMaj gradient = new DMatrixRMaj(size, 1);
        DMatrixRMaj step = new DMatrixRMaj(size, 1);
        DMatrixRMaj inverse = new DMatrixRMaj(size, size);
        LinearSolverChol_DDRM solver = new LinearSolverChol_DDRM(new CholeskyDecompositionInner_DDRM(true));
        for (int pass = 0; pass < PASSES; pass++) {
            if (!normalEquations(information, gradient, scale, owner, parameter) || !solver.setA(information)) {
                return Double.POSITIVE_INFINITY;
            }
            solver.solve(gradient, step);
            solver.invert(inverse);
            double longest = LONGEST_STEP;
            double largest = 0;
            for (int p = 0; p < size; p++) {
                largest = Math.max(largest, Math.abs(step.data[p]) / Math.sqrt(inverse.get(p, p)));
                if (parameter[p] >= 2) {
                    longest = Math.max(longest, Math.abs(step.data[p] / scale[p]));
                }
            }
            addModels(1);
            for (int p = 0; p < size; p++) {
                Component line = lines.get(owner[p]);
                line.move(parameter[p], LONGEST_STEP / longest * step.data[p] / scale[p]);
                for (int q = 0; q < size; q++) {
                    if (owner[q] == owner[p]) {
                        line.covariance[parameter[p]][parameter[q]] = inverse.get(p, q) / (scale[p] * scale[q]);
                    }
                }
            }
            takeShapes();
            addModels(-1);
            if (largest < CONVERGED) {
                break;
            }
        }
        double change = 0;
        for (int p = 0; p < size; p++) {
            Component line = lines.get(owner[p]);
            double sigma = Math.sqrt(line.covariance[parameter[p]][parameter[p]]);
            change = Math.max(change, Math.abs(line.parameter(parameter[p]) - start[p]) / sigma);
        }
        return change;
    }

    /** Weighted normal equations, scaled to a diagonal of ones; false where a parameter has no effect. */
    private boolean normalEquations(
            DMatrixRMaj information, DMatrixRMaj gradient, double[] scale, int[] owner, int[] parameter) {
        int size = scale.length;
        double[] byRe = new double[size];
        double[] byIm = new double[size];
        information.zero();
        gradient.zero();
        for (int i = 0; i < count; i++) {
            for (int p = 0; p < size; p++) {
                derivative(p, owner[p], parameter[p], i, byRe, byIm);
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

    private void derivative(int p, int l, int parameter, int i, double[] byRe, double[] byIm) {
        LineShape e = shapes[l];
        double a = lines.get(l).cosine;
        double b = lines.get(l).sine;
        switch (parameter) {
            case 0 -> {
                byRe[p] = e.re[i] + e.image[i];
                byIm[p] = e.im[i];
            }
            case 1 -> {
                byRe[p] = e.im[i];
                byIm[p] = e.image[i] - e.re[i];
            }
            case 2 -> {
                byRe[p] = a * (e.placeRe[i] + e.imageSlope[i]) + b * e.placeIm[i];
                byIm[p] = a * e.placeIm[i] + b * (e.imageSlope[i] - e.placeRe[i]);
            }
            default -> {
                byRe[p] = a * e.sweepRe[i] + b * e.sweepIm[i];
                byIm[p] = a * e.sweepIm[i] - b * e.sweepRe[i];
            }
        }
    }
}
