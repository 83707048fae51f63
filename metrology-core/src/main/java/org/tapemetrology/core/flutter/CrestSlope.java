/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/**
 * Tells crests that a limit cuts off from whole ones, also where dither or hiss hides it: near the crest of a whole tone the samples
 * follow its fundamental, on a flat top they do not. Least squares give the slope of the one against the other, with its
 * standard error: a sine has 1, a third harmonic h in the phase that flattens most leaves 1 - 9 h, a limit leaves 0.
 */
final class CrestSlope {
    /** The part of the wave that is looked at, re the fundamental. */
    private static final double NEAR_CREST = 0.9;

    /** A third harmonic of 7 % leaves more; of either sign. */
    private static final double MOST_SLOPE = 0.35;

    /** With three, music of another track made some whole crests flat. */
    private static final double STANDARD_ERRORS = 4;

    private static final int LEAST_SAMPLES = 8;

    /**
     * Least standard deviation of the fundamental near the crest, in steps. Two values that are 1.1 steps apart or more are not
     * rounded to one, so that rounding without dither makes no crest flat.
     */
    private static final double LEAST_STEPS = 0.55;

    /** The same re the crest: the fundamental itself is known to a ten-thousandth of it at best. */
    private static final double LEAST_SHARE = 0.001;

    private int count;
    private double sumC;
    private double sumS;
    private double sumV;
    private double sumCc;
    private double sumCs;
    private double sumSs;
    private double sumCv;
    private double sumSv;
    private double sumVv;

    /** Whether the crests at either end of a piece are flat; false where that cannot be told. */
    boolean isFlat(LocalFundamental fundamental, float[] samples, int offset, double step) {
        return isFlatAt(1, fundamental, samples, offset, step) || isFlatAt(-1, fundamental, samples, offset, step);
    }

    /**
     * Least squares on the fundamental and, for an error of its phase, on the same a quarter of a period before. Where the samples
     * stand at one place of the crest alone, as where a few periods have a whole number of them, the two go together and the error of
     * the slope is large.
     */
    private boolean isFlatAt(int side, LocalFundamental fundamental, float[] samples, int offset, double step) {
        clear();
        int start = offset + fundamental.start();
        // Less one of the crests, the same of both, so that the sums are of small numbers.
        double about = fundamental.amplitude(0);
        for (int i = 0; i < fundamental.length(); i++) {
            double x = side * fundamental.value(i);
            if (x > NEAR_CREST * fundamental.amplitude(i)) {
                double sample = side * (samples[start + i] - fundamental.mean());
                add(x - about, side * fundamental.quarterBefore(i), sample - about);
            }
        }
        double cc = sumCc - sumC * sumC / count;
        double ss = sumSs - sumS * sumS / count;
        double cs = sumCs - sumC * sumS / count;
        double cv = sumCv - sumC * sumV / count;
        double sv = sumSv - sumS * sumV / count;
        double alone = cc - cs * cs / ss; // what of the cosine is not the sine's
        double least = Math.max(LEAST_STEPS * step, LEAST_SHARE * about);
        if (count < LEAST_SAMPLES || !(alone > count * least * least)) {
            return false;
        }
        double slope = (cv - cs * sv / ss) / alone;
        double rest = sumVv - sumV * sumV / count - slope * cv - (sv - slope * cs) / ss * sv;
        double error = Math.sqrt(Math.max(rest / (count - 3), step * step / 12) / alone);
        // A second tone may tilt it either way, a limit does not.
        return slope > -MOST_SLOPE && slope + STANDARD_ERRORS * error < MOST_SLOPE;
    }

    private void clear() {
        count = 0;
        sumC = 0;
        sumS = 0;
        sumV = 0;
        sumCc = 0;
        sumCs = 0;
        sumSs = 0;
        sumCv = 0;
        sumSv = 0;
        sumVv = 0;
    }

    private void add(double c, double s, double v) {
        count++;
        sumC += c;
        sumS += s;
        sumV += v;
        sumCc += c * c;
        sumCs += c * s;
        sumSs += s * s;
        sumCv += c * v;
        sumSv += s * v;
        sumVv += v * v;
    }
}
