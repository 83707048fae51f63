/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/**
 * Finds crests that a limit cuts off where no three samples in a row stand on one, as where a period has a few samples only: by
 * how the samples that stand at the limit, and those before them, lie on the wave. Every so often it looks at a piece of 20 ms.
 */
final class CrestWatch {
    /** The beginning of one block in so many is looked at. */
    private static final int LOOK_EVERY = 4;

    private static final double LOOK_SECONDS = 0.02;

    /** Of a sine that just reaches full scale less than a hundredth stands there. */
    private static final double MOST_AT_FULL_SCALE = 0.05;

    private static final int LEAST_AT_LIMIT = 5;
    /** Steps below the limit that count as at it: dither puts what stands on a flat top on three of them. */
    private static final int STEPS = 2;
    /** Dither of one step either way, and hiss of as much, let the samples before differ so much more. */
    private static final double MOST_SPREAD = 1.4;

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
     * Samples within two steps of the largest value of a whole sine are as near to its crest as those three steps allow, {@code
     * acos(1 - 3 step / amplitude)}, and the samples before them differ by no more than twice that. Those on a crest that
     * is cut off come from all over it.
     */
    private static boolean isCutOff(float[] samples, int offset, int length) {
        float highest = Float.NEGATIVE_INFINITY;
        float lowest = Float.POSITIVE_INFINITY;
        // Branches, which hardly ever are taken, are quicker here than the library's minimum and maximum. Least is the
        // lower
        // one of the two magnitudes: one comparison tells of most samples that they are neither.
        float least = Float.NEGATIVE_INFINITY;
        for (int i = offset; i < offset + length; i++) {
            float x = samples[i];
            if (Math.abs(x) > least) {
                if (x > highest) {
                    highest = x;
                }
                if (x < lowest) {
                    lowest = x;
                }
                least = Math.min(highest, -lowest);
            }
        }
        double amplitude = ((double) highest - lowest) / 2;
        return amplitude > 0
                && amplitude < Float.MAX_VALUE
                && (isCutOffAt(highest, amplitude, samples, offset, length)
                        || isCutOffAt(lowest, amplitude, samples, offset, length));
    }

    private static boolean isCutOffAt(float limit, double amplitude, float[] samples, int offset, int length) {
        int atLimit = 0;
        float step = Float.POSITIVE_INFINITY;
        for (int i = offset; i < offset + length; i++) {
            float away = Math.abs(limit - samples[i]);
            if (away < step) {
                if (away > 0) {
                    step = away;
                } else {
                    atLimit++;
                }
            }
        }
        if (Math.abs(limit) >= OverloadWatch.FULL_SCALE && atLimit > MOST_AT_FULL_SCALE * length) {
            return true;
        }
        double allowed = MOST_SPREAD * 2 * Math.acos(Math.max(-1, 1 - (STEPS + 1) * step / amplitude));
        return spreadBefore(limit, (STEPS + 0.5f) * step, samples, offset, length) > allowed * amplitude;
    }

    /** How much the samples differ that come before those within a distance of a limit; 0 where those are few. */
    private static double spreadBefore(float limit, float within, float[] samples, int offset, int length) {
        int count = 0;
        float highest = Float.NEGATIVE_INFINITY;
        float lowest = Float.POSITIVE_INFINITY;
        for (int i = offset + 1; i < offset + length; i++) {
            if (Math.abs(limit - samples[i]) <= within) {
                count++;
                highest = Math.max(highest, samples[i - 1]);
                lowest = Math.min(lowest, samples[i - 1]);
            }
        }
        return count < LEAST_AT_LIMIT ? 0 : (double) highest - lowest;
    }
}
