/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import java.util.Arrays;

/**
 * Least-squares fit of a constant and of a fundamental with its harmonics 2 to {@value #HARMONICS} to a window of
 * samples, where the fundamental is known within {@value #SEARCHED_HZ} Hz.
 *
 * <p>The time is counted from the middle of the window. Cosines and sines are then orthogonal to each other, so the fit
 * falls into two small systems whose matrices are known in closed form:
 * {@code sum cos(a t) cos(b t) = (D(a-b) + D(a+b)) / 2} with {@code D(x) = sin(N x/2) / sin(x/2)}, and with a minus for
 * the sines. They are positive definite and solved by Cholesky's method in arrays of the fit.
 *
 * <p>All sums run over short blocks first, side by side, and the sums of blocks are then turned by where each block lies.
 * The fundamental is the one whose harmonics hold most power: first on a grid, by turning the same blocks for each trial
 * frequency, then at the top of the parabola through the highest point of the grid and its neighbours.
 */
final class HarmonicFit {
    static final int HARMONICS = 10;
    /** How far the mains may be off. Its real variation is 0.2 Hz; the rest keeps the parabola inside the grid. */
    static final double SEARCHED_HZ = 0.3;

    /** Harmonic 10 has its first null 0.1 Hz of the fundamental away in 1 s: five steps. */
    private static final double STEP_HZ = 0.02;

    private static final int STEPS = (int) Math.round(2 * SEARCHED_HZ / STEP_HZ) + 1;
    /** Equal blocks of a window, worked on side by side. */
    static final int BLOCKS = 100;
    /** Blocks that are one in the search: in 40 ms harmonic 10 turns by 0.12 cycles at most, which costs 5 % of it. */
    private static final int BLOCKS_IN_SEARCH = 4;

    /** Blocks that are one in the noise beside the harmonics: in 20 ms it turns by 0.16 cycles at most. */
    private static final int BLOCKS_IN_NOISE = 2;
    /** The noise beside a harmonic is that in the bins of 1 s so far to both sides of it, under a Hann window. */
    private static final int NEAREST_NOISE = 4;

    private static final int FARTHEST_NOISE = 7;

    private final double nominalHz;
    private final double rateHz;
    private final int length;
    private final int blockLength;
    /** Sample m of every block of the window, its mean taken off; a last row of zeros makes their number even. */
    private final double[][] rows;
    /** Sums over each block, turned to the middle of the window. */
    private final double[][] blockRe = new double[HARMONICS + 1][BLOCKS];

    private final double[][] blockIm = new double[HARMONICS + 1][BLOCKS];
    private final double[][] trialTurnRe = new double[STEPS][HARMONICS + 1];
    private final double[][] trialTurnIm = new double[STEPS][HARMONICS + 1];
    private final double[] trialPower = new double[STEPS];
    /** Turn of a block of the noise for each offset in bins, from one below the nearest to one above the farthest. */
    private final double[] noiseTurnRe = new double[FARTHEST_NOISE - NEAREST_NOISE + 3];

    private final double[] noiseTurnIm = new double[noiseTurnRe.length];
    private final double[] binRe = new double[noiseTurnRe.length];
    private final double[] binIm = new double[noiseTurnRe.length];
    private final double[] cosines = new double[HARMONICS + 1];
    private final double[] sines = new double[HARMONICS];
    private final double[] dirichlet = new double[2 * HARMONICS + 1];
    private final double[][] matrix = new double[HARMONICS + 1][HARMONICS + 1];

    HarmonicFit(double nominalHz, double rateHz, int length) {
        this.nominalHz = nominalHz;
        this.rateHz = rateHz;
        this.length = length;
        if (length % BLOCKS != 0) {
            throw new IllegalArgumentException("length " + length + " is no multiple of " + BLOCKS);
        }
        this.blockLength = length / BLOCKS;
        this.rows = new double[blockLength + blockLength % 2][BLOCKS];
        double seconds = BLOCKS_IN_SEARCH * blockLength / rateHz;
        for (int trial = 0; trial < STEPS; trial++) {
            for (int k = 1; k <= HARMONICS; k++) {
                double turn = 2 * Math.PI * k * (trial - STEPS / 2) * STEP_HZ * seconds;
                trialTurnRe[trial][k] = StrictMath.cos(turn);
                trialTurnIm[trial][k] = -StrictMath.sin(turn);
            }
        }
        for (int i = 0; i < noiseTurnRe.length; i++) {
            double turn = 2 * Math.PI * (NEAREST_NOISE - 1 + i) * BLOCKS_IN_NOISE * blockLength / length;
            noiseTurnRe[i] = StrictMath.cos(turn);
            noiseTurnIm[i] = -StrictMath.sin(turn);
        }
    }

    /**
     * Fits a window and adds the power of each harmonic, half its squared amplitude, to sums, and to others the power that
     * the noise beside it would show in its place.
     *
     * @return the fundamental that was found, in Hz
     */
    double fit(double[] window, double[] powerSums, double[] noiseSums) {
        takeBlocks(window);
        double fundamentalHz = fundamental();
        project(fundamentalHz);
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
            noiseSums[k] += noiseBeside(k + 1);
        }
        return fundamentalHz;
    }

    private void takeBlocks(double[] window) {
        double mean = 0;
        for (int n = 0; n < length; n++) {
            mean += window[n];
        }
        mean /= length;
        for (int block = 0; block < BLOCKS; block++) {
            for (int m = 0; m < blockLength; m++) {
                rows[m][block] = window[block * blockLength + m] - mean;
            }
        }
    }

    private double fundamental() {
        for (int k = 1; k <= HARMONICS; k++) {
            sumBlocks(k, nominalHz);
            join(blockRe[k], BLOCKS_IN_SEARCH);
            join(blockIm[k], BLOCKS_IN_SEARCH);
        }
        int best = 0;
        for (int trial = 0; trial < STEPS; trial++) {
            trialPower[trial] = powerAt(trial);
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

    /** Sums of every block times the phasor of a harmonic, of phase 0 at the middle of the window. */
    private void sumBlocks(int harmonic, double fundamentalHz) {
        double[] re = blockRe[harmonic];
        double[] im = blockIm[harmonic];
        Arrays.fill(re, 0);
        Arrays.fill(im, 0);
        double step = 2 * Math.PI * harmonic * fundamentalHz / rateHz;
        double stepRe = Math.cos(step);
        double stepIm = -Math.sin(step);
        double turnRe = 1;
        double turnIm = 0;
        for (int m = 0; m < blockLength; m += 2) { // the row behind the last of an odd number is zero
            double nextRe = turnRe * stepRe - turnIm * stepIm;
            double nextIm = turnRe * stepIm + turnIm * stepRe;
            Lanes.addTwo(re, rows[m], rows[m + 1], turnRe, nextRe);
            Lanes.addTwo(im, rows[m], rows[m + 1], turnIm, nextIm);
            turnRe = nextRe * stepRe - nextIm * stepIm;
            turnIm = nextRe * stepIm + nextIm * stepRe;
        }
        double middle = (length - 1) / 2.0;
        double blockTurnRe = Math.cos(step * blockLength);
        double blockTurnIm = -Math.sin(step * blockLength);
        turnRe = Math.cos(step * middle);
        turnIm = Math.sin(step * middle);
        for (int block = 0; block < BLOCKS; block++) {
            double sumRe = re[block];
            re[block] = sumRe * turnRe - im[block] * turnIm;
            im[block] = sumRe * turnIm + im[block] * turnRe;
            double turned = turnRe * blockTurnRe - turnIm * blockTurnIm;
            turnIm = turnRe * blockTurnIm + turnIm * blockTurnRe;
            turnRe = turned;
        }
    }

    /** Adds up so many blocks at a time. */
    private static void join(double[] blocks, int together) {
        for (int joined = 0; joined < BLOCKS / together; joined++) {
            double sum = 0;
            for (int i = 0; i < together; i++) {
                sum += blocks[joined * together + i];
            }
            blocks[joined] = sum;
        }
    }

    /** Power of all harmonics at a trial frequency, in arbitrary units. */
    private double powerAt(int trial) {
        double power = 0;
        for (int k = 1; k <= HARMONICS; k++) {
            double turnRe = trialTurnRe[trial][k];
            double turnIm = trialTurnIm[trial][k];
            double sumRe = 0;
            double sumIm = 0;
            for (int block = BLOCKS / BLOCKS_IN_SEARCH - 1; block >= 0; block--) { // Horner's rule
                double re = sumRe * turnRe - sumIm * turnIm + blockRe[k][block];
                sumIm = sumRe * turnIm + sumIm * turnRe + blockIm[k][block];
                sumRe = re;
            }
            power += sumRe * sumRe + sumIm * sumIm;
        }
        return power;
    }

    /** Sums of the window times cosines and sines of the harmonics; the first cosine is the constant. */
    private void project(double fundamentalHz) {
        for (int k = 0; k <= HARMONICS; k++) {
            sumBlocks(k, fundamentalHz);
            double sumRe = 0;
            double sumIm = 0;
            for (int block = 0; block < BLOCKS; block++) {
                sumRe += blockRe[k][block];
                sumIm += blockIm[k][block];
            }
            cosines[k] = sumRe;
            if (k > 0) {
                sines[k - 1] = -sumIm;
            }
        }
    }

    /**
     * Mean power of a sine that the noise on both sides of a harmonic stands for. The bins lie whole cycles per window
     * away from the harmonic, where it vanishes, and the Hann window, made of three bins each, keeps other tones out.
     */
    private double noiseBeside(int harmonic) {
        join(blockRe[harmonic], BLOCKS_IN_NOISE);
        join(blockIm[harmonic], BLOCKS_IN_NOISE);
        double sum = 0;
        for (int side = -1; side <= 1; side += 2) {
            for (int i = 0; i < binRe.length; i++) {
                double re = 0;
                double im = 0;
                double turnIm = side * noiseTurnIm[i];
                for (int block = BLOCKS / BLOCKS_IN_NOISE - 1; block >= 0; block--) { // Horner's rule
                    double turned = re * noiseTurnRe[i] - im * turnIm + blockRe[harmonic][block];
                    im = re * turnIm + im * noiseTurnRe[i] + blockIm[harmonic][block];
                    re = turned;
                }
                binRe[i] = re;
                binIm[i] = im;
            }
            for (int i = 1; i + 1 < binRe.length; i++) {
                // Counted from the start of the window, neighbours have the weights 1, -1/2 and -1/2.
                double re = binRe[i] - (binRe[i - 1] + binRe[i + 1]) / 2;
                double im = binIm[i] - (binIm[i - 1] + binIm[i + 1]) / 2;
                sum += re * re + im * im;
            }
        }
        double bins = 2 * (binRe.length - 2);
        return sum / bins / 1.5 * 2 / ((double) length * length);
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
