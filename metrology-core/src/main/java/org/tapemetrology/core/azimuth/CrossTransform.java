/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import org.apache.commons.math3.transform.DftNormalization;
import org.apache.commons.math3.transform.FastFourierTransformer;
import org.apache.commons.math3.transform.TransformType;

/** Makes the cross spectrum of two channels over Hann frames that overlap by half. */
final class CrossTransform {
    private static final double LEAST_FRAME_SECONDS = 0.064;
    private static final double LOWEST_HZ = 20;
    private static final double HIGHEST_HZ = 24_000;
    /** Of the sampling rate: what lies above has its image within the window's main lobe or in a converter's edge. */
    private static final double USABLE = 0.48;
    /** Constant input reaches bin 1, by the window. */
    private static final int LOWEST_BIN = 3;

    /** Below this mean square of a channel, -90 dBFS, a frame is silent: 16-bit dither is at -93 dBFS. */
    private static final double SILENCE = 0.5e-9;

    private final int size;
    private final double binRadPerSecond;
    private final int firstBin;
    private final int bins;
    private final double[] window;
    private final double[] windowDerivative;
    private final double powerScale;
    private final double[][] plain;
    private final double[][] derivative;

    CrossTransform(double rateHz) {
        int length = 1;
        while (length < LEAST_FRAME_SECONDS * rateHz) {
            length *= 2;
        }
        size = length;
        binRadPerSecond = 2 * Math.PI * rateHz / size;
        firstBin = Math.max(LOWEST_BIN, (int) Math.ceil(LOWEST_HZ * size / rateHz));
        bins = (int) (Math.min(HIGHEST_HZ, USABLE * rateHz) * size / rateHz) + 1 - firstBin;
        window = new double[size];
        windowDerivative = new double[size];
        double squares = 0;
        for (int i = 0; i < size; i++) {
            double angle = 2 * StrictMath.PI * (i + 0.5) / size;
            window[i] = 0.5 - 0.5 * StrictMath.cos(angle);
            windowDerivative[i] = StrictMath.PI * rateHz / size * StrictMath.sin(angle);
            squares += window[i] * window[i];
        }
        powerScale = 2 / (size * squares);
        plain = new double[2][size];
        derivative = new double[2][size];
    }

    int size() {
        return size;
    }

    int hop() {
        return size / 2;
    }

    int bins() {
        return bins;
    }

    int firstBin() {
        return firstBin;
    }

    double binRadPerSecond() {
        return binRadPerSecond;
    }

    CrossFrame newFrame() {
        return new CrossFrame(bins);
    }

    /** Whether either channel is silent in a frame. */
    static boolean isSilent(CrossFrame frame) {
        return frame.first < SILENCE || frame.second < SILENCE;
    }

    /** Writes the cross spectrum of a frame. */
    void transform(double[] first, double[] second, CrossFrame frame) {
        transform(first, second, window, plain);
        transform(first, second, windowDerivative, derivative);
        double firstFrame = 0;
        double secondFrame = 0;
        for (int i = 0; i < bins; i++) {
            int k = firstBin + i;
            int mirror = size - k;
            // Of one complex transform: first channel from the even part, second from the odd part; both twice as
            // large.
            double ar = plain[0][k] + plain[0][mirror];
            double ai = plain[1][k] - plain[1][mirror];
            double br = plain[1][k] + plain[1][mirror];
            double bi = plain[0][mirror] - plain[0][k];
            double adr = derivative[0][k] + derivative[0][mirror];
            double adi = derivative[1][k] - derivative[1][mirror];
            double bdr = derivative[1][k] + derivative[1][mirror];
            double bdi = derivative[0][mirror] - derivative[0][k];
            frame.re[i] = br * ar + bi * ai;
            frame.im[i] = bi * ar - br * ai;
            frame.derivativeRe[i] = 0.5 * (br * adr + bi * adi - (bdr * ar + bdi * ai));
            frame.derivativeIm[i] = 0.5 * (bi * adr - br * adi - (bdi * ar - bdr * ai));
            frame.firstPower[i] = ar * ar + ai * ai;
            frame.secondPower[i] = br * br + bi * bi;
            firstFrame += frame.firstPower[i];
            secondFrame += frame.secondPower[i];
        }
        frame.first = 0.25 * powerScale * firstFrame;
        frame.second = 0.25 * powerScale * secondFrame;
    }

    private void transform(double[] first, double[] second, double[] shape, double[][] out) {
        for (int i = 0; i < size; i++) {
            out[0][i] = shape[i] * first[i];
            out[1][i] = shape[i] * second[i];
        }
        FastFourierTransformer.transformInPlace(out, DftNormalization.STANDARD, TransformType.FORWARD);
    }
}
