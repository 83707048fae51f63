/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

/** A windowed frame that holds two tones, with the phase of each at every sample. */
final class TwoToneFrame {
    private final double[] windowed;
    private final double scale;
    private final double[] lowCos;
    private final double[] lowSin;
    private final double[] highCos;
    private final double[] highSin;
    private double re;
    private double im;

    TwoToneFrame(int length, double windowSum) {
        this.windowed = new double[length];
        this.scale = 2 / windowSum;
        this.lowCos = new double[length];
        this.lowSin = new double[length];
        this.highCos = new double[length];
        this.highSin = new double[length];
    }

    void take(
            double[] frame,
            int first,
            double[] window,
            PhaseTracker low,
            double lowHz,
            PhaseTracker high,
            double highHz) {
        low.track(frame, first, lowHz, lowCos, lowSin);
        high.track(frame, first, highHz, highCos, highSin);
        for (int i = 0; i < windowed.length; i++) {
            windowed[i] = window[i] * frame[first + i];
        }
    }

    /** Finds the complex amplitude of what stands at {@code h} times the high phase plus {@code l} times the low one. */
    void amplitude(int h, int l) {
        double sumRe = 0;
        double sumIm = 0;
        for (int i = 0; i < windowed.length; i++) {
            double c = 1;
            double s = 0;
            for (int k = 0; k < Math.abs(h); k++) {
                double y = h > 0 ? highSin[i] : -highSin[i];
                double next = c * highCos[i] - s * y;
                s = s * highCos[i] + c * y;
                c = next;
            }
            for (int k = 0; k < Math.abs(l); k++) {
                double y = l > 0 ? lowSin[i] : -lowSin[i];
                double next = c * lowCos[i] - s * y;
                s = s * lowCos[i] + c * y;
                c = next;
            }
            sumRe += windowed[i] * c;
            sumIm -= windowed[i] * s;
        }
        re = scale * sumRe;
        im = scale * sumIm;
    }

    /** Real part of the amplitude found last. */
    double re() {
        return re;
    }

    double im() {
        return im;
    }
}
