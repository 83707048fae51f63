/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import java.util.SplittableRandom;

/**
 * A tone as a machine replays it, in blocks: lines of rotating parts and random flutter, a level that jumps, azimuth that
 * wanders, a third harmonic and noise. Everything comes from a stated seed, at 8 kHz.
 */
final class SimulatedDeck {
    static final int RATE_HZ = 8000;
    private static final int SLOW_FACTOR = 20;
    static final double SLOW_RATE_HZ = (double) RATE_HZ / SLOW_FACTOR;

    /** What the speed deviation of a machine is made of, as a ratio, at weighted magnitudes of some 1. */
    static final class Flutter {
        private final double[] rates;
        private final double[] amplitudes;
        private final double[] phases;
        private final Resonance fast;
        private final Wander slow;
        private final double fastShare;
        private final double slowShare;
        private long index;

        Flutter(long shape, long seed) {
            SplittableRandom random = new SplittableRandom(shape);
            int lines = 2 + random.nextInt(3);
            rates = new double[lines];
            amplitudes = new double[lines];
            phases = new double[lines];
            for (int i = 0; i < lines; i++) {
                rates[i] = 0.5 * Math.pow(60, random.nextDouble());
                amplitudes[i] = random.nextDouble();
            }
            fastShare = 0.2 + random.nextDouble();
            slowShare = 0.5 * random.nextDouble();
            double centre = 2 * Math.pow(6, random.nextDouble());
            double seconds = 0.05 + 0.2 * random.nextDouble();
            SplittableRandom run = new SplittableRandom(seed);
            for (int i = 0; i < lines; i++) {
                phases[i] = 2 * Math.PI * run.nextDouble();
            }
            fast = new Resonance(centre, centre, run.split());
            slow = new Wander(seconds, run.split());
        }

        double next() {
            double t = index++ / SLOW_RATE_HZ;
            double sum = fastShare * fast.next() + slowShare * slow.next();
            for (int i = 0; i < rates.length; i++) {
                sum += amplitudes[i] * Math.sin(2 * Math.PI * rates[i] * t + phases[i]);
            }
            return sum;
        }
    }

    /** Gaussian values of variance 1 that forget their past within a time, by e. */
    static final class Wander {
        private final SplittableRandom random;
        private final double keep;
        private double value;

        Wander(double seconds, SplittableRandom random) {
            this.random = random;
            this.keep = Math.exp(-1 / (seconds * SLOW_RATE_HZ));
            this.value = Draws.normal(random);
        }

        double next() {
            double now = value;
            value = keep * value + Math.sqrt(1 - keep * keep) * Draws.normal(random);
            return now;
        }
    }

    /** Gaussian values of variance 1 with a spectrum about a centre: one quadrature of two wanders on a carrier. */
    static final class Resonance {
        private final Wander one;
        private final Wander other;
        private final double step;
        private long index;

        Resonance(double centreHz, double widthHz, SplittableRandom random) {
            one = new Wander(1 / (Math.PI * widthHz), random.split());
            other = new Wander(1 / (Math.PI * widthHz), random.split());
            step = 2 * Math.PI * centreHz / SLOW_RATE_HZ;
        }

        double next() {
            double angle = step * index++;
            return Math.cos(angle) * one.next() + Math.sin(angle) * other.next();
        }
    }

    /** Normal values to draw from, which is faster than to make each. */
    private static final double[] NORMAL = new SplittableRandom(5)
            .ints(1 << 16)
            .mapToDouble(SimulatedDeck::normal)
            .toArray();

    private static double normal(int seed) {
        return Draws.normal(new SplittableRandom(seed));
    }

    private final SplittableRandom random;
    private final int channels;
    double toneHz = 3150;
    double amplitude = 0.3;
    /** Deviation at a rate of {@link #SLOW_RATE_HZ}, as a ratio. */
    java.util.function.DoubleSupplier deviation = () -> 0;
    /** Level of each channel in dB, delay of channel 2 in s, at that rate. */
    java.util.function.DoubleSupplier[] levelDb = {() -> 0, () -> 0};

    java.util.function.DoubleSupplier delay = () -> 0;
    double thirdHarmonic;
    double noise = 1e-4;

    private double phase;
    private final double[] from = new double[4];
    private final double[] to = new double[4];
    private int within = SLOW_FACTOR;
    private boolean begun;

    SimulatedDeck(int channels, long seed) {
        this.channels = channels;
        this.random = new SplittableRandom(seed);
    }

    private void step(double[] values) {
        values[0] = deviation.getAsDouble();
        values[1] = amplitude * Math.pow(10, levelDb[0].getAsDouble() / 20);
        values[2] = amplitude * Math.pow(10, levelDb[1].getAsDouble() / 20);
        values[3] = delay.getAsDouble();
    }

    /** The next frames. */
    void fill(float[] block, int frames) {
        if (!begun) {
            step(to);
            begun = true;
        }
        for (int i = 0; i < frames; i++) {
            if (within == SLOW_FACTOR) {
                System.arraycopy(to, 0, from, 0, to.length);
                step(to);
                within = 0;
            }
            double u = (double) within++ / SLOW_FACTOR;
            phase += toneHz / RATE_HZ * (1 + from[0] + u * (to[0] - from[0]));
            phase -= Math.floor(phase);
            for (int c = 0; c < channels; c++) {
                double level = from[1 + c] + u * (to[1 + c] - from[1 + c]);
                double lag = c == 0 ? 0 : toneHz * (from[3] + u * (to[3] - from[3]));
                double s = Math.sin(2 * Math.PI * (phase - lag));
                double tone = s + thirdHarmonic * s * (3 - 4 * s * s); // sin 3a = 3 sin a - 4 sin^3 a
                block[i * channels + c] = (float) (level * tone + noise * NORMAL[random.nextInt(NORMAL.length)]);
            }
        }
    }
}
