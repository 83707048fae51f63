/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import org.tapemetrology.core.internal.FullScaleRun;

/**
 * Finds clipping: three or more equal samples in a row that stand at full scale, or at the extreme of the recording and
 * over a wider angle of the tone than any crest rounded to the resolution of the file would (half a radian; the crest of a
 * 16-bit tone at -60 dBFS spans 0.5 rad at most). What no three samples show is for {@link CrestWatch}: where a period has few of
 * them, too many single ones stand at full scale, of a tone or of what nobody takes for one.
 */
final class OverloadWatch {
    private static final int LEAST_RUN = 3;
    private static final double LEAST_ANGLE = 0.5;
    private static final float NEAR_EXTREME = 0.999f;
    /** Share of the periods with a flat top from which the recording counts as clipped. */
    private static final double CLIPPED_PERIODS = 0.01;

    private final double sampleRateHz;
    private final CrestWatch crests;
    private float previous = Float.NaN;
    private int run = 1;
    private float extreme;
    private long flatTops;
    private long firstFullScale = -1;
    private long lastFullScale = -1;
    private int leastFlatRun = Integer.MAX_VALUE;
    private long sinceTone;
    private double toneHz;

    OverloadWatch(double sampleRateHz) {
        this.sampleRateHz = sampleRateHz;
        this.crests = new CrestWatch(sampleRateHz);
    }

    /** Starts to count flat tops of a tone. */
    void watchTone(double frequencyHz) {
        toneHz = frequencyHz;
        int span = (int) Math.ceil(LEAST_ANGLE * sampleRateHz / (2 * Math.PI * frequencyHz));
        leastFlatRun = Math.max(LEAST_RUN, span + 1);
        flatTops = 0;
        sinceTone = 0;
        extreme = 0;
        crests.watchTone(frequencyHz);
    }

    void accept(float[] samples, int offset, int length, long firstIndex) {
        if (run >= LEAST_RUN - 1 || hasEqualPair(samples, offset, length)) {
            followRuns(samples, offset, length, firstIndex);
        } else {
            int end = offset + length;
            boolean pair = samples[end - 1] == samples[end - 2];
            run = pair ? 2 : 1;
            previous = samples[end - 1];
        }
        sinceTone += length;
        crests.accept(samples, offset, length);
        if (crests.atFullScale() && run < LEAST_RUN && lastFullScale < firstIndex) { // a run tells more exactly when
            noteFullScale(firstIndex, firstIndex + length);
        }
    }

    private void noteFullScale(long from, long to) {
        firstFullScale = firstFullScale < 0 ? from : firstFullScale;
        lastFullScale = to;
    }

    /**
     * Three equal samples in a row hold two that stand at places 2k and 2k + 1, so every second pair is enough. A run may
     * also end the block before: then one sample of this block belongs to it at least, and two where only one came before.
     */
    private boolean hasEqualPair(float[] samples, int offset, int length) {
        int pairs = length < 2 || samples[offset] == previous ? 1 : 0;
        for (int i = offset; i < offset + length - 1; i += 2) {
            // As bits, which takes half the time; that the two zeros differ so matters nowhere, for a limit is not
            // zero.
            if (Float.floatToRawIntBits(samples[i]) == Float.floatToRawIntBits(samples[i + 1])) {
                pairs++;
            }
        }
        return pairs > 0;
    }

    private void followRuns(float[] samples, int offset, int length, long firstIndex) {
        float last = previous;
        int equal = run;
        for (int i = 0; i < length; i++) {
            float x = samples[offset + i];
            if (x == last) {
                equal++;
            } else {
                if (equal >= LEAST_RUN) {
                    close(last, equal, firstIndex + i);
                }
                equal = 1;
                last = x;
            }
        }
        previous = last;
        run = equal;
    }

    private void close(float value, int equal, long end) {
        float magnitude = Math.abs(value);
        if (magnitude >= FullScaleRun.FULL_SCALE) {
            noteFullScale(end - equal, end);
        }
        if (equal >= leastFlatRun && magnitude > 0) {
            if (magnitude > extreme / NEAR_EXTREME) {
                flatTops = 0; // what was taken for the extreme was none
            }
            extreme = Math.max(extreme, magnitude);
            if (magnitude >= NEAR_EXTREME * extreme) {
                flatTops++;
            }
        }
    }

    boolean fullScaleReached() {
        return firstFullScale >= 0;
    }

    double firstFullScaleSeconds() {
        return firstFullScale / sampleRateHz;
    }

    double lastFullScaleSeconds() {
        return lastFullScale / sampleRateHz;
    }

    /** Whether so many samples stand on one value that what was taken for no tone may be one that is cut off. */
    boolean limitedWithoutTone() {
        return toneHz == 0 && crests.limited(CLIPPED_PERIODS);
    }

    /** Whether so many crests are flat that the level means nothing. */
    boolean clipped() {
        double periods = sinceTone / sampleRateHz * toneHz;
        return toneHz > 0 && (flatTops > CLIPPED_PERIODS * periods || crests.cutOff(CLIPPED_PERIODS));
    }
}
