/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

import org.tapemetrology.core.filter.FirDecimator;
import org.tapemetrology.core.filter.FirDesign;

/**
 * Complex amplitude of a tone at some 500 Hz, kept for 60 s: 30 s after the loudest quarter of a second, where that stands
 * 20 dB above the quietest, nothing more is taken. So a burst stays in the memory with what is around it. Thread-confined.
 */
final class ToneMemory {
    /** Movement of the frequency that passes: 3 % of the highest tone, 4 kHz, and its flutter. */
    private static final double PASS_HZ = 160;

    private static final double KEPT_RATE_HZ = 500;
    private static final double ATTENUATION_DB = 80;
    private static final double SECONDS = 60;
    private static final double AFTER_SECONDS = SECONDS / 2;
    private static final double WINDOW_SECONDS = 0.25;
    private static final double STANDS_OUT = 100;
    private static final int CHUNK = 1024;

    private final double turnsPerSample;
    private final double keptRateHz;
    private final double delaySeconds;
    private final FirDecimator realFilter;
    private final FirDecimator imaginaryFilter;
    private final double[] mixedRe = new double[CHUNK];
    private final double[] mixedIm = new double[CHUNK];
    private final double[] outRe = new double[CHUNK];
    private final double[] outIm = new double[CHUNK];
    private final double[] re;
    private final double[] im;
    private final int window;
    private final int after;
    private int mixed;
    private long taken;
    private long kept;
    private double windowSum;
    private double loudest;
    private double quietest = Double.POSITIVE_INFINITY;
    private long loudestAt;

    ToneMemory(double rateHz, double toneHz) {
        int factor = (int) (rateHz / KEPT_RATE_HZ);
        this.turnsPerSample = toneHz / rateHz;
        this.keptRateHz = rateHz / factor;
        double[] taps = FirDesign.lowPass(PASS_HZ, keptRateHz - PASS_HZ, ATTENUATION_DB, rateHz);
        this.realFilter = new FirDecimator(taps, factor);
        this.imaginaryFilter = new FirDecimator(taps, factor);
        this.delaySeconds = realFilter.delaySamples() / rateHz;
        int capacity = (int) (SECONDS * keptRateHz);
        this.re = new double[capacity];
        this.im = new double[capacity];
        this.window = (int) (WINDOW_SECONDS * keptRateHz);
        this.after = (int) (AFTER_SECONDS * keptRateHz);
    }

    void take(double sample) {
        double turns = turnsPerSample * taken;
        taken++;
        if (isComplete()) {
            return;
        }
        double angle = 2 * Math.PI * (turns - Math.floor(turns));
        mixedRe[mixed] = 2 * sample * StrictMath.cos(angle);
        mixedIm[mixed] = -2 * sample * StrictMath.sin(angle);
        mixed++;
        if (mixed == CHUNK) {
            flush();
        }
    }

    private void flush() {
        int count = realFilter.process(mixedRe, 0, mixed, outRe, 0);
        imaginaryFilter.process(mixedIm, 0, mixed, outIm, 0);
        mixed = 0;
        for (int i = 0; i < count && !isComplete(); i++) {
            keep(outRe[i], outIm[i]);
        }
    }

    private void keep(double real, double imaginary) {
        int at = (int) (kept % re.length);
        re[at] = real;
        im[at] = imaginary;
        kept++;
        windowSum += real * real + imaginary * imaginary;
        if (kept % window == 0) {
            if (windowSum > loudest) {
                loudest = windowSum;
                loudestAt = kept - window / 2;
            }
            quietest = Math.min(quietest, windowSum);
            windowSum = 0;
        }
    }

    boolean isComplete() {
        return loudest > STANDS_OUT * quietest && kept - loudestAt >= after;
    }

    /** Samples of the tone's channel that were taken so far, whether or not they are kept. */
    long taken() {
        return taken;
    }

    double keptRateHz() {
        return keptRateHz;
    }

    /** Filter's reach on either side of a kept amplitude, in seconds. */
    double reachSeconds() {
        return delaySeconds;
    }

    /** Kept amplitudes, the oldest first: real parts in row 0, imaginary ones in row 1. What is still mixed waits. */
    double[][] kept() {
        int count = (int) Math.min(kept, re.length);
        double[][] copy = new double[2][count];
        for (int i = 0; i < count; i++) {
            int from = (int) ((kept - count + i) % re.length);
            copy[0][i] = re[from];
            copy[1][i] = im[from];
        }
        return copy;
    }

    /** Index among the {@link #kept()} ones in the middle of the loudest window; -1 before the first window is full. */
    int loudestIndex() {
        long oldest = Math.max(0, kept - re.length);
        return loudest > 0 && loudestAt >= oldest ? (int) (loudestAt - oldest) : -1;
    }

    /** Moment of a kept amplitude in the recording. */
    double seconds(double index) {
        return delaySeconds + (Math.max(0, kept - re.length) + index) / keptRateHz;
    }

    void reset() {
        realFilter.reset();
        imaginaryFilter.reset();
        mixed = 0;
        taken = 0;
        kept = 0;
        windowSum = 0;
        loudest = 0;
        quietest = Double.POSITIVE_INFINITY;
        loudestAt = 0;
    }
}
