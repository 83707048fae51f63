/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;

/**
 * A programme recorded and replayed by a machine with every fault that is set, sample by sample. It shares no code with the
 * recogniser: phases are summed up with the speed of the moment, and where each step stands is written down as it is played.
 */
final class ReplayedProgramme {
    /** Part of the programme, in s of the programme, that was cut out or muted. */
    record Part(double from, double to) {
        boolean holds(double at) {
            return at >= from && at < to;
        }
    }

    /** The tape stops at a moment of the programme, and the recording goes on. */
    record Stop(double at, double seconds) {}

    final Programme programme;
    final int rateHz;
    final SplittableRandom random;
    double ratio = 1;
    double wow;
    double wowHz = 1;
    double from;
    double to;
    double leadSeconds;
    double tailSeconds;
    double gain = 1;
    double balance = 1;
    double delaySeconds;
    double crosstalk;
    double hum;
    double humHz = 50;
    double hiss;
    double lowPassHz = 1e9;
    double wanderDb;
    boolean swapped;
    boolean mono;
    final List<Part> cutOut = new ArrayList<>();
    final List<Part> muted = new ArrayList<>();
    final List<Stop> stops = new ArrayList<>();

    private final double[] phases = new double[64];
    private final double[] pink = new double[7];
    private double[] left = {};
    private double[] right = {};
    private int length;
    /** For each sample the step that is heard, -1 where none is. */
    private short[] truth = {};

    ReplayedProgramme(Programme programme, int rateHz, long seed) {
        this.programme = programme;
        this.rateHz = rateHz;
        this.random = new SplittableRandom(seed);
        this.to = programme.seconds();
    }

    private double gaussian() {
        double sum = 0;
        for (int i = 0; i < 3; i++) {
            double one = random.nextDouble();
            sum += one - random.nextDouble();
        }
        return sum * Math.sqrt(2);
    }

    ReplayedProgramme play() {
        double seconds = leadSeconds + tailSeconds + (to - from) / ratio * 1.02 + 1;
        seconds += stops.stream().mapToDouble(Stop::seconds).sum();
        left = new double[(int) (seconds * rateHz)];
        right = new double[left.length];
        truth = new short[left.length];
        silence(leadSeconds);
        double at = from;
        int step = 0;
        List<Stop> ahead = new ArrayList<>(stops);
        double wander = 0;
        double wanderShare = 1 / (0.5 * rateHz);
        while (at < to && length < left.length) {
            for (Part part : cutOut) {
                at = part.holds(at) ? part.to() : at;
            }
            if (at >= to) {
                break;
            }
            while (at >= programme.startSeconds(step + 1)) {
                step++;
                start();
            }
            double now = at;
            if (!ahead.isEmpty() && now >= ahead.get(0).at()) {
                silence(ahead.remove(0).seconds());
            }
            double speed = ratio * (1 + wow * Math.sin(2 * Math.PI * wowHz * length / rateHz));
            wander += -wanderShare * wander + Math.sqrt(2 * wanderShare) * wanderDb * gaussian();
            Step sent = programme.steps().get(step);
            boolean quiet = muted.stream().anyMatch(part -> part.holds(now));
            double value = value(sent, at - programme.startSeconds(step), speed / rateHz)
                    * gain
                    * (quiet ? 0.001 : Math.pow(10, wander / 20));
            double one = sent.side() == Step.Side.RIGHT ? 0 : value;
            double two = sent.side() == Step.Side.LEFT ? 0 : value;
            left[length] = one + crosstalk * two;
            right[length] = balance * (two + crosstalk * one);
            truth[length] = (short) (quiet && !sent.isPause() ? -1 : step); // a pause that is muted is one still
            length++;
            at += speed / rateHz;
        }
        silence(tailSeconds);
        tarnish();
        return this;
    }

    private void silence(double seconds) {
        int end = (int) Math.min(left.length, length + Math.round(seconds * rateHz));
        for (; length < end; length++) {
            truth[length] = -1;
        }
    }

    private void start() {
        for (int i = 0; i < phases.length; i++) {
            phases[i] = random.nextDouble();
        }
    }

    private double value(Step step, double inStep, double advance) {
        if (step.signal() instanceof StepSignal.Tone tone) {
            return amplitude(tone.levelDbfs()) * sine(0, tone.frequencyHz() * advance);
        } else if (step.signal() instanceof StepSignal.Sweep sweep) {
            double hertz = sweep.startHz() * Math.pow(sweep.endHz() / sweep.startHz(), inStep / step.seconds());
            return amplitude(sweep.levelDbfs()) * sine(0, hertz * advance);
        } else if (step.signal() instanceof StepSignal.Multitone multitone) {
            double sum = 0;
            for (int i = 0; i < multitone.frequenciesHz().size(); i++) {
                sum += sine(i, multitone.frequenciesHz().get(i) * advance);
            }
            return amplitude(multitone.levelDbfs()) * sum;
        } else if (step.signal() instanceof StepSignal.Noise noise) {
            return amplitude(noise.levelDbfs()) / Math.sqrt(2) * (noise.pink() ? pinkNoise() : gaussian());
        }
        return 0;
    }

    private static double amplitude(double dbfs) {
        return Math.pow(10, dbfs / 20);
    }

    private double sine(int i, double cycles) {
        phases[i] += cycles;
        phases[i] -= Math.floor(phases[i]);
        return Math.sin(2 * Math.PI * phases[i]);
    }

    /** Noise through six first-order low passes an octave and a half apart: 3 dB an octave within 1 dB. */
    private double pinkNoise() {
        double white = gaussian();
        double sum = 0;
        double edgeHz = 20;
        for (int i = 0; i < 6; i++) {
            double share = 1 - Math.exp(-2 * Math.PI * edgeHz / rateHz);
            pink[i] += share * (white - pink[i]);
            sum += pink[i] * Math.sqrt(1000 / edgeHz);
            edgeHz *= 3.5;
        }
        return 0.5 * sum;
    }

    /** Losses, azimuth, hum and hiss. */
    private void tarnish() {
        double share = 1 - Math.exp(-2 * Math.PI * lowPassHz / rateHz);
        for (double[] channel : List.of(left, right)) {
            double state = 0;
            double humPhase = random.nextDouble();
            for (int i = 0; i < length; i++) {
                state += share * (channel[i] - state);
                double phase = 2 * Math.PI * (humPhase + humHz * i / rateHz);
                channel[i] = state
                        + hum * (Math.sin(phase) + 0.5 * Math.sin(2 * phase + 1) + 0.4 * Math.sin(3 * phase))
                        + hiss * gaussian();
            }
        }
        int delay = (int) Math.round(delaySeconds * rateHz);
        if (delay > 0) {
            System.arraycopy(right, 0, right, delay, length - delay);
        }
        if (swapped) {
            double[] other = left;
            left = right;
            right = other;
        }
    }

    ProgrammeRecogniser recogniser() {
        ProgrammeRecogniser recogniser = new ProgrammeRecogniser(programme, rateHz, mono ? 1 : 2);
        if (mono) {
            recogniser.accept(left, 0, length);
        } else {
            recogniser.accept(left, right, 0, length);
        }
        return recogniser;
    }

    float[] interleaved() {
        float[] samples = new float[2 * length];
        for (int i = 0; i < length; i++) {
            samples[2 * i] = (float) left[i];
            samples[2 * i + 1] = (float) right[i];
        }
        return samples;
    }

    double seconds() {
        return (double) length / rateHz;
    }

    /** Seconds of a step that are heard between two moments. */
    double heard(int step, double fromSeconds, double toSeconds) {
        int count = 0;
        int end = (int) Math.min(length, toSeconds * rateHz);
        for (int i = (int) Math.max(0, fromSeconds * rateHz); i < end; i++) {
            count += truth[i] == step ? 1 : 0;
        }
        return (double) count / rateHz;
    }
}
