/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.damage;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.function.DoubleUnaryOperator;
import org.tapemetrology.signals.Signal;

/** What is done to one channel, and what that does to its truths. */
final class ChannelDraft {
    /** Level of the tone and its delay, as amplitude and seconds. */
    double amplitude;

    double delaySeconds;
    double hissRms;
    /** Power of hum where a full-scale sine has 1. */
    double humPower;
    /** Mains frequencies of its hums. */
    final List<Double> humsHz = new ArrayList<>();
    /** Whether noise beside the tone is nothing but hiss and hum. */
    boolean noiseIsPlain = true;
    /** Whether the level of the tone is the same all the time. */
    boolean steady = true;
    /** Largest and smallest 100 ms level in dB re the tone, while that can be told. */
    double rangeDb;

    boolean rangeIsKnown = true;
    boolean dead;
    /** Clips at this share of the amplitude; 0 for not at all. */
    double clipShare;

    boolean clipsAtFullScale;
    final List<DoubleUnaryOperator> gains = new ArrayList<>();
    /** Moments without the tone: a level may have them in it or not. */
    final List<DoubleUnaryOperator> losses = new ArrayList<>();

    final List<Signal> added = new ArrayList<>();
    final List<Consumer<double[]>> onSamples = new ArrayList<>();
    /** Said last of all: what a fault has destroyed. */
    final List<Consumer<Truths>> verdicts = new ArrayList<>();

    double gainAt(double seconds) {
        return product(gains, seconds) * product(losses, seconds);
    }

    private static double product(List<DoubleUnaryOperator> factors, double seconds) {
        double gain = 1;
        for (DoubleUnaryOperator one : factors) {
            gain *= one.applyAsDouble(seconds);
        }
        return gain;
    }

    /** Mean power re the steady tone over a span, in dB: with the losses in it, and without. */
    double[] meanGainDb(double from, double to) {
        if (gains.isEmpty() && losses.isEmpty()) {
            return new double[] {0, 0};
        }
        int steps = (int) Math.max(200, (to - from) * 2000);
        double with = 0;
        double without = 0;
        for (int i = 0; i < steps; i++) {
            double t = from + (i + 0.5) * (to - from) / steps;
            double gain = product(gains, t);
            double left = gain * product(losses, t);
            without += gain * gain;
            with += left * left;
        }
        double least = 1e-12;
        return new double[] {
            10 * Math.log10(Math.max(least, with / steps)), 10 * Math.log10(Math.max(least, without / steps))
        };
    }

    void undefined(String... groups) {
        verdicts.add(truths -> {
            for (String group : groups) {
                truths.putGroup(group, Truth.NOT_DEFINED);
            }
        });
    }

    void notStated(String... groups) {
        verdicts.add(truths -> {
            for (String group : groups) {
                truths.putGroup(group, Truth.NOT_STATED);
            }
        });
    }
}
