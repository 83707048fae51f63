/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

/**
 * Power at a tone in short frames of complex amplitudes, and power of the noise beside it. Frames have a Hann window, whose
 * band is four bins wide; the noise is that through the same window four bins below and above.
 */
final class ShortFrames {
    private static final int HOPS = 4;
    private static final int BINS_ASIDE = 4;

    private final int length;
    private final int hop;
    private final double[] tone;
    private final double[] beside;

    ShortFrames(double[] re, double[] im, double radiansPerSample, int length) {
        this.length = length;
        this.hop = length / HOPS;
        int count = Math.max(0, (re.length - length) / hop + 1);
        this.tone = new double[count];
        this.beside = new double[count];
        double aside = BINS_ASIDE * 2 * Math.PI / length;
        for (int f = 0; f < count; f++) {
            tone[f] = power(re, im, f * hop, radiansPerSample);
            beside[f] = (power(re, im, f * hop, radiansPerSample - aside)
                            + power(re, im, f * hop, radiansPerSample + aside))
                    / 2;
        }
    }

    private double power(double[] re, double[] im, int first, double radiansPerSample) {
        double real = 0;
        double imaginary = 0;
        for (int i = 0; i < length; i++) {
            double window = (1 - StrictMath.cos(2 * Math.PI * (i + 0.5) / length)) / length;
            double cos = StrictMath.cos(radiansPerSample * i);
            double sin = StrictMath.sin(radiansPerSample * i);
            real += window * (re[first + i] * cos + im[first + i] * sin);
            imaginary += window * (im[first + i] * cos - re[first + i] * sin);
        }
        return real * real + imaginary * imaginary;
    }

    int count() {
        return tone.length;
    }

    int length() {
        return length;
    }

    int hop() {
        return hop;
    }

    double tone(int frame) {
        return tone[frame];
    }

    /** The first frame whose middle is not before a place. */
    int firstFrom(double middle) {
        return Math.max(0, (int) Math.ceil((middle - length / 2.0) / hop));
    }

    /** The last frame whose middle is not behind a place; -1 where there is none. */
    int lastTo(double middle) {
        return Math.min(tone.length - 1, (int) Math.floor((middle - length / 2.0) / hop));
    }

    double meanTone(int first, int last) {
        return mean(tone, first, last);
    }

    double meanBeside(int first, int last) {
        return mean(beside, first, last);
    }

    /** Frames that share no sample, as which frames of some span count. */
    double independent(int first, int last) {
        return 1 + (double) (last - first) * hop / length;
    }

    private static double mean(double[] values, int first, int last) {
        double sum = 0;
        for (int f = first; f <= last; f++) {
            sum += values[f];
        }
        return sum / (last - first + 1);
    }
}
