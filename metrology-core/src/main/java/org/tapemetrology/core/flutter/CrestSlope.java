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

    private final PartialSlope slope = new PartialSlope();

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
        slope.clear();
        int start = offset + fundamental.start();
        // Less one of the crests, the same of both, so that the sums are of small numbers.
        double about = fundamental.amplitude(0);
        for (int i = 0; i < fundamental.length(); i++) {
            double x = side * fundamental.value(i);
            if (x > NEAR_CREST * fundamental.amplitude(i)) {
                double sample = side * (samples[start + i] - fundamental.mean());
                slope.add(x - about, side * fundamental.quarterBefore(i), sample - about);
            }
        }
        double least = Math.max(LEAST_STEPS * step, LEAST_SHARE * about);
        if (slope.count() < LEAST_SAMPLES || !(slope.alone() > slope.count() * least * least)) {
            return false;
        }
        // A second tone may tilt it either way, a limit does not.
        double rounding = step * step / 12;
        return slope.slope() > -MOST_SLOPE && slope.slope() + STANDARD_ERRORS * slope.error(rounding) < MOST_SLOPE;
    }
}
