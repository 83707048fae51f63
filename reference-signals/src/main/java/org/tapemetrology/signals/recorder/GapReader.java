/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

/**
 * The flux under the gaps of a head, anywhere between the samples of the tape: interpolation by a sinc with a Kaiser
 * window over 32 samples, from a table of 512 places with straight lines between them. Images are below -80 dB up to 20
 * kHz.
 */
final class GapReader {
    /** How far from the middle of the head a gap may be, in samples. */
    static final int REACH = 256;

    private static final int TAPS = 32;
    private static final int PLACES = 512;
    private static final double KAISER = 8;
    private static final int CHUNK = 512;
    private static final int LENGTH = 4096;
    private static final double[] TABLE = table();

    private final TapeReader tape;
    private final double[][] window;
    private int filled;
    /** Middle of the head, in samples of the window. */
    private double middle;

    /** The head begins a number of samples before the tape does. */
    GapReader(TapeReader tape, int channels, double before) {
        this.tape = tape;
        window = new double[channels][LENGTH];
        // Empty tape before the beginning, on which the gaps find nothing.
        filled = LENGTH / 2;
        middle = filled - before;
        advance(0);
    }

    /** Moves the tape and sees to it that both gaps have what they need. */
    final void advance(double samples) {
        middle += samples;
        while (middle + REACH + TAPS > filled) {
            if (filled + CHUNK > LENGTH) {
                int drop = filled - LENGTH / 2;
                for (double[] track : window) {
                    System.arraycopy(track, drop, track, 0, LENGTH / 2);
                }
                filled -= drop;
                middle -= drop;
            }
            tape.read(window, filled, CHUNK);
            filled += CHUNK;
        }
    }

    /** Flux under the gap of a track that stands so many samples ahead of the middle. */
    double flux(int track, double ahead) {
        double position = middle + ahead;
        int whole = (int) position;
        double place = (position - whole) * PLACES;
        int row = (int) place;
        double share = place - row;
        double[] samples = window[track];
        int from = whole - TAPS / 2 + 1;
        int first = row * TAPS;
        int second = first + TAPS;
        // Four sums each, so that no addition waits for the one before it.
        double below = 0;
        double below1 = 0;
        double below2 = 0;
        double below3 = 0;
        double above = 0;
        double above1 = 0;
        double above2 = 0;
        double above3 = 0;
        for (int i = 0; i < TAPS; i += 4) {
            double sample = samples[from + i];
            below += sample * TABLE[first + i];
            above += sample * TABLE[second + i];
            double sample1 = samples[from + i + 1];
            below1 += sample1 * TABLE[first + i + 1];
            above1 += sample1 * TABLE[second + i + 1];
            double sample2 = samples[from + i + 2];
            below2 += sample2 * TABLE[first + i + 2];
            above2 += sample2 * TABLE[second + i + 2];
            double sample3 = samples[from + i + 3];
            below3 += sample3 * TABLE[first + i + 3];
            above3 += sample3 * TABLE[second + i + 3];
        }
        double lower = (below + below1) + (below2 + below3);
        double upper = (above + above1) + (above2 + above3);
        return lower + share * (upper - lower);
    }

    private static double[] table() {
        double[] table = new double[(PLACES + 1) * TAPS];
        for (int row = 0; row <= PLACES; row++) {
            double sum = 0;
            for (int i = 0; i < TAPS; i++) {
                double x = i - (TAPS / 2 - 1) - (double) row / PLACES;
                double edge = x / (TAPS / 2.0);
                double angle = Math.PI * x;
                double sinc = x == 0 ? 1 : StrictMath.sin(angle) / angle;
                double value = sinc * Kernels.besselI0(KAISER * Math.sqrt(Math.max(0, 1 - edge * edge)));
                table[row * TAPS + i] = value;
                sum += value;
            }
            for (int i = 0; i < TAPS; i++) {
                table[row * TAPS + i] /= sum;
            }
        }
        return table;
    }
}
