/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.internal;

import java.util.Objects;

/**
 * Cuts a stream of one or more channels into overlapping frames at places that do not depend on the caller's blocks.
 * Nothing is padded: a frame that is not full is not analysed. After a sample that is no finite number no frame is.
 * Thread-confined.
 */
public final class FrameSplitter {
    /** What is done with a full frame. */
    @FunctionalInterface
    public interface Analysis {
        /**
         * Analyses a frame.
         *
         * @param samples samples of each channel; the arrays are overwritten afterwards
         * @param first index in the stream of the first sample of the frame
         */
        void frame(double[][] samples, long first);
    }

    private final double[][] frame;
    private final int length;
    private final int hop;
    private final Analysis analysis;
    private int filled;
    private long received;
    private boolean finite = true;

    /**
     * A splitter.
     *
     * @param channels number of channels
     * @param length samples of a frame
     * @param hop samples from the start of a frame to that of the next
     * @param analysis what is done with a full frame
     */
    public FrameSplitter(int channels, int length, int hop, Analysis analysis) {
        this.frame = new double[channels][length];
        this.length = length;
        this.hop = hop;
        this.analysis = analysis;
    }

    /**
     * Takes samples of one channel.
     *
     * @param samples samples
     * @param offset first of them
     * @param count number of them
     */
    public void accept(double[] samples, int offset, int count) {
        Objects.checkFromIndexSize(offset, count, samples.length);
        for (int taken = 0; taken < count; ) {
            int part = Math.min(count - taken, length - filled);
            System.arraycopy(samples, offset + taken, frame[0], filled, part);
            taken += part;
            advance(part);
        }
    }

    /**
     * Takes samples of two channels.
     *
     * @param first samples of the first channel
     * @param second samples of the second channel
     * @param offset first of them
     * @param count number of samples of each channel
     */
    public void accept(double[] first, double[] second, int offset, int count) {
        Objects.checkFromIndexSize(offset, count, Math.min(first.length, second.length));
        for (int taken = 0; taken < count; ) {
            int part = Math.min(count - taken, length - filled);
            System.arraycopy(first, offset + taken, frame[0], filled, part);
            System.arraycopy(second, offset + taken, frame[1], filled, part);
            taken += part;
            advance(part);
        }
    }

    /**
     * Takes samples of every channel, which stand side by side at a stride.
     *
     * @param samples samples
     * @param offset first sample of the first channel
     * @param stride samples from one to the next of a channel
     * @param count number of samples of each channel
     */
    public void accept(float[] samples, int offset, int stride, int count) {
        if (count > 0) {
            Objects.checkFromIndexSize(offset, (count - 1) * stride + frame.length, samples.length);
        }
        for (int taken = 0; taken < count; ) {
            int part = Math.min(count - taken, length - filled);
            for (int c = 0; c < frame.length; c++) {
                double[] channel = frame[c];
                int at = offset + taken * stride + c;
                for (int i = 0; i < part; i++) {
                    channel[filled + i] = samples[at + i * stride];
                }
            }
            taken += part;
            advance(part);
        }
    }

    private void advance(int part) {
        for (double[] channel : frame) {
            for (int i = filled; i < filled + part; i++) {
                finite &= Double.isFinite(channel[i]);
            }
        }
        filled += part;
        received += part;
        if (filled == length) {
            if (finite) {
                analysis.frame(frame, received - length);
            }
            for (double[] channel : frame) {
                System.arraycopy(channel, hop, channel, 0, length - hop);
            }
            filled -= hop;
        }
    }

    /**
     * Samples that were taken of each channel.
     *
     * @return that number
     */
    public long received() {
        return received;
    }

    /**
     * Whether every sample so far was a finite number.
     *
     * @return false from the first one on that was not
     */
    public boolean finite() {
        return finite;
    }

    /** The samples that come next do not follow those taken last: a frame that has begun is not finished. */
    public void gap() {
        filled = 0;
    }

    /** Forgets everything that was taken. */
    public void reset() {
        filled = 0;
        received = 0;
        finite = true;
    }
}
