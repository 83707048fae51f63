/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import java.util.Arrays;
import java.util.List;

/** How well a mean spectrum fits each step of a programme that is noise or a multitone. */
final class BroadMatch {
    /** A machine off speed by 5 % with its wow. */
    static final double LN_RANGE = 0.06;

    private static final double LN_STEP = 0.002;
    /** Half width of a tone with its flutter. */
    private static final double TONE_WIDTH = 0.012;

    private static final double TONE_BINS = 2.5;
    /** Part of the tones that must be there: the highest may be lost, the lowest drowned. */
    private static final double LEAST_TONES = 0.6;
    /** Power of a tone over that of a spectrum without lines in its place. */
    private static final double LEAST_PROMINENCE = 4;

    private static final double LEAST_LINE_SHARE = 0.5;
    private static final double FULL_LINE_SHARE = 0.85;
    private static final double LEAST_FLATNESS = 0.55;
    private static final double FULL_FLATNESS = 0.8;
    private static final double LEAST_BAND_SHARE = 0.6;
    /** Where tilt is told: below it hum, above it a worn head takes part. */
    private static final double TILT_FROM_HZ = 150;

    private static final double TILT_TO_HZ = 8000;
    private static final double TILT_SPREAD = 1;
    private static final double MOST_TILT_ERROR = 3;
    private static final double THIRD_OCTAVE = StrictMath.log(2) / 3;
    private static final double MOST_COST = 3;

    private final List<Step> steps;
    private final double binHz;
    private final boolean[] inLine;

    BroadMatch(List<Step> steps, double binHz, int bins) {
        this.steps = steps;
        this.binHz = binHz;
        this.inLine = new boolean[bins];
    }

    /** How well a spectrum fits each step. */
    static final class Fit {
        private final float[] cost;
        private final float[] lnRatio;

        private Fit(int steps) {
            cost = new float[steps];
            lnRatio = new float[steps];
        }

        /** How badly it fits a step of noise or many tones; infinite where not at all. */
        double cost(int step) {
            return cost[step];
        }

        /** Logarithm of the speed ratio at which it fits a step of many tones. */
        double lnRatio(int step) {
            return lnRatio[step];
        }
    }

    /**
     * Judges a spectrum.
     *
     * @param power mean spectrum
     * @param frames how many half-overlapping frames it is the mean of
     */
    Fit judge(double[] power, int frames) {
        Fit fit = new Fit(steps.size());
        float[] cost = fit.cost;
        float[] ratio = fit.lnRatio;
        for (int i = 0; i < cost.length; i++) {
            cost[i] = Float.POSITIVE_INFINITY;
            ratio[i] = 0;
            if (steps.get(i).signal() instanceof StepSignal.Noise noise) {
                cost[i] = (float) noise(power, frames, noise);
            } else if (steps.get(i).signal() instanceof StepSignal.Multitone multitone) {
                multitone(power, multitone, cost, ratio, i);
            }
        }
        return fit;
    }

    private void multitone(double[] power, StepSignal.Multitone sent, float[] cost, float[] ratio, int step) {
        double all = PairSpectrum.sum(power, 2, power.length - 1);
        double best = 0;
        int half = (int) StrictMath.round(LN_RANGE / LN_STEP);
        for (int n = -half; n <= half; n++) {
            double share = lineShare(power, sent, StrictMath.exp(n * LN_STEP)) / all;
            if (share > best) {
                best = share;
                ratio[step] = (float) (n * LN_STEP);
            }
        }
        if (best >= LEAST_LINE_SHARE && present(power, sent, StrictMath.exp(ratio[step]))) {
            cost[step] = (float) ramp(best, LEAST_LINE_SHARE, FULL_LINE_SHARE);
        }
    }

    private double half(double bin) {
        return Math.max(TONE_BINS, TONE_WIDTH * bin);
    }

    private double lineShare(double[] power, StepSignal.Multitone sent, double ratio) {
        Arrays.fill(inLine, false);
        double sum = 0;
        for (double frequencyHz : sent.frequenciesHz()) {
            double bin = ratio * frequencyHz / binHz;
            int from = (int) Math.ceil(bin - half(bin));
            int to = (int) Math.floor(bin + half(bin));
            for (int k = Math.max(2, from); k <= Math.min(power.length - 1, to); k++) {
                if (!inLine[k]) {
                    inLine[k] = true;
                    // Triangular, so that the best ratio is the one in the middle and not any of many.
                    sum += power[k] * (1 - 0.3 * Math.abs(k - bin) / half(bin));
                }
            }
        }
        return sum;
    }

    private boolean present(double[] power, StepSignal.Multitone sent, double ratio) {
        int count = 0;
        int told = 0;
        for (double frequencyHz : sent.frequenciesHz()) {
            double bin = ratio * frequencyHz / binHz;
            double half = half(bin);
            if (bin < 3 * TONE_BINS || bin + 2 * half > power.length - 1) {
                continue;
            }
            told++;
            double line = mean(power, bin - half, bin + half);
            double beside = 0.5
                    * (mean(power, bin - 2 * half - 1, bin - half - 1)
                            + mean(power, bin + half + 1, bin + 2 * half + 1));
            count += line > LEAST_PROMINENCE * beside ? 1 : 0;
        }
        return told > 0 && count >= LEAST_TONES * told;
    }

    private static double mean(double[] power, double fromBin, double toBin) {
        int from = Math.max(1, (int) Math.round(fromBin));
        int to = Math.min(power.length - 1, (int) Math.round(toBin));
        return to < from ? 0 : PairSpectrum.sum(power, from, to) / (to - from + 1);
    }

    private double noise(double[] power, int frames, StepSignal.Noise sent) {
        int from = Math.max(3, (int) Math.ceil(sent.fromHz() / binHz));
        int to = (int) Math.min(power.length - 2.0, sent.toHz() / binHz);
        double share = PairSpectrum.sum(power, (int) (0.8 * from), (int) (1.25 * to))
                / PairSpectrum.sum(power, 2, power.length - 1);
        double flatness = flatness(power, from, to) * Math.exp(0.6 / frames);
        double error = Math.abs(tilt(power, from, to) - (sent.pink() ? -3 : 0));
        if (!(share >= LEAST_BAND_SHARE && flatness >= LEAST_FLATNESS && error <= MOST_TILT_ERROR)) {
            return Double.POSITIVE_INFINITY;
        }
        return ramp(flatness, LEAST_FLATNESS, FULL_FLATNESS)
                + ramp(share, LEAST_BAND_SHARE, 1)
                + error * error / (2 * TILT_SPREAD * TILT_SPREAD);
    }

    private static double ramp(double value, double least, double full) {
        return MOST_COST * Math.max(0, full - value) / (full - least);
    }

    /** Geometric over arithmetic mean of the bins of each third octave, averaged: of lines next to nothing. */
    private static double flatness(double[] power, int from, int to) {
        double sum = 0;
        int bands = 0;
        for (double low = from; low < to; low *= StrictMath.exp(THIRD_OCTAVE)) {
            int first = (int) Math.ceil(low);
            int last = (int) Math.min(to, Math.ceil(low * StrictMath.exp(THIRD_OCTAVE)) - 1);
            if (last - first < 7) {
                continue;
            }
            double arithmetic = 0;
            double geometric = 0;
            for (int k = first; k <= last; k++) {
                arithmetic += power[k];
                geometric += Math.log(power[k] + Double.MIN_NORMAL);
            }
            int count = last - first + 1;
            sum += Math.exp(geometric / count) / (arithmetic / count + Double.MIN_NORMAL);
            bands++;
        }
        return bands == 0 ? 0 : sum / bands;
    }

    /** Slope of the density over the octaves, in dB. */
    private double tilt(double[] power, int from, int to) {
        int first = (int) Math.max(from, TILT_FROM_HZ / binHz);
        int last = (int) Math.min(to, TILT_TO_HZ / binHz);
        double n = 0;
        double x = 0;
        double y = 0;
        double xx = 0;
        double xy = 0;
        for (double low = first; low * StrictMath.exp(THIRD_OCTAVE) <= last; low *= StrictMath.exp(THIRD_OCTAVE)) {
            double octave = StrictMath.log(low) / StrictMath.log(2);
            double level =
                    10 * StrictMath.log10(mean(power, low, low * StrictMath.exp(THIRD_OCTAVE)) + Double.MIN_NORMAL);
            n++;
            x += octave;
            y += level;
            xx += octave * octave;
            xy += octave * level;
        }
        return n < 3 ? Double.NaN : (n * xy - x * y) / (n * xx - x * x);
    }
}
