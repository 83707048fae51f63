/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

/**
 * Cuts a stream into overlapping frames at places that do not depend on the caller's blocks. Nothing is padded: a frame
 * that is not full is not analysed.
 */
final class FrameSplitter {
    /** What is done with a full frame. */
    @FunctionalInterface
    interface Analysis {
        /** Analyses a frame; the array is overwritten afterwards. */
        void frame(double[] samples);
    }

    private final double[] frame;
    private final int hop;
    private final Analysis analysis;
    private int filled;
    private long received;
    private boolean finite = true;

    FrameSplitter(int length, int hop, Analysis analysis) {
        this.frame = new double[length];
        this.hop = hop;
        this.analysis = analysis;
    }

    void accept(double[] samples, int offset, int length) {
        int taken = 0;
        while (taken < length) {
            int part = Math.min(length - taken, frame.length - filled);
            System.arraycopy(samples, offset + taken, frame, filled, part);
            taken += part;
            advance(part);
        }
    }

    void accept(float[] samples, int offset, int length) {
        int taken = 0;
        while (taken < length) {
            int part = Math.min(length - taken, frame.length - filled);
            for (int i = 0; i < part; i++) {
                frame[filled + i] = samples[offset + taken + i];
            }
            taken += part;
            advance(part);
        }
    }

    private void advance(int part) {
        for (int i = filled; i < filled + part; i++) {
            finite &= Double.isFinite(frame[i]);
        }
        filled += part;
        received += part;
        if (filled == frame.length) {
            if (finite) {
                analysis.frame(frame);
            }
            System.arraycopy(frame, hop, frame, 0, frame.length - hop);
            filled -= hop;
        }
    }

    long received() {
        return received;
    }

    /** Whether every sample so far was a finite number. */
    boolean finite() {
        return finite;
    }

    void reset() {
        filled = 0;
        received = 0;
        finite = true;
    }
}
