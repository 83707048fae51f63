/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.damage;

import java.util.SplittableRandom;
import org.tapemetrology.signals.Signal;

/**
 * Material that is no test tone: sounds of some tenths of a second at random, with harmonics and pauses, as of speech
 * (gliding pitch of 90 to 250 Hz, three broad resonances, hisses between) or of music (notes of the chromatic scale,
 * several at once).
 */
final class Syllables implements Signal {
    private static final int HARMONICS = 24;
    private final double[] begin;
    private final double[] length;
    private final double[] pitchHz;
    private final double[] glide;
    private final double[][] amplitude;
    private final boolean[] hiss;
    private final double gain;

    private Syllables(int count, double gain) {
        begin = new double[count];
        length = new double[count];
        pitchHz = new double[count];
        glide = new double[count];
        amplitude = new double[count][HARMONICS];
        hiss = new boolean[count];
        this.gain = gain;
    }

    /** Sounds as of speech. */
    static Syllables speech(SplittableRandom random, double seconds, double gain) {
        int count = (int) (seconds * 4) + 1;
        Syllables made = new Syllables(count, gain);
        double at = 0;
        for (int n = 0; n < count; n++) {
            made.begin[n] = at;
            made.length[n] = random.nextDouble(0.08, 0.3);
            made.pitchHz[n] = random.nextDouble(90, 250);
            made.glide[n] = random.nextDouble(-0.3, 0.3);
            made.hiss[n] = random.nextDouble() < 0.2;
            double[] resonances = {
                random.nextDouble(250, 900), random.nextDouble(900, 2300), random.nextDouble(2300, 3400)
            };
            for (int h = 0; h < HARMONICS; h++) {
                double hz = (h + 1) * made.pitchHz[n];
                double sum = 0.02 / (h + 1);
                for (double resonance : resonances) {
                    double off = (hz - resonance) / 120;
                    sum += 0.3 * Math.exp(-off * off / 2) * 500 / (resonance + 500);
                }
                made.amplitude[n][h] = sum;
            }
            at += made.length[n] + (random.nextDouble() < 0.25 ? random.nextDouble(0.05, 0.5) : 0);
        }
        return made;
    }

    /** Sounds as of music. */
    static Syllables music(SplittableRandom random, double seconds, double gain) {
        int count = (int) (seconds * 6) + 1;
        Syllables made = new Syllables(count, gain);
        for (int n = 0; n < count; n++) {
            made.begin[n] = random.nextDouble(0, seconds);
            made.length[n] = random.nextDouble(0.15, 0.8);
            made.pitchHz[n] = 110 * Math.pow(2, random.nextInt(40) / 12.0);
            double fall = random.nextDouble(0.5, 0.9);
            double size = 0.2;
            for (int h = 0; h < HARMONICS; h++) {
                made.amplitude[n][h] = size;
                size *= fall;
            }
        }
        return made;
    }

    @Override
    public double at(double seconds) {
        double sum = 0;
        for (int n = 0; n < begin.length; n++) {
            double t = seconds - begin[n];
            if (t > 0 && t < length[n]) {
                sum += sound(n, t);
            }
        }
        return gain * sum;
    }

    private double sound(int n, double t) {
        double share = t / length[n];
        double envelope = Math.min(1, Math.min(share, 1 - share) * 6);
        if (hiss[n]) {
            // Anything without a period: the fraction of a fast square.
            double x = t * 7919.113 + t * t * 9.1e5;
            return 0.4 * envelope * (2 * (x * x - Math.floor(x * x)) - 1);
        }
        double angle = 2 * Math.PI * pitchHz[n] * t * (1 + glide[n] * share / 2);
        double sum = 0;
        // Harmonics by the recurrence of Chebyshev: sin(k a) = 2 cos(a) sin((k - 1) a) - sin((k - 2) a).
        double before = 0;
        double now = Math.sin(angle);
        double twice = 2 * Math.cos(angle);
        for (int h = 0; h < HARMONICS && (h + 1) * pitchHz[n] < 3900; h++) {
            sum += amplitude[n][h] * now;
            double next = twice * now - before;
            before = now;
            now = next;
        }
        return envelope * sum;
    }
}
