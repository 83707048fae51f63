/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import java.util.Arrays;

/**
 * Cross spectra of frames summed with the power of each channel, and what their phases say.
 *
 * <p>In a bin at frequency f the cross spectrum of a delayed channel does not have the phase {@code -2 pi f t} but that of
 * the frequency that stands in the bin at that moment. That frequency is the derivative of the phase of the short-time
 * spectrum over time (K. Kodera, R. Gendrin, C. de Villedary, IEEE Trans. Acoust. Speech Signal Process. 26 (1978) p. 64,
 * from memory), here the mean of both channels, weighted by the cross spectrum itself so that independent noise has no
 * part in it. With it the phase is right for a tone that flutters, a sweep, and noise alike, frame by frame.
 */
final class CrossSpectrum {
    /** Chance that a bin of independent noise counts as coherent. */
    private static final double CHANCE = 1e-6;
    /** Bins weaker than this of the strongest one, -50 dB, are left to hum and crosstalk. */
    private static final double DYNAMIC = 1e-5;
    /** 20 dB below the strongest. */
    private static final double COMMON = 1e-2;
    /** Phase in rad that a bin may be off for other reasons than noise, such as a difference of the responses. */
    private static final double ROBUST_FLOOR = 0.02;
    /**
     * Amplitude, re the strongest bin, of what both channels may have in common that is no part of the signal: hum 40 dB
     * down. It must not tell whole cycles or polarity, so the phase of a bin is not trusted beyond its share of this.
     */
    private static final double FOREIGN = 0.01;
    /** The same near the peak, where what counts is that a bin with little noise counts more. */
    private static final double FINE_FLOOR = 1e-4;
    /** Up to here it may be hum, which reaches both channels at once wherever the head stands. */
    static final double HUM_TO_HZ = 240;
    /** The floor of such a bin where it is weak: it must not outweigh a tone that is less steady. */
    private static final double HUM_FLOOR = 0.05;

    /** Independent frames for each Hann frame with an overlap of half: {@code 1/(1 + 2 (1/6)^2)}. */
    private static final double INDEPENDENT_FRAMES = 18.0 / 19;
    /** Bins for each independent one: the Hann window correlates neighbours by 2/3 and those after them by 1/6. */
    static final double BINS_PER_INDEPENDENT = 1 + 2 * (4.0 / 9 + 1.0 / 36);

    /** How far the frequency in a bin can be from its centre: so far off, the window's side lobes are 54 dB down. */
    private static final double FARTHEST_BINS = 6;

    private final double kept;
    private final double binRadPerSecond;
    private final int firstBin;
    /** The bins before it may hold hum. */
    private final int firstBeyondHum;

    private final CrossFrame sum;
    private final double[] firstPower;
    private final double[] secondPower;
    /** Variance of the phase of the summed cross spectrum, of the bins that count. */
    private final double[] variance;

    /** Those, in rising order, as many as {@link #counting}. */
    private final int[] bins;

    private int counting;

    /** Squared magnitude of the summed cross spectrum. */
    private final double[] cross;

    private final double[] coherence;
    private double strongest;
    private double frames;
    private double firstTotal;
    private double secondTotal;

    /**
     * A sum of nothing yet.
     *
     * @param transform what makes the frames
     * @param kept what is left of the sum when the next frame comes: 1, or less for a sum that forgets; the powers of
     *     silent frames are not forgotten
     */
    CrossSpectrum(CrossTransform transform, double kept) {
        this.kept = kept;
        this.binRadPerSecond = transform.binRadPerSecond();
        this.firstBin = transform.firstBin();
        this.firstBeyondHum = (int) Math.ceil(2 * Math.PI * HUM_TO_HZ / binRadPerSecond) - firstBin;
        int all = transform.bins();
        sum = new CrossFrame(all);
        firstPower = new double[all];
        secondPower = new double[all];
        variance = new double[all];
        cross = new double[all];
        coherence = new double[all];
        bins = new int[all];
    }

    /** Adds a frame; false, and only the powers are added, where either channel is silent. */
    boolean add(CrossFrame frame) {
        firstTotal += frame.first;
        secondTotal += frame.second;
        if (CrossTransform.isSilent(frame)) {
            return false;
        }
        addTo(firstPower, frame.firstPower);
        addTo(secondPower, frame.secondPower);
        addTo(sum.re, frame.re);
        addTo(sum.im, frame.im);
        addTo(sum.derivativeRe, frame.derivativeRe);
        addTo(sum.derivativeIm, frame.derivativeIm);
        frames = kept * frames + 1;
        weigh();
        return true;
    }

    private void addTo(double[] total, double[] of) {
        double share = kept;
        for (int i = 0; i < total.length; i++) {
            total[i] = share * total[i] + of[i];
        }
    }

    /**
     * Weighs the bins by their magnitude-squared coherence g (G. C. Carter, C. H. Knapp, A. H. Nuttall, IEEE Trans. Audio
     * Electroacoust. 21 (1973) p. 337, from memory): over M frames of independent noise it exceeds
     * {@code 1 - p^(1/(M-1))} with the chance p, and the variance of the phase is {@code (1 - g)/(2 M g)}.
     */
    private void weigh() {
        double independent = frames * INDEPENDENT_FRAMES;
        double least = independent > 1 ? 1 - Math.pow(CHANCE, 1 / (independent - 1)) : 1;
        squares(sum.re, sum.im, cross);
        coherences(cross, firstPower, secondPower, coherence);
        strongest = 0;
        for (double each : cross) {
            strongest = each > strongest ? each : strongest;
        }
        double weakest = DYNAMIC * DYNAMIC * strongest;
        counting = 0;
        for (int i = 0; i < variance.length; i++) {
            if (cross[i] > weakest && coherence[i] > least) {
                variance[i] = Math.max(0, 1 - coherence[i]) / (2 * independent * coherence[i]);
                bins[counting++] = i;
            }
        }
    }

    private static void squares(double[] re, double[] im, double[] out) {
        for (int i = 0; i < out.length; i++) {
            out[i] = re[i] * re[i] + im[i] * im[i];
        }
    }

    private static void coherences(double[] cross, double[] first, double[] second, double[] out) {
        for (int i = 0; i < out.length; i++) {
            out[i] = cross[i] / (first[i] * second[i]);
        }
    }

    private static double square(double re, double im) {
        return re * re + im * im;
    }

    private double robustWeight(int i) {
        double foreign = FOREIGN * FOREIGN * Math.sqrt(strongest / cross[i]);
        return 1 / (variance[i] + ROBUST_FLOOR * ROBUST_FLOOR + foreign);
    }

    private double fineWeight(int i) {
        boolean mayBeHum = i < firstBeyondHum && cross[i] < COMMON * COMMON * strongest;
        double floor = mayBeHum ? HUM_FLOOR : FINE_FLOOR;
        return 1 / (variance[i] + floor * floor);
    }

    /** The phases of the sum of all frames, weighted to find the peak or to find its place. */
    void meanLine(PhaseLine line, boolean fine) {
        line.clear();
        for (int n = 0; n < counting; n++) {
            int i = bins[n];
            double size = Math.sqrt(cross[i]);
            line.add(fine ? fineWeight(i) : robustWeight(i), omega(sum, i), sum.re[i] / size, sum.im[i] / size);
        }
    }

    /**
     * The phases of one frame; a bin counts as it does in the sum, times its size re the mean of the frames.
     *
     * @return power times frequency squared of the bins that count, which does not depend on what came before the frame
     */
    double frameLine(CrossFrame frame, PhaseLine line) {
        line.clear();
        double total = 0;
        for (int n = 0; n < counting; n++) {
            int i = bins[n];
            double power = Math.sqrt(square(frame.re[i], frame.im[i]));
            if (power > 0) {
                double size = Math.sqrt(cross[i]) / frames;
                double w = omega(frame, i);
                line.add(fineWeight(i), w, frame.re[i] / size, frame.im[i] / size);
                total += power * w * w;
            }
        }
        return total;
    }

    /** The weights alone, as phases that are all 0: their sum over delays is what a perfect signal of this band shows. */
    void bandLine(PhaseLine line) {
        line.clear();
        for (int n = 0; n < counting; n++) {
            line.add(robustWeight(bins[n]), omega(sum, bins[n]), 1, 0);
        }
    }

    /** Part of the power of both channels (geometric mean) that the bins hold which count. */
    double coherentShare() {
        double coherent = 0;
        double first = 0;
        double second = 0;
        for (int n = 0; n < counting; n++) {
            coherent += Math.sqrt(cross[bins[n]]);
        }
        for (int i = 0; i < cross.length; i++) {
            first += firstPower[i];
            second += secondPower[i];
        }
        return coherent / Math.sqrt(first * second);
    }

    /** Highest frequency in Hz that the channels have in common with some of the power of the strongest; 0 for none. */
    double highestCommonHz() {
        double least = COMMON * COMMON * strongest;
        int highest = -1;
        for (int n = 0; n < counting; n++) {
            if (cross[bins[n]] > least) {
                highest = bins[n];
            }
        }
        return highest < 0 ? 0 : (firstBin + highest) * binRadPerSecond / (2 * Math.PI);
    }

    /** Variance of the delay of the sum in s^2 that its coherence explains. */
    double varianceByCoherence() {
        double above = 0;
        double below = 0;
        for (int n = 0; n < counting; n++) {
            int i = bins[n];
            double weight = fineWeight(i);
            double w = omega(sum, i);
            above += weight * weight * w * w * variance[i];
            below += weight * w * w;
        }
        return BINS_PER_INDEPENDENT * above / (below * below);
    }

    private double omega(CrossFrame frame, int i) {
        double re = frame.re[i];
        double im = frame.im[i];
        double off = (frame.derivativeIm[i] * re - frame.derivativeRe[i] * im) / square(re, im);
        double farthest = FARTHEST_BINS * binRadPerSecond;
        return (firstBin + i) * binRadPerSecond + Math.max(-farthest, Math.min(farthest, off));
    }

    int bins() {
        return variance.length;
    }

    /** Independent phases for each frame's bin: what the variance of the sum has to be multiplied by for one frame. */
    double independent() {
        return frames * INDEPENDENT_FRAMES * BINS_PER_INDEPENDENT;
    }

    /** Frames that were added, as many as are left of them. */
    double frames() {
        return frames;
    }

    /** Power of channel 2 over that of channel 1, silent frames included. */
    double powerRatio() {
        return secondTotal / firstTotal;
    }

    void reset() {
        for (double[] each :
                new double[][] {sum.re, sum.im, sum.derivativeRe, sum.derivativeIm, firstPower, secondPower}) {
            Arrays.fill(each, 0);
        }
        counting = 0;
        frames = 0;
        firstTotal = 0;
        secondTotal = 0;
    }
}
