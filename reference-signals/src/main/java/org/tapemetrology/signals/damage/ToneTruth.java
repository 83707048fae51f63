/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.damage;

import java.util.List;
import java.util.function.ToDoubleFunction;
import org.tapemetrology.signals.FmTone;

/**
 * Truths of speed and flutter of a tone, in closed form. A tone with one line of flutter has one truth for every figure;
 * with several, the peak figures and percentiles have bounds alone: of a sum of sines with the RMS value R the two-sigma
 * value lies between that of a sine, 1.41 R, and that of many, 1.96 R; a mean magnitude scaled to the RMS of a sine between
 * that of many, 0.886 R, and R; a quasi-peak value between a sine of that RMS value and the sum of the peaks.
 */
final class ToneTruth {
    /** What the ends of the span may take of it: a definition leaves so much room. */
    private static final double ENDS_SECONDS = 0.06;

    private static final double LEAST_SPAN_SECONDS = 0.5;
    private static final int STEPS = 4000;
    private static final double RANGE_SECONDS = 10;
    private static final double SLOWEST_HZ = 0.5;
    private static final double REFERENCE_RATE_HZ = 4;
    /** What the published fall between pulses leaves of a crest within a second, and of one within a few periods. */
    private static final double FALL = 0.4;

    private static final double RIPPLE = 0.96;
    private static final double TWO_SIGMA_OF_A_SINE = StrictMath.sin(0.95 * Math.PI / 2);
    private static final double TWO_SIGMA_OF_MANY = 1.97;
    private static final double AVERAGE_OF_MANY = 0.88;
    /** Of lines whose phases stand still to each other, by those phases: cosines at 1, 3 and 5 times a rate make up both. */
    private static final double LEAST_AVERAGE_TOGETHER = 0.69;

    private static final double MOST_AVERAGE_TOGETHER = 1.08;
    /** Beats in the span after which all phases count alike. */
    private static final double MANY_BEATS = 3;

    private static final int HIGHEST_MULTIPLE = 5;

    private final FmTone tone;
    private final List<Line> lines;
    private final double fromSeconds;
    private final double toSeconds;

    ToneTruth(FmTone tone, List<Line> lines, double fromSeconds, double toSeconds) {
        this.tone = tone;
        this.lines = lines;
        this.fromSeconds = fromSeconds;
        this.toSeconds = toSeconds;
    }

    /** The span, with and without its ends. */
    private List<double[]> spans() {
        double a = fromSeconds;
        double b = toSeconds;
        double e = ENDS_SECONDS;
        return List.of(
                new double[] {a, b}, new double[] {a + e, b}, new double[] {a, b - e}, new double[] {a + e, b - e});
    }

    private Truth overSpans(ToDoubleFunction<double[]> figure) {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (double[] span : spans()) {
            double value = figure.applyAsDouble(span);
            low = Math.min(low, value);
            high = Math.max(high, value);
        }
        return Truth.between(low, high);
    }

    void speed(Truths truths, double nominalHz, boolean carrier) {
        if (toSeconds - fromSeconds < LEAST_SPAN_SECONDS) {
            return;
        }
        Truth frequency = overSpans(span -> tone.meanFrequencyHz(span[0], span[1]));
        truths.put("tone.frequency", frequency);
        if (!carrier) {
            return;
        }
        truths.put(
                "speed.error",
                Truth.between(100 * (frequency.low() / nominalHz - 1), 100 * (frequency.high() / nominalHz - 1)));
        double longRun = 6000 * tone.driftPerSecond() * tone.steadyHz() / frequency.low();
        Truth slope = overSpans(span -> slopePercentPerMinute(span[0], span[1]));
        truths.put("speed.drift", Truth.between(Math.min(slope.low(), longRun), Math.max(slope.high(), longRun)));
        if (toSeconds - fromSeconds >= 2 * RANGE_SECONDS) {
            truths.put("speed.range", overSpans(span -> rangePercent(span[0], span[1])));
        }
    }

    private double slopePercentPerMinute(double from, double to) {
        double middle = (from + to) / 2;
        double step = (to - from) / STEPS;
        double moment = 0;
        for (int i = 0; i < STEPS; i++) {
            double t = from + (i + 0.5) * step;
            moment += (t - middle) * tone.instantaneousFrequencyAt(t);
        }
        double length = to - from;
        return 6000 * 12 * moment * step / (length * length * length) / tone.meanFrequencyHz(from, to);
    }

    private double rangePercent(double from, double to) {
        double lowest = Double.POSITIVE_INFINITY;
        double highest = Double.NEGATIVE_INFINITY;
        for (double at = from; at + RANGE_SECONDS <= to + 0.1; at += RANGE_SECONDS) {
            double mean = tone.meanFrequencyHz(at, at + RANGE_SECONDS);
            lowest = Math.min(lowest, mean);
            highest = Math.max(highest, mean);
        }
        return highest < lowest ? 0 : 100 * (highest - lowest) / tone.meanFrequencyHz(from, to);
    }

    void flutter(Truths truths) {
        peaks(truths, "flutter.weighted.", Line::weightedPeak);
        figure(truths, "flutter.weighted.rms", Line::weightedPeak, 1, 1);
        average(truths, "flutter.weighted.average", Line::weightedPeak);
        ToDoubleFunction<Line> flat = line -> line.peakWithin(4, 0.075, 270);
        truths.put("flutter.unweighted.peak", peak(flat));
        figure(truths, "flutter.unweighted.rms", flat, 1, 1);
        average(truths, "flutter.unweighted.average", line -> line.peakWithin(2, 0.5, 200));
        figure(truths, "wow.rms", line -> line.peakWithin(4, 0.1, 10), 1, 1);
        figure(truths, "flutter.rms", line -> line.peakWithin(4, 10, 200), 1, 1);
    }

    private void average(Truths truths, String quantity, ToDoubleFunction<Line> peakOfLine) {
        boolean together = standTogether();
        figure(
                truths,
                quantity,
                peakOfLine,
                together ? LEAST_AVERAGE_TOGETHER : AVERAGE_OF_MANY,
                together ? MOST_AVERAGE_TOGETHER : 1);
    }

    /** Whether two lines stand at small multiples of one rate, so that their phases hardly move against each other in the span. */
    private boolean standTogether() {
        for (Line one : lines) {
            for (Line other : lines) {
                for (int k = 2; one.rateHz() > other.rateHz() && k <= HIGHEST_MULTIPLE; k++) {
                    for (int j = 1; j < k; j++) {
                        double beats = Math.abs(j * one.rateHz() - k * other.rateHz()) * (toSeconds - fromSeconds);
                        if (beats < MANY_BEATS) {
                            return true;
                        }
                    }
                }
            }
        }
        return false;
    }

    private void peaks(Truths truths, String group, ToDoubleFunction<Line> peakOfLine) {
        Truth quasiPeak = peak(peakOfLine);
        truths.put(group + "quasi-peak", quasiPeak);
        truths.put(group + "quasi-peak.maximum", quasiPeak);
        // Between two crests, and between beats, the indication falls back: to 40 % of a pulse within a second.
        boolean still = lines.size() == 1 && lines.get(0).rateHz() >= REFERENCE_RATE_HZ;
        truths.put(
                group + "quasi-peak.mean", Truth.between((still ? RIPPLE : FALL) * quasiPeak.low(), quasiPeak.high()));
        double least = Math.sqrt(2) * TWO_SIGMA_OF_A_SINE;
        double most = lines.size() == 1 ? least : TWO_SIGMA_OF_MANY;
        figure(truths, group + "two-sigma", peakOfLine, least, most);
        // In any five seconds slow beats may be at their crest all the time.
        Truth sigma = truths.of(group + "two-sigma");
        truths.put(
                group + "two-sigma.maximum", lines.size() == 1 ? sigma : Truth.between(sigma.low(), quasiPeak.high()));
    }

    private Truth peak(ToDoubleFunction<Line> peakOfLine) {
        double sum = 100 * lines.stream().mapToDouble(peakOfLine).sum();
        double least = lines.size() == 1 ? sum : Math.sqrt(2) * rms(peakOfLine);
        // No reading of a quasi-peak meter is published for slower ones: at worst it has forgotten the other side.
        boolean slow = lines.stream().anyMatch(line -> line.rateHz() < SLOWEST_HZ);
        return Truth.between(slow ? least / 2 : least, sum);
    }

    private double rms(ToDoubleFunction<Line> peakOfLine) {
        double squares = 0;
        for (Line line : lines) {
            double peak = 100 * peakOfLine.applyAsDouble(line);
            squares += peak * peak / 2;
        }
        return Math.sqrt(squares);
    }

    private void figure(Truths truths, String quantity, ToDoubleFunction<Line> peakOfLine, double least, double most) {
        double rms = rms(peakOfLine);
        truths.put(quantity, Truth.between((lines.size() == 1 ? most : least) * rms, most * rms));
    }
}
