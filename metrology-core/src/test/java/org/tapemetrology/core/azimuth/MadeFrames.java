/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

/** Cross spectra that are written bin by bin, of frames at 8 kHz: 15.625 Hz a bin, the first of them number 3. */
final class MadeFrames {
    static final CrossTransform TRANSFORM = new CrossTransform(8000);
    static final double BIN_HZ = 15.625;

    private MadeFrames() {}

    /** A frame of no bin, at -20 dB. */
    static CrossFrame frame() {
        CrossFrame frame = TRANSFORM.newFrame();
        frame.first = 0.01;
        frame.second = 0.01;
        return frame;
    }

    static double omega(int bin) {
        return 2 * Math.PI * BIN_HZ * bin;
    }

    /** Writes a bin, by its number from 0 Hz on, of equal powers, of which a part is common (the root of the coherence), at a delay in s. */
    static void put(CrossFrame frame, int bin, double power, double common, double delay) {
        int i = bin - TRANSFORM.firstBin();
        frame.firstPower[i] = power;
        frame.secondPower[i] = power;
        frame.re[i] = common * power * Math.cos(omega(bin) * delay);
        frame.im[i] = -common * power * Math.sin(omega(bin) * delay);
    }

    /** A frame of equal bins, all of them common. */
    static CrossFrame band(int from, int to, double delay) {
        CrossFrame frame = frame();
        for (int bin = from; bin <= to; bin++) {
            put(frame, bin, 1, 1, delay);
        }
        return frame;
    }

    static CrossFrame tones(double delay, int... bins) {
        CrossFrame frame = frame();
        for (int bin : bins) {
            put(frame, bin, 1, 1, delay);
        }
        return frame;
    }

    static CrossFrame inverted(CrossFrame frame) {
        for (int i = 0; i < frame.re.length; i++) {
            frame.re[i] = -frame.re[i];
            frame.im[i] = -frame.im[i];
        }
        return frame;
    }

    /** A sum of so many of the same. */
    static CrossSpectrum sum(CrossFrame frame, int frames) {
        CrossSpectrum spectrum = new CrossSpectrum(TRANSFORM, 1);
        for (int i = 0; i < frames; i++) {
            spectrum.add(frame);
        }
        return spectrum;
    }
}
