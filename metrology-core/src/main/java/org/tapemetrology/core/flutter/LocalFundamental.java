/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/**
 * The fundamental of a tone, sample by sample over a short piece, and the same a quarter of a period before. Amplitude and phase come
 * from Hann windows of a few milliseconds that overlap by half, and by straight lines between their centres, so that flutter moves no
 * crest away from where it is looked for. A piece has it from the centre of the first window to that of the last.
 */
final class LocalFundamental {
    private static final double WINDOW_SECONDS = 0.005;
    /** Under a Hann window of so many periods an offset is no part of the tone. */
    private static final double LEAST_PERIODS = 4;

    private static final int LEAST_WINDOWS = 2;

    /** Power of the rest re the fundamental: a square wave leaves 0.23. */
    private static final double MOST_REST = 0.25;

    private final double sampleRateHz;
    private double angle;
    private int half;
    private int windows;
    private double mean;
    /** Of the fundamental at the centre of each window, turned back by the mean frequency. */
    private double[] re = new double[0];

    private double[] im = new double[0];
    private double[] values = new double[0];
    private double[] quarterBefore = new double[0];

    LocalFundamental(double sampleRateHz) {
        this.sampleRateHz = sampleRateHz;
    }

    /** Starts with a tone, whose frequency is known to a hundredth. */
    void watchTone(double frequencyHz) {
        angle = 2 * Math.PI * frequencyHz / sampleRateHz;
        double seconds = Math.max(WINDOW_SECONDS, LEAST_PERIODS / frequencyHz);
        half = (int) Math.ceil(seconds * sampleRateHz / 2);
    }

    /** How long a piece has to be at least; 0 as long as there is no tone. */
    int leastLength() {
        return (LEAST_WINDOWS + 1) * half;
    }

    /** Whether there is a tone, of which a piece of that length shows enough. */
    boolean canTell(int length) {
        return half > 0 && length >= leastLength();
    }

    /** Looks at a piece of the least length or more, and tells whether it is the tone for the most part. */
    boolean follow(float[] samples, int offset, int length) {
        windows = length / half - 1;
        makeRoom();
        mean = mean(samples, offset, length);
        fit(samples, offset);
        double turn = meanTurn();
        if (!(Math.abs(turn) < Math.PI / 2)) {
            return false;
        }
        double was = angle;
        angle += turn / half;
        fit(samples, offset);
        if (rest(samples, offset) < MOST_REST) {
            return true;
        }
        angle = was;
        return false;
    }

    private void makeRoom() {
        if (re.length < windows) {
            re = new double[windows];
            im = new double[windows];
        }
        if (values.length < length()) {
            values = new double[length()];
            quarterBefore = new double[length()];
        }
    }

    private static double mean(float[] samples, int offset, int length) {
        double sum = 0;
        for (int i = offset; i < offset + length; i++) {
            sum += samples[i];
        }
        return sum / length;
    }

    private void fit(float[] samples, int offset) {
        double turnRe = Math.cos(angle);
        double turnIm = Math.sin(angle);
        double windowTurnRe = Math.cos(Math.PI / half);
        double windowTurnIm = Math.sin(Math.PI / half);
        for (int k = 0; k < windows; k++) {
            int from = k * half;
            double cos = Math.cos(angle * from);
            double sin = Math.sin(angle * from);
            double windowRe = 1;
            double windowIm = 0;
            double sumRe = 0;
            double sumIm = 0;
            for (int i = offset + from; i < offset + from + 2 * half; i++) {
                double weighted = (1 - windowRe) * (samples[i] - mean);
                sumRe += weighted * cos;
                sumIm -= weighted * sin;
                double next = cos * turnRe - sin * turnIm;
                sin = sin * turnRe + cos * turnIm;
                cos = next;
                double windowNext = windowRe * windowTurnRe - windowIm * windowTurnIm;
                windowIm = windowIm * windowTurnRe + windowRe * windowTurnIm;
                windowRe = windowNext;
            }
            re[k] = sumRe / half;
            im[k] = sumIm / half;
        }
    }

    /** How much the phase moves from window to window. */
    private double meanTurn() {
        double crossRe = 0;
        double crossIm = 0;
        for (int k = 1; k < windows; k++) {
            crossRe += re[k] * re[k - 1] + im[k] * im[k - 1];
            crossIm += im[k] * re[k - 1] - re[k] * im[k - 1];
        }
        return Math.atan2(crossIm, crossRe);
    }

    /** Power of what the fundamental leaves of the samples, re its own. */
    private double rest(float[] samples, int offset) {
        double squares = 0;
        double all = 0;
        for (int i = 0; i < length(); i++) {
            int k = i / half;
            double share = (double) (i % half) / half;
            double x = re[k] + share * (re[k + 1] - re[k]);
            double y = im[k] + share * (im[k + 1] - im[k]);
            double phase = angle * (half + i);
            double cos = Math.cos(phase);
            double sin = Math.sin(phase);
            values[i] = x * cos - y * sin;
            quarterBefore[i] = x * sin + y * cos;
            double rest = samples[offset + half + i] - mean - values[i];
            squares += rest * rest;
            all += values[i] * values[i];
        }
        return squares / all;
    }

    /** Number of samples that have a fundamental, the first of them as many samples on in the piece as {@link #start()} says. */
    int length() {
        return (windows - 1) * half;
    }

    int start() {
        return half;
    }

    /** Mean of the piece. */
    double mean() {
        return mean;
    }

    double value(int index) {
        return values[index];
    }

    double quarterBefore(int index) {
        return quarterBefore[index];
    }

    /** Amplitude, the same from centre to centre. */
    double amplitude(int index) {
        int k = index / half;
        return Math.hypot(re[k] + re[k + 1], im[k] + im[k + 1]) / 2;
    }
}
