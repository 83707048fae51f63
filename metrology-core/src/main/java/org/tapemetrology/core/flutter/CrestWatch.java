/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/**
 * Finds crests that a limit cuts off where no three samples in a row stand on one, as where a period has a few samples only: by
 * how the samples that stand at the limit, and those before them, lie on the wave. Where the steps of the file are coarse and
 * dither hides that, by how flat the whole wave is. Every so often it looks at a piece of 20 ms.
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

    private static final int DITHERED_STEPS = 2;
    private static final int LEAST_DITHERED_AT_LIMIT = 2;
    /** Share of the samples that stand on those three where a top is flat enough to matter. */
    private static final double LEAST_DITHERED = 0.05;

    private static final double MOST_DITHERED_SPREAD = 1.4;

    /** From this step on, re the amplitude, rounding itself changes the wave. */
    private static final double TOO_COARSE = 0.05;

    /**
     * Kurtosis of a flat wave, the mean fourth power re the square of the mean square. A sine has 1.5; noise, hum, flutter of
     * the level and a second tone make it more, as does an even harmonic; a third harmonic of 3 % in the phase that
     * flattens most makes it 1.443, a limit at 0.89 of the amplitude 1.439.
     */
    private static final double FLAT = 1.4425;

    private static final int LEAST_FLAT_LOOKS = 5;
    /** The mean of so few periods is not that of a whole number of them. */
    private static final double LEAST_PERIODS = 5;
    /** With four samples a period the fourth power depends on where they stand; re the sampling rate. */
    private static final double NEAR_QUARTER = 0.02;

    private final double sampleRateHz;
    private final int lookLength;
    private long blocks;
    private int looked;
    private int cutOff;
    private boolean hasKurtosis;
    private int coarse;
    private double kurtoses;

    CrestWatch(double sampleRateHz) {
        this.sampleRateHz = sampleRateHz;
        this.lookLength = (int) Math.round(LOOK_SECONDS * sampleRateHz);
    }

    /** Starts to watch a tone and forgets what it has seen. */
    void watchTone(double frequencyHz) {
        looked = 0;
        cutOff = 0;
        coarse = 0;
        kurtoses = 0;
        hasKurtosis = frequencyHz * LOOK_SECONDS >= LEAST_PERIODS
                && Math.abs(frequencyHz / sampleRateHz - 0.25) > NEAR_QUARTER;
    }

    /** Takes a block. */
    void accept(float[] samples, int offset, int length) {
        if (blocks++ % LOOK_EVERY == 0) {
            looked++;
            cutOff += isCutOff(samples, offset, Math.min(length, lookLength)) ? 1 : 0;
        }
    }

    /** Whether crests were cut off in more than a share of the looks, and in more than one, or are flat all the time. */
    boolean cutOff(double share) {
        return cutOff > Math.max(1, share * looked) || (coarse >= LEAST_FLAT_LOOKS && kurtoses < FLAT * coarse);
    }

    /**
     * Samples that stand at the largest value of a whole sine are as near to its crest as the step to the next largest value
     * allows, {@code acos(1 - step / amplitude)}, and the samples before them differ by no more than twice that. Those on a
     * crest that is cut off come from all over it. Where steps are coarse, the three largest values are looked at together.
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
        if (!(amplitude > 0 && amplitude < Float.MAX_VALUE)) {
            return false;
        }
        if (hasKurtosis && atHighest >= LEAST_DITHERED_AT_LIMIT) {
            double step = nearest(highest, samples, offset, length);
            if (step > COARSE * amplitude && step < TOO_COARSE * amplitude) {
                coarse++;
                kurtoses += kurtosis(samples, offset, length);
            }
        }
        return isCutOffAt(highest, atHighest, amplitude, samples, offset, length)
                || isCutOffAt(lowest, atLowest, amplitude, samples, offset, length);
    }

    private static boolean isCutOffAt(
            float limit, int atLimit, double amplitude, float[] samples, int offset, int length) {
        if (Math.abs(limit) >= OverloadWatch.FULL_SCALE && atLimit > MOST_AT_FULL_SCALE * length) {
            return true;
        }
        if (atLimit < LEAST_DITHERED_AT_LIMIT) {
            return false; // which spares fine samples the rest
        }
        float step = nearest(limit, samples, offset, length);
        if (atLimit >= LEAST_AT_LIMIT
                && spreadBefore(limit, step, 0, 0, samples, offset, length) > MOST_SPREAD * ofWhole(step, amplitude)) {
            return true;
        }
        return step > COARSE * amplitude
                && spreadBefore(limit, step, DITHERED_STEPS, LEAST_DITHERED * length, samples, offset, length)
                        > MOST_DITHERED_SPREAD * ofWhole((DITHERED_STEPS + 1) * step, amplitude);
    }

    /** How far the next sample value is from the limit. */
    private static float nearest(float limit, float[] samples, int offset, int length) {
        float step = Float.POSITIVE_INFINITY;
        for (int i = offset; i < offset + length; i++) {
            float away = Math.abs(limit - samples[i]);
            if (away > 0 && away < step) {
                step = away;
            }
        }
        return step;
    }

    /** About the mean, with weights that are a parabola: it does not matter where in a period the samples begin and end. */
    private static double kurtosis(float[] samples, int offset, int length) {
        double weights = 0;
        double sum = 0;
        for (int i = 0; i < length; i++) {
            double weight = (i + 1.0) * (length - i);
            weights += weight;
            sum += weight * samples[offset + i];
        }
        double mean = sum / weights;
        double squares = 0;
        double fourths = 0;
        for (int i = 0; i < length; i++) {
            double weight = (i + 1.0) * (length - i);
            double square = (samples[offset + i] - mean) * (samples[offset + i] - mean);
            squares += weight * square;
            fourths += weight * square * square;
        }
        return fourths * weights / (squares * squares);
    }

    /** Most that the samples before those differ which stand less than some way below the crest of a whole sine. */
    private static double ofWhole(double below, double amplitude) {
        return 2 * Math.acos(Math.max(-1, 1 - below / amplitude)) * amplitude;
    }

    /** How much the samples differ that come before those on a limit and so many steps beside it; 0 where those are too few. */
    private static double spreadBefore(
            float limit, float step, int steps, double least, float[] samples, int offset, int length) {
        int count = 0;
        float highest = Float.NEGATIVE_INFINITY;
        float lowest = Float.POSITIVE_INFINITY;
        for (int i = offset + 1; i < offset + length; i++) {
            if (Math.abs(limit - samples[i]) <= (steps + 0.5f) * step) {
                count++;
                highest = Math.max(highest, samples[i - 1]);
                lowest = Math.min(lowest, samples[i - 1]);
            }
        }
        return count < least ? 0 : (double) highest - lowest;
    }
}
