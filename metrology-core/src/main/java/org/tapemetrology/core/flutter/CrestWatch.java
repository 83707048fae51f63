/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import org.tapemetrology.core.internal.FullScaleRun;

/**
 * Finds crests that a limit cuts off where no three samples in a row stand on one, as where a period has a few samples only. Every
 * so often it looks at a piece of 20 ms, or longer for a low tone. Two signs make it look at the {@link LocalFundamental}: that samples
 * before those at a limit come from all over the wave, and that steps are so coarse that dither may hide a flat top. Neither is
 * enough: where a period has a whole number of samples, two of a whole wave may stand beside each crest. Then crests are cut off if
 * the fundamental differs where the samples do not, or does not slope with them ({@link CrestSlope}).
 */
final class CrestWatch {
    /** The beginning of one block in so many is looked at. */
    private static final int LOOK_EVERY = 2;

    private static final double LOOK_SECONDS = 0.02;

    /** Of a sine that just reaches full scale less than a hundredth stands there, unless its period is a few whole samples. */
    private static final double MOST_AT_FULL_SCALE = 0.05;

    private static final int LEAST_AT_LIMIT = 5;

    /** Of two sines of a common period of 24 samples, as of 10 kHz and 12 kHz at 48 kHz, a twelfth stand on one value at most. */
    private static final double MOST_ON_ONE_VALUE = 0.1;
    /** Of less than so many steps the tops of what is whole stand on one value too. */
    private static final double LEAST_STEPS = 50;

    /** Dither of one step either way lets the samples before differ 1.6 times as much. */
    private static final double MOST_SPREAD = 2.5;

    /** Rounding of dither of one step either way puts a tone on one value over three steps, and a limit over all that it cuts off. */
    private static final double MOST_STEPS = 4;

    private static final double LEAST_SPREAD = 0.01;

    /** From this step on, re the amplitude, dither hides a flat top: it puts what stands there on three steps. */
    private static final double COARSE = 0.002;

    private static final int LEAST_DITHERED_AT_LIMIT = 2;

    private final double sampleRateHz;
    private final LocalFundamental fundamental;
    private final CrestSlope slope = new CrestSlope();
    private int lookLength;
    private long blocks;
    private int looked;
    private int cutOff;
    private int limited;
    private boolean atFullScale;

    CrestWatch(double sampleRateHz) {
        this.sampleRateHz = sampleRateHz;
        this.fundamental = new LocalFundamental(sampleRateHz);
        this.lookLength = lookLength();
    }

    /** Starts to watch a tone, and forgets what it has seen. */
    void watchTone(double frequencyHz) {
        fundamental.watchTone(frequencyHz);
        lookLength = lookLength();
        looked = 0;
        cutOff = 0;
        limited = 0;
    }

    private int lookLength() {
        return Math.max((int) Math.round(LOOK_SECONDS * sampleRateHz), fundamental.leastLength());
    }

    /** Takes a block. */
    void accept(float[] samples, int offset, int length) {
        atFullScale = false;
        if (blocks++ % LOOK_EVERY == 0) {
            looked++;
            cutOff += isCutOff(samples, offset, Math.min(length, lookLength)) ? 1 : 0;
        }
    }

    /** Whether crests were cut off in more than a share of the looks, and in more than one. */
    boolean cutOff(double share) {
        return cutOff > Math.max(1, share * looked);
    }

    /**
     * Whether in more than a share of the looks, and in more than one, more samples stood on one value than those of any sum of a
     * few tones. A lone tone may: of a quarter of the sampling rate half the samples stand on a crest.
     */
    boolean limited(double share) {
        return limited > Math.max(1, share * looked);
    }

    /** Whether more samples of the block that came last stand at full scale than those of a sine do; false where it was not looked at. */
    boolean atFullScale() {
        return atFullScale;
    }

    private boolean isCutOff(float[] samples, int offset, int length) {
        float highest = Float.NEGATIVE_INFINITY;
        float lowest = Float.POSITIVE_INFINITY;
        int atHighest = 0;
        int atLowest = 0;
        // The lower one of the two magnitudes: one comparison, hardly ever true, tells of most samples that they are
        // neither.
        float least = Float.NEGATIVE_INFINITY;
        for (int i = offset; i < offset + length; i++) {
            float x = samples[i];
            if (Math.abs(x) >= least) {
                if (x >= highest) {
                    atHighest = x == highest ? atHighest + 1 : 1;
                    highest = x;
                }
                if (x <= lowest) {
                    atLowest = x == lowest ? atLowest + 1 : 1;
                    lowest = x;
                }
                least = Math.min(highest, -lowest);
            }
        }
        double amplitude = ((double) highest - lowest) / 2;
        if (!(amplitude > 0 && amplitude < Float.MAX_VALUE)) {
            return false;
        }
        atFullScale = isFullScale(highest, atHighest, length) || isFullScale(lowest, atLowest, length);
        if (atFullScale) {
            return true;
        }
        if (atHighest < LEAST_DITHERED_AT_LIMIT && atLowest < LEAST_DITHERED_AT_LIMIT) {
            return false; // which spares fine samples the rest
        }
        float below = stepFrom(highest, samples, offset, length);
        float above = stepFrom(lowest, samples, offset, length);
        if (Math.max(atHighest, atLowest) > MOST_ON_ONE_VALUE * length
                && amplitude > LEAST_STEPS * Math.min(below, above)) {
            limited++;
        }
        boolean spread = (atHighest >= LEAST_AT_LIMIT && isSpread(highest, below, amplitude, samples, offset, length))
                || (atLowest >= LEAST_AT_LIMIT && isSpread(lowest, above, amplitude, samples, offset, length));
        if (!fundamental.canTell(length)) {
            return spread; // a low tone, whose samples are too many in a period to stand at a few places
        }
        float step = Math.min(below, above);
        if (!(spread || step > COARSE * amplitude) || !fundamental.follow(samples, offset, length)) {
            return false;
        }
        double most = MOST_STEPS * step + LEAST_SPREAD * amplitude;
        return (atHighest >= LEAST_AT_LIMIT && spreadAt(highest, samples, offset) > most)
                || (atLowest >= LEAST_AT_LIMIT && spreadAt(lowest, samples, offset) > most)
                || slope.isFlat(fundamental, samples, offset, step);
    }

    private static boolean isFullScale(float limit, int atLimit, int length) {
        return Math.abs(limit) >= FullScaleRun.FULL_SCALE
                && atLimit >= LEAST_AT_LIMIT
                && atLimit > MOST_AT_FULL_SCALE * length;
    }

    /** How far the next value stands from a limit. */
    private static float stepFrom(float limit, float[] samples, int offset, int length) {
        float step = Float.POSITIVE_INFINITY;
        for (int i = offset; i < offset + length; i++) {
            float away = Math.abs(limit - samples[i]);
            if (away > 0 && away < step) {
                step = away;
            }
        }
        return step;
    }

    /**
     * Samples that stand at the largest value of a whole sine are as near to its crest as the step to the next largest value
     * allows, {@code acos(1 - step / amplitude)}, and the samples before them differ by no more than twice that. Those on a
     * crest that is cut off come from all over it.
     */
    private static boolean isSpread(
            float limit, float step, double amplitude, float[] samples, int offset, int length) {
        return spreadBefore(limit, samples, offset, length) > MOST_SPREAD * ofWhole(step, amplitude);
    }

    /** Most that the samples before those differ which stand less than some way below the crest of a whole sine. */
    private static double ofWhole(double below, double amplitude) {
        return 2 * Math.acos(Math.max(-1, 1 - below / amplitude)) * amplitude;
    }

    /** How much the samples differ that come before those on a limit. */
    private static double spreadBefore(float limit, float[] samples, int offset, int length) {
        float highest = Float.NEGATIVE_INFINITY;
        float lowest = Float.POSITIVE_INFINITY;
        for (int i = offset + 1; i < offset + length; i++) {
            if (samples[i] == limit) {
                highest = Math.max(highest, samples[i - 1]);
                lowest = Math.min(lowest, samples[i - 1]);
            }
        }
        return (double) highest - lowest;
    }

    /** How much the fundamental differs where the samples stand at a limit. */
    private double spreadAt(float limit, float[] samples, int offset) {
        double highest = Double.NEGATIVE_INFINITY;
        double lowest = Double.POSITIVE_INFINITY;
        int start = offset + fundamental.start();
        for (int i = 0; i < fundamental.length(); i++) {
            if (samples[start + i] == limit) {
                highest = Math.max(highest, fundamental.value(i));
                lowest = Math.min(lowest, fundamental.value(i));
            }
        }
        return highest - lowest;
    }
}
