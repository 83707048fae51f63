/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

/**
 * Least-squares fit of a constant and of a fundamental with its harmonics 2 to {@value #HARMONICS} to a window of
 * samples, where the fundamental is known within {@value #SEARCHED_HZ} Hz.
 *
 * <p>The time is counted from the middle of the window. Cosines and sines are then orthogonal to each other, so the fit
 * falls into two small systems whose matrices are known in closed form:
 * {@code sum cos(a t) cos(b t) = (D(a-b) + D(a+b)) / 2} with {@code D(x) = sin(N x/2) / sin(x/2)}, and with a minus for
 * the sines. They are positive definite and solved by Cholesky's method in arrays of the fit.
 *
 * <p>The fundamental is the one whose harmonics hold most power: first on a grid, from sums over short blocks turned by
 * each trial frequency, then at the top of the parabola through the highest point of the grid and its neighbours.
 */
final class HarmonicFit {
    static final int HARMONICS = 10;
    /** How far the mains may be off. Its real variation is 0.2 Hz; the rest keeps the parabola inside the grid. */
    static final double SEARCHED_HZ = 0.3;

    /** Harmonic 10 has its first null 0.1 Hz of the fundamental away in 1 s: five steps. */
    private static final double STEP_HZ = 0.02;

    private static final int STEPS = (int) Math.round(2 * SEARCHED_HZ / STEP_HZ) + 1;
    /** Blocks of a window of 1 s: in one, harmonic 10 turns by 0.03 cycles at most. */
    private static final int BLOCKS = 100;

    private final double nominalHz;
    private final double rateHz;
    private final int length;
    private final double[][] blockRe = new double[HARMONICS][BLOCKS];
    private final double[][] blockIm = new double[HARMONICS][BLOCKS];
    private final double[] trialPower = new double[STEPS];
    private final double[] cosines = new double[HARMONICS + 1];
    private final double[] sines = new double[HARMONICS];
    private final double[] dirichlet = new double[2 * HARMONICS + 1];
    private final double[][] matrix = new double[HARMONICS + 1][HARMONICS + 1];

    HarmonicFit(double nominalHz, double rateHz, int length) {
        this.nominalHz = nominalHz;
        this.rateHz = rateHz;
        this.length = length;
    }

    /**
     * Fits a window and adds the power of each harmonic, half its squared amplitude, to sums.
     *
     * @return the fundamental that was found, in Hz
     */
    double fit(double[] window, double[] powerSums) {
        double fundamentalHz = fundamental(window);
        project(window, fundamentalHz);
        double step = 2 * Math.PI * fundamentalHz / rateHz;
        for (int k = 0; k < dirichlet.length; k++) {
            dirichlet[k] = k == 0 ? length : Math.sin(length * k * step / 2) / Math.sin(k * step / 2);
        }
        for (int a = 0; a <= HARMONICS; a++) {
            for (int b = 0; b <= a; b++) {
                matrix[a][b] = (dirichlet[a - b] + dirichlet[a + b]) / 2;
            }
        }
        solve(cosines, HARMONICS + 1);
        for (int a = 0; a < HARMONICS; a++) {
            for (int b = 0; b <= a; b++) {
                matrix[a][b] = (dirichlet[a - b] - dirichlet[a + b + 2]) / 2;
            }
        }
        solve(sines, HARMONICS);
        for (int k = 0; k < HARMONICS; k++) {
            powerSums[k] += (cosines[k + 1] * cosines[k + 1] + sines[k] * sines[k]) / 2;
        }
        return fundamentalHz;
    }

    private double fundamental(double[] window) {
        double mean = 0;
        for (int n = 0; n < length; n++) {
            mean += window[n];
        }
        mean /= length;
        for (int k = 0; k < HARMONICS; k++) {
            sumBlocks(window, mean, k);
        }
        int best = 0;
        for (int trial = 0; trial < STEPS; trial++) {
            trialPower[trial] = powerAt((trial - STEPS / 2) * STEP_HZ);
            if (trialPower[trial] > trialPower[best]) {
                best = trial;
            }
        }
        double offset = (best - STEPS / 2) * STEP_HZ;
        if (best > 0 && best < STEPS - 1) {
            double curvature = trialPower[best - 1] - 2 * trialPower[best] + trialPower[best + 1];
            if (curvature < 0) {
                offset += STEP_HZ * (trialPower[best - 1] - trialPower[best + 1]) / (2 * curvature);
            }
        }
        return nominalHz + offset;
    }

    /** Sums of the window turned by the nominal frequency of a harmonic, over blocks. */
    private void sumBlocks(double[] window, double mean, int harmonic) {
        double step = 2 * Math.PI * (harmonic + 1) * nominalHz / rateHz;
        double turnRe = Math.cos(step);
        double turnIm = -Math.sin(step);
        double re = Math.cos(step * (length - 1) / 2);
        double im = Math.sin(step * (length - 1) / 2);
        for (int block = 0; block < BLOCKS; block++) {
            double sumRe = 0;
            double sumIm = 0;
            int end = start(block + 1);
            for (int n = start(block); n < end; n++) {
                double x = window[n] - mean;
                sumRe += x * re;
                sumIm += x * im;
                double turned = re * turnRe - im * turnIm;
                im = re * turnIm + im * turnRe;
                re = turned;
            }
            blockRe[harmonic][block] = sumRe;
            blockIm[harmonic][block] = sumIm;
        }
    }

    private int start(int block) {
        return (int) ((long) length * block / BLOCKS);
    }

    /** Power of all harmonics of the nominal frequency plus an offset, in arbitrary units. */
    private double powerAt(double offsetHz) {
        double power = 0;
        double blockSeconds = length / rateHz / BLOCKS;
        for (int k = 0; k < HARMONICS; k++) {
            double step = 2 * Math.PI * (k + 1) * offsetHz * blockSeconds;
            double turnRe = Math.cos(step);
            double turnIm = -Math.sin(step);
            double re = 1;
            double im = 0;
            double sumRe = 0;
            double sumIm = 0;
            for (int block = 0; block < BLOCKS; block++) {
                sumRe += blockRe[k][block] * re - blockIm[k][block] * im;
                sumIm += blockRe[k][block] * im + blockIm[k][block] * re;
                double turned = re * turnRe - im * turnIm;
                im = re * turnIm + im * turnRe;
                re = turned;
            }
            power += sumRe * sumRe + sumIm * sumIm;
        }
        return power;
    }

    /** Sums of the window times cosines and sines of the harmonics; the first cosine is the constant. */
    private void project(double[] window, double fundamentalHz) {
        double middle = (length - 1) / 2.0;
        for (int k = 0; k <= HARMONICS; k++) {
            double step = 2 * Math.PI * k * fundamentalHz / rateHz;
            double turnRe = Math.cos(step);
            double turnIm = Math.sin(step);
            double re = Math.cos(step * middle);
            double im = -Math.sin(step * middle);
            double sumRe = 0;
            double sumIm = 0;
            for (int n = 0; n < length; n++) {
                sumRe += window[n] * re;
                sumIm += window[n] * im;
                double turned = re * turnRe - im * turnIm;
                im = re * turnIm + im * turnRe;
                re = turned;
            }
            cosines[k] = sumRe;
            if (k > 0) {
                sines[k - 1] = sumIm;
            }
        }
    }

    /** Solves the symmetric positive definite system whose lower triangle the matrix holds, in place. */
    private void solve(double[] rightSide, int size) {
        for (int i = 0; i < size; i++) {
            double[] row = matrix[i];
            for (int j = 0; j <= i; j++) {
                double sum = row[j];
                for (int m = 0; m < j; m++) {
                    sum -= row[m] * matrix[j][m];
                }
                row[j] = i == j ? Math.sqrt(sum) : sum / matrix[j][j];
            }
        }
        for (int i = 0; i < size; i++) {
            for (int m = 0; m < i; m++) {
                rightSide[i] -= matrix[i][m] * rightSide[m];
            }
            rightSide[i] /= matrix[i][i];
        }
        for (int i = size - 1; i >= 0; i--) {
            for (int m = i + 1; m < size; m++) {
                rightSide[i] -= matrix[m][i] * rightSide[m];
            }
            rightSide[i] /= matrix[i][i];
        }
    }
}
