/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.internal;

/**
 * Tells an overload of one channel: three or more samples in a row at full scale (common practice, no source).
 *
 * <p>Samples re full scale 1; one that is not finite ends a run, unless it is infinite, which stands at full scale. Cost: a comparison a
 * sample. Thread-confined.
 *
 * <p>Not for a limit below full scale, nor where a period has so few samples that no three stand on a crest.
 */
public final class FullScaleRun {
    /** Full scale less half a step of 14 bits, so that the largest positive 16-bit sample counts. */
    public static final double FULL_SCALE = 1 - 1.0 / (1 << 14);

    private static final int OVERLOAD_SAMPLES = 3;

    private int run;

    /**
     * Takes a sample.
     *
     * @param sample sample, full scale 1
     * @return whether it is the third or a later one of a run at full scale
     */
    public boolean overloads(double sample) {
        run = Math.abs(sample) >= FULL_SCALE ? run + 1 : 0;
        return run >= OVERLOAD_SAMPLES;
    }

    /** Ends a run. */
    public void reset() {
        run = 0;
    }
}
