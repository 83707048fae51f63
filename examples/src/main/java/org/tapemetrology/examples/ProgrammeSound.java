/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import org.tapemetrology.core.filter.Butterworth;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.core.programme.Step;
import org.tapemetrology.core.programme.StepSignal;
import org.tapemetrology.signals.Decibels;
import org.tapemetrology.signals.LogarithmicSweep;
import org.tapemetrology.signals.PinkNoise;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.Sine;
import org.tapemetrology.signals.WhiteNoise;
import org.tapemetrology.signals.wav.WavWriter;

/** Writes a programme as samples of two channels, each step with ramps of 5 ms at its edges so that nothing clicks. */
final class ProgrammeSound {
    private static final double RAMP_SECONDS = 0.005;
    private static final int BLOCK = 4096;
    private static final int FILTER_ORDER = 4;

    private final Programme programme;
    private final int rateHz;

    ProgrammeSound(Programme programme, int rateHz) {
        this.programme = programme;
        this.rateHz = rateHz;
        for (Step step : programme.steps()) {
            double highest = highestHz(step.signal());
            if (highest >= rateHz / 2.0) {
                throw new IllegalArgumentException("step " + step.name() + " reaches " + highest
                        + " Hz, allowed at this rate: below " + rateHz / 2.0 + " Hz");
            }
        }
    }

    private static double highestHz(StepSignal signal) {
        if (signal instanceof StepSignal.Tone tone) {
            return tone.frequencyHz();
        } else if (signal instanceof StepSignal.Sweep sweep) {
            return sweep.endHz();
        } else if (signal instanceof StepSignal.Multitone multitone) {
            return multitone.frequenciesHz().get(multitone.frequenciesHz().size() - 1);
        } else if (signal instanceof StepSignal.Noise noise) {
            return noise.toHz();
        }
        return 0;
    }

    /** Writes the whole; lengths are exact to a sample, and errors of rounding do not add up. */
    void writeTo(WavWriter writer) throws IOException {
        for (int i = 0; i < programme.steps().size(); i++) {
            long from = Math.round(programme.startSeconds(i) * rateHz);
            long to = Math.round(programme.startSeconds(i + 1) * rateHz);
            write(writer, programme.steps().get(i), i, to - from);
        }
    }

    private void write(WavWriter writer, Step step, int seed, long length) throws IOException {
        SampledSignal signal = SampledSignal.of(signal(step, seed), rateHz);
        SecondOrderSections band = null;
        double gain = 1;
        if (step.signal() instanceof StepSignal.Noise noise) {
            gain = Decibels.toRatio(noise.levelDbfs()) / Math.sqrt(2) / rms(signal, band(noise), length);
            band = band(noise);
        }
        long ramp = Math.round(RAMP_SECONDS * rateHz);
        for (long at = 0; at < length; at += BLOCK) {
            int count = (int) Math.min(BLOCK, length - at);
            double[] sound = new double[count];
            signal.fill(at, sound, 0, count);
            if (band != null) {
                band.process(sound, 0, sound, 0, count);
            }
            for (int n = 0; n < count; n++) {
                double edge = Math.min(1, Math.min(at + n, length - 1 - at - n) / (double) ramp);
                sound[n] *= Math.pow(Math.sin(Math.PI / 2 * edge), 2);
            }
            scale(sound, gain);
            double[] silence = new double[count];
            writer.write(step.side().carries(1) ? sound : silence, step.side().carries(2) ? sound : silence);
        }
    }

    private static void scale(double[] sound, double gain) {
        for (int n = 0; n < sound.length; n++) {
            sound[n] *= gain;
        }
    }

    /** RMS of noise in its band, so that it can be given its level exactly. */
    private static double rms(SampledSignal signal, SecondOrderSections band, long length) {
        double[] sound = new double[BLOCK];
        double sum = 0;
        for (long at = 0; at < length; at += BLOCK) {
            int count = (int) Math.min(BLOCK, length - at);
            signal.fill(at, sound, 0, count);
            band.process(sound, 0, sound, 0, count);
            for (int n = 0; n < count; n++) {
                sum += sound[n] * sound[n];
            }
        }
        return Math.sqrt(sum / length);
    }

    private SecondOrderSections band(StepSignal.Noise noise) {
        return Butterworth.bandPass(FILTER_ORDER, noise.fromHz(), Math.min(noise.toHz(), 0.49 * rateHz), rateHz);
    }

    /** The sound of a step in closed form; noise is not yet in its band and of its level. */
    Signal signal(Step step, int seed) {
        if (step.signal() instanceof StepSignal.Tone tone) {
            return new Sine(tone.frequencyHz(), Decibels.toRatio(tone.levelDbfs()));
        } else if (step.signal() instanceof StepSignal.Sweep sweep) {
            return new LogarithmicSweep(
                    sweep.startHz(), sweep.endHz(), step.seconds() + 1.0 / rateHz, Decibels.toRatio(sweep.levelDbfs()));
        } else if (step.signal() instanceof StepSignal.Multitone multitone) {
            Signal sum = time -> 0;
            int count = multitone.frequenciesHz().size();
            for (int i = 0; i < count; i++) {
                // Phases that grow with the square of the number keep the peaks low.
                sum = sum.plus(new Sine(
                        multitone.frequenciesHz().get(i),
                        Decibels.toRatio(multitone.levelDbfs()),
                        Math.PI * i * i / count));
            }
            return sum;
        } else if (step.signal() instanceof StepSignal.Noise noise) {
            return noise.pink() ? new PinkNoise(seed, 1, rateHz) : new WhiteNoise(seed, 1, rateHz);
        }
        return time -> 0;
    }
}
