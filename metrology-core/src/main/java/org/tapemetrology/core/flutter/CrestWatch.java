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

    private final int lookLength;
    private long blocks;
    private int looked;
    private int cutOff;

    CrestWatch(double sampleRateHz) {
        this.lookLength = (int) Math.round(LOOK_SECONDS * sampleRateHz);
    }

    /** Forgets what it has seen. */
    void forget() {
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
     * crest that is cut off come from all over it.
     */
    private static boolean isCutOff(float[] samples, int offset, int length) {
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

    private static boolean isCutOffAt(
            float limit, int atLimit, double amplitude, float[] samples, int offset, int length) {
        if (Math.abs(limit) >= OverloadWatch.FULL_SCALE && atLimit > MOST_AT_FULL_SCALE * length) {
            return true;
        }
        if (atLimit < LEAST_AT_LIMIT) {
            return false;
        }
        double step = 2;
        float highestBefore = Float.NEGATIVE_INFINITY;
        float lowestBefore = Float.POSITIVE_INFINITY;
        for (int i = offset + 1; i < offset + length; i++) {
            float x = samples[i];
            if (x == limit) {
                highestBefore = Math.max(highestBefore, samples[i - 1]);
                lowestBefore = Math.min(lowestBefore, samples[i - 1]);
            } else {
                step = Math.min(step, Math.abs((double) limit - x) / amplitude);
            }
        }
        double spread = ((double) highestBefore - lowestBefore) / amplitude;
        return spread > MOST_SPREAD * 2 * Math.acos(1 - step);
    }
}
