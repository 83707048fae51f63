/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import org.tapemetrology.core.fit.CorrelatedMean;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Status;

/**
 * The response from a recording of stepped tones, whose order and length are known and whose place is not: they are
 * found on a machine up to 5 % off speed, with or without gaps between them, in dB re the tone at the reference
 * frequency.
 *
 * <p>In each frame of about 0.17 s the strongest line near one of the sent frequencies is that tone if it stands 10 dB
 * above the noise beside it. Its power is that of the lines within 2 % (at least 3 lines) less that noise, so flutter
 * is inside and noise and hum are not. Frames of one tone form a run; the runs that follow the sent order and fit the
 * sent lengths best are measured, without the two frames at either end, as a power mean. A tone needs 0.9 s for that:
 * less is {@link Status#INSUFFICIENT_DATA}, none {@link Status#NO_CARRIER}. The uncertainty is the statistical part
 * alone, from the scatter of the frames of a tone and of the reference with their dependence; where the level wanders
 * about as slowly as the tones are long it claims too much (86 of 100 for 95, tones of 2 s and a level correlated over
 * 0.5 s). Never NaN. Memory grows by 28 bytes a frame, some 1 MB an hour. Thread-confined.
 *
 * <p>Settling and cost: 0.9 s for each tone.
 *
 * <p>Not for tones in an order that was not given, nor closer than 0.9 s to each other.
 */
public final class SteppedToneResponse extends ResponseMeter {
    private static final double FRAME_SECONDS = 0.15;
    private static final double OFF_SPEED = 0.07;
    private static final double FLUTTER = 0.02;
    private static final double LEAST_TO_NOISE = 10;
    private static final int MISSING_FRAMES = 2;
    private static final int EDGE_FRAMES = 2;
    private static final double SPEED_SPREAD = 0.02;
    private static final double GAP_COST_PER_SECOND = 1e-3;

    private final List<ToneStep> steps;
    private final boolean[] near;

    private int frames;
    private int[] toneOfFrame = new int[64];
    private double[] powerOfFrame = new double[64];
    private double[] ratioOfFrame = new double[64];
    private boolean[] overloadedFrame = new boolean[64];

    /**
     * A meter of one channel.
     *
     * @param sampleRateHz sampling rate in Hz, 8000 to 768000
     * @param channel 1-based channel
     * @param referenceHz reference frequency in Hz, one of the tones
     * @param steps tones in the order in which they were sent, each frequency once, each at
     *     least 1.1 times the next lower, none below 20 Hz or above 0.45 times the sampling rate, none shorter than 0.9 s
     */
    public SteppedToneResponse(double sampleRateHz, int channel, double referenceHz, List<ToneStep> steps) {
        super(sampleRateHz, channel, referenceHz, FRAME_SECONDS);
        List<Double> sorted = steps.stream().map(ToneStep::frequencyHz).sorted().toList();
        double[] frequencies = requireRising(sorted, 1.1, sampleRateHz);
        requireMember(referenceHz, frequencies);
        steps.forEach(step -> Require.inRange("dwellSeconds", step.dwellSeconds(), 0.9, 3600));
        this.steps = List.copyOf(steps);
        this.near = new boolean[(int) (sampleRateHz / binHz()) / 2 + 1];
        for (double frequencyHz : frequencies) {
            int from = (int) Math.floor(frequencyHz * (1 - OFF_SPEED) / binHz());
            int to = (int) Math.ceil(frequencyHz * (1 + OFF_SPEED) / binHz());
            Arrays.fill(near, Math.max(1, from), Math.min(near.length - 1, to) + 1, true);
        }
    }

    @Override
    void add(double[] power, boolean overloaded) {
        int line = 0;
        for (int k = 1; k < near.length; k++) {
            // Weighted by frequency, since hum and the noise of a tape fall with it and a worn head's tones do too.
            if (near[k] && power[k] * k > power[line] * line) {
                line = k;
            }
        }
        if (frames == toneOfFrame.length) {
            toneOfFrame = Arrays.copyOf(toneOfFrame, 2 * frames);
            powerOfFrame = Arrays.copyOf(powerOfFrame, 2 * frames);
            ratioOfFrame = Arrays.copyOf(ratioOfFrame, 2 * frames);
            overloadedFrame = Arrays.copyOf(overloadedFrame, 2 * frames);
        }
        int half = Math.max(3, (int) Math.ceil(FLUTTER * line));
        double sum = FrameSpectrum.sum(power, line - half, line + half);
        double noise = noiseBeside(power, line, half) * (2 * half + 1);
        double moment = 0;
        for (int k = Math.max(0, line - half); k <= Math.min(power.length - 1, line + half); k++) {
            moment += k * power[k];
        }
        double frequencyHz = sum > 0 ? moment / sum * binHz() : 0;
        int tone = sum > LEAST_TO_NOISE * noise && sum > 0 ? nearestStep(frequencyHz) : -1;
        toneOfFrame[frames] = tone;
        powerOfFrame[frames] = sum - noise;
        ratioOfFrame[frames] = tone < 0 ? 0 : frequencyHz / steps.get(tone).frequencyHz();
        overloadedFrame[frames] = overloaded;
        frames++;
    }

    private static double noiseBeside(double[] power, int line, int half) {
        int lowFrom = Math.max(1, line - 2 * half - 2);
        int lowTo = line - half - 2;
        int highFrom = line + half + 2;
        int highTo = Math.min(power.length - 1, line + 2 * half + 2);
        int count = Math.max(0, lowTo - lowFrom + 1) + Math.max(0, highTo - highFrom + 1);
        return count == 0
                ? 0
                : (FrameSpectrum.sum(power, lowFrom, lowTo) + FrameSpectrum.sum(power, highFrom, highTo)) / count;
    }

    private int nearestStep(double frequencyHz) {
        int nearest = -1;
        double least = OFF_SPEED;
        for (int i = 0; i < steps.size(); i++) {
            double distance = Math.abs(StrictMath.log(frequencyHz / steps.get(i).frequencyHz()));
            if (distance < least) {
                least = distance;
                nearest = i;
            }
        }
        return nearest;
    }

    @Override
    void clear() {
        frames = 0;
    }

    /** Frames first to last that hold one tone, but for a few missing ones. */
    private record Run(int tone, int first, int last) {}

    private List<Run> runs() {
        List<Run> runs = new ArrayList<>();
        int[] open = new int[steps.size()]; // one more than the first frame of the open run
        int[] last = new int[steps.size()];
        for (int f = 0; f <= frames; f++) {
            for (int tone = 0; tone < open.length; tone++) {
                if (open[tone] > 0 && (f == frames || f - last[tone] > MISSING_FRAMES + 1)) {
                    runs.add(new Run(tone, open[tone] - 1, last[tone]));
                    open[tone] = 0;
                }
            }
            if (f < frames && toneOfFrame[f] >= 0) {
                int tone = toneOfFrame[f];
                last[tone] = f;
                if (open[tone] == 0) {
                    open[tone] = f + 1;
                }
            }
        }
        runs.sort(Comparator.comparingInt(Run::first));
        return runs;
    }

    private double frameStepSeconds() {
        return 0.5 / binHz();
    }

    /** How well a run fits the sent length: 1 where it does, little where it is much longer or shorter. */
    private double fit(Run run) {
        double dwell = steps.get(run.tone()).dwellSeconds();
        double seconds = (run.last() - run.first()) * frameStepSeconds();
        return Math.max(0.01, 1 - Math.abs(seconds - dwell) / dwell);
    }

    /** The run of each step, null where it was not found: the best-fitting runs in the sent order. */
    private Run[] chosen() {
        List<Run> runs = runs();
        double[] score = new double[runs.size()];
        int[] before = new int[runs.size()];
        int end = -1;
        for (int i = 0; i < score.length; i++) {
            before[i] = -1;
            for (int j = 0; j < i; j++) {
                double gap = Math.max(0, runs.get(i).first() - runs.get(j).last()) * frameStepSeconds();
                double chained = score[j] - GAP_COST_PER_SECOND * gap;
                if (runs.get(j).tone() < runs.get(i).tone() && chained > score[i]) {
                    score[i] = chained;
                    before[i] = j;
                }
            }
            score[i] += fit(runs.get(i));
            if (end < 0 || score[i] > score[end]) {
                end = i;
            }
        }
        Run[] chosen = new Run[steps.size()];
        for (int i = end; i >= 0; i = before[i]) {
            chosen[runs.get(i).tone()] = runs.get(i);
        }
        return chosen;
    }

    private double ratio(Run run) {
        double sum = 0;
        int count = 0;
        for (int f = run.first(); f <= run.last(); f++) {
            if (toneOfFrame[f] == run.tone()) {
                sum += ratioOfFrame[f];
                count++;
            }
        }
        return sum / count;
    }

    private static double median(List<Double> values) {
        List<Double> sorted = values.stream().sorted().toList();
        int middle = sorted.size() / 2;
        return sorted.size() % 2 == 1 ? sorted.get(middle) : (sorted.get(middle - 1) + sorted.get(middle)) / 2;
    }

    /**
     * Speed of the machine over that of the recording, as the tones have it: their median.
     *
     * @return the ratio, 1 on speed; empty where no tone was found
     */
    public OptionalDouble speedRatio() {
        List<Double> ratios = new ArrayList<>();
        for (Run run : chosen()) {
            if (run != null) {
                ratios.add(ratio(run));
            }
        }
        return ratios.isEmpty() ? OptionalDouble.empty() : OptionalDouble.of(median(ratios));
    }

    @Override
    List<ToneLevel> levels() {
        Run[] chosen = chosen();
        double speed = speedRatio().orElse(1);
        List<ToneLevel> levels = new ArrayList<>();
        for (int i = 0; i < chosen.length; i++) {
            double frequencyHz = steps.get(i).frequencyHz();
            Run run = chosen[i];
            if (run == null) {
                levels.add(ToneLevel.without(frequencyHz, frames == 0 ? Status.INSUFFICIENT_DATA : Status.NO_CARRIER));
            } else if (Math.abs(ratio(run) / speed - 1) > Math.max(SPEED_SPREAD, binHz() / (4 * frequencyHz))) {
                levels.add(ToneLevel.without(frequencyHz, Status.NO_CARRIER));
            } else {
                levels.add(level(frequencyHz, run));
            }
        }
        return levels;
    }

    private ToneLevel level(double frequencyHz, Run run) {
        CorrelatedMean power = new CorrelatedMean();
        for (int f = run.first() + EDGE_FRAMES; f <= run.last() - EDGE_FRAMES; f++) {
            if (toneOfFrame[f] == run.tone()) {
                if (overloadedFrame[f]) {
                    return ToneLevel.without(frequencyHz, Status.OVERLOAD);
                }
                power.add(powerOfFrame[f]);
            }
        }
        return power.count() == 0
                ? ToneLevel.without(frequencyHz, Status.INSUFFICIENT_DATA)
                : ToneLevel.of(frequencyHz, power);
    }

    @Override
    String method() {
        return "stepped tones, selective power mean";
    }
}
