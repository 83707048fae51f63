/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/**
 * Finds crests that a limit cuts off where no three samples in a row stand on one, as where a period has a few samples only: by
 * how the samples that stand at the limit, and those before them, lie on the wave. Every so often it looks at a piece of 20 ms.
 */
final class CrestWatch {
    /** The beginning of one block in so many is looked at. */
    private static final int LOOK_EVERY = 2;

    private static final double LOOK_SECONDS = 0.02;

    /** Of a sine that just reaches full scale less than a hundredth stands there. */
    private static final double MOST_AT_FULL_SCALE = 0.05;

    private static final int LEAST_AT_LIMIT = 5;
    /** Dither of one step either way lets the samples before differ 1.6 times as much. */
    private static final double MOST_SPREAD = 2.5;

    /** From this step on, re the amplitude, dither hides a flat top: it puts what stands there on three steps. */
    private static final double COARSE = 0.002;

    private static final int LEAST_DITHERED_AT_LIMIT = 2;

    private final int lookLength;
    private final CrestSlope slope;
    private long blocks;
    private int looked;
    private int cutOff;

    CrestWatch(double sampleRateHz) {
        this.lookLength = (int) Math.round(LOOK_SECONDS * sampleRateHz);
        this.slope = new CrestSlope(sampleRateHz);
    }

    /** Starts to watch a tone, and forgets what it has seen. */
    void watchTone(double frequencyHz) {
        slope.watchTone(frequencyHz);
        looked = 0;
        cutOff = 0;
    }

    /** Takes a block. */
    void accept(float[] samples, int offset, int length) {
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
     * Samples that stand at the largest value of a whole sine are as near to its crest as the step to the next largest value
     * allows, {@code acos(1 - step / amplitude)}, and the samples before them differ by no more than twice that. Those on a
     * crest that is cut off come from all over it. Where steps are coarse, dither may hide that, and {@link CrestSlope} tells.
     */
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
        return amplitude > 0
                && amplitude < Float.MAX_VALUE
                && (isCutOffAt(highest, atHighest, amplitude, samples, offset, length)
                        || isCutOffAt(lowest, atLowest, amplitude, samples, offset, length));
    }

    private boolean isCutOffAt(float limit, int atLimit, double amplitude, float[] samples, int offset, int length) {
        if (Math.abs(limit) >= OverloadWatch.FULL_SCALE && atLimit > MOST_AT_FULL_SCALE * length) {
            return true;
        }
        if (atLimit < LEAST_DITHERED_AT_LIMIT) {
            return false; // which spares fine samples the rest
        }
        float step = Float.POSITIVE_INFINITY;
        for (int i = offset; i < offset + length; i++) {
            float away = Math.abs(limit - samples[i]);
            if (away > 0 && away < step) {
                step = away;
            }
        }
        if (atLimit >= LEAST_AT_LIMIT
                && spreadBefore(limit, samples, offset, length) > MOST_SPREAD * ofWhole(step, amplitude)) {
            return true;
        }
        return step > COARSE * amplitude && slope.isFlat(samples, offset, length, step);
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
}
