/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/**
 * Tells crests that a limit cuts off from whole ones where dither or hiss hides it: near the crest of a whole tone the samples
 * follow the cosine of its phase, on a flat top they do not. Least squares give the slope of the one against the other, with its
 * standard error: a sine has 1, a third harmonic h in the phase that flattens most leaves 1 - 9 h, a limit leaves 0.
 *
 * <p>Amplitude and phase come from the fundamental under Hann windows of a few milliseconds that overlap by half, and by straight lines
 * between their centres: flutter must not move the crest away from where it is looked for.
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
     * Least standard deviation of the cosine near the crest, in steps. Two values that are 1.1 steps apart or more are not
     * rounded to one, so that rounding without dither makes no crest flat.
     */
    private static final double LEAST_STEPS = 0.55;

    private static final double WINDOW_SECONDS = 0.005;
    /** Under a Hann window of so many periods an offset is no part of the tone. */
    private static final double LEAST_PERIODS = 4;

    private static final int MOST_WINDOWS = 64;

    /** Power of the rest re the fundamental: a square wave leaves 0.23. */
    private static final double MOST_REST = 0.25;

    private final double sampleRateHz;
    /** Of the fundamental at the centre of each window, turned back by the mean frequency. */
    private final double[] re = new double[MOST_WINDOWS];

    private final double[] im = new double[MOST_WINDOWS];
    private double angle;
    private int half;
    private int windows;
    private double mean;

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

    CrestSlope(double sampleRateHz) {
        this.sampleRateHz = sampleRateHz;
    }

    /** Starts with a tone, whose frequency is known to a hundredth. */
    void watchTone(double frequencyHz) {
        angle = 2 * Math.PI * frequencyHz / sampleRateHz;
        double seconds = Math.max(WINDOW_SECONDS, LEAST_PERIODS / frequencyHz);
        half = (int) Math.ceil(seconds * sampleRateHz / 2);
    }

    /** Whether a crest at either end is flat; false where that cannot be told. */
    boolean isFlat(float[] samples, int offset, int length, double step) {
        windows = half > 0 ? Math.min(MOST_WINDOWS, length / half - 1) : 0;
        if (windows < 2) {
            return false;
        }
        mean = mean(samples, offset, length);
        double was = angle;
        fit(samples, offset);
        double turn = meanTurn();
        angle += turn / half;
        fit(samples, offset);
        if (!(Math.abs(turn) < Math.PI / 2 && rest(samples, offset) < MOST_REST)) {
            angle = was;
            return false;
        }
        return isFlatAt(1, samples, offset, step) || isFlatAt(-1, samples, offset, step);
    }

    private static double mean(float[] samples, int offset, int length) {
        double sum = 0;
        for (int i = offset; i < offset + length; i++) {
            sum += samples[i];
        }
        return sum / length;
    }

    private void fit(float[] samples, int offset) {
        double turnRe = Math.cos(angle);
        double turnIm = Math.sin(angle);
        double windowTurnRe = Math.cos(Math.PI / half);
        double windowTurnIm = Math.sin(Math.PI / half);
        for (int k = 0; k < windows; k++) {
            int from = k * half;
            double cos = Math.cos(angle * from);
            double sin = Math.sin(angle * from);
            double windowRe = 1;
            double windowIm = 0;
            double sumRe = 0;
            double sumIm = 0;
            for (int i = offset + from; i < offset + from + 2 * half; i++) {
                double weighted = (1 - windowRe) * (samples[i] - mean);
                sumRe += weighted * cos;
                sumIm -= weighted * sin;
                double next = cos * turnRe - sin * turnIm;
                sin = sin * turnRe + cos * turnIm;
                cos = next;
                double windowNext = windowRe * windowTurnRe - windowIm * windowTurnIm;
                windowIm = windowIm * windowTurnRe + windowRe * windowTurnIm;
                windowRe = windowNext;
            }
            re[k] = sumRe / half;
            im[k] = sumIm / half;
        }
    }

    /** How much the phase moves from window to window. */
    private double meanTurn() {
        double crossRe = 0;
        double crossIm = 0;
        for (int k = 1; k < windows; k++) {
            crossRe += re[k] * re[k - 1] + im[k] * im[k - 1];
            crossIm += im[k] * re[k - 1] - re[k] * im[k - 1];
        }
        return Math.atan2(crossIm, crossRe);
    }

    /** Power of what the fundamental leaves between the first centre and the last, re its own. */
    private double rest(float[] samples, int offset) {
        double squares = 0;
        double all = 0;
        for (int k = 0; k < windows - 1; k++) {
            int from = (k + 1) * half;
            for (int j = 0; j < half; j++) {
                double x = fundamental(k, j, Math.cos(angle * (from + j)), Math.sin(angle * (from + j)));
                double sample = samples[offset + from + j] - mean;
                squares += (sample - x) * (sample - x);
                all += x * x;
            }
        }
        return squares / all;
    }

    /** So many samples after the centre of a window. */
    private double fundamental(int window, int after, double cos, double sin) {
        double share = (double) after / half;
        double x = re[window] + share * (re[window + 1] - re[window]);
        double y = im[window] + share * (im[window + 1] - im[window]);
        return x * cos - y * sin;
    }

    /**
     * Least squares on the cosine and, for an error of the phase, on the sine. Where the samples stand at one place of the crest
     * alone, as where a few periods have a whole number of them, the two go together and the error of the slope is large.
     */
    private boolean isFlatAt(int side, float[] samples, int offset, double step) {
        clear();
        for (int k = 0; k < windows - 1; k++) {
            int from = (k + 1) * half;
            double crest = Math.hypot(re[k] + re[k + 1], im[k] + im[k + 1]) / 2;
            for (int j = 0; j < half; j++) {
                double cos = Math.cos(angle * (from + j));
                double sin = Math.sin(angle * (from + j));
                double x = side * fundamental(k, j, cos, sin);
                if (x > NEAR_CREST * crest) {
                    double y = side * fundamental(k, j, sin, -cos);
                    // Less the crest, so that the sums are of small numbers.
                    add(x - crest, y, side * (samples[offset + from + j] - mean) - crest);
                }
            }
        }
        double cc = sumCc - sumC * sumC / count;
        double ss = sumSs - sumS * sumS / count;
        double cs = sumCs - sumC * sumS / count;
        double cv = sumCv - sumC * sumV / count;
        double sv = sumSv - sumS * sumV / count;
        double alone = cc - cs * cs / ss; // what of the cosine is not the sine's
        if (count < LEAST_SAMPLES || !(alone > count * (LEAST_STEPS * LEAST_STEPS) * step * step)) {
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
