/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import org.tapemetrology.signals.internal.Require;

/**
 * Amplifiers of a machine. Levels in dB are relative to the reference level.
 *
 * @param referenceDbfs output level of a reference-level tape on an aligned machine, and the input level that records it,
 *     in dBFS (a full-scale sine is 0 dBFS)
 * @param noiseDb RMS noise of the replay amplifier up to half the sampling rate, in dB
 * @param mainsHz mains frequency in Hz
 * @param humDb hum at the mains frequency; its third harmonic is 10 dB weaker
 * @param secondHarmonicPercent own second harmonic of the replay amplifier at reference level, in %
 * @param thirdHarmonicPercent own third harmonic of the replay amplifier at reference level, in %
 * @param crosstalkDb what one channel picks up of the other in replay, in dB
 * @param erasureDb what the erase head leaves of a recording, in dB
 * @param recordEmphasisHz corner of the treble emphasis of the recording current in Hz, above which treble saturates
 *     sooner
 */
public record Electronics(
        double referenceDbfs,
        double noiseDb,
        double mainsHz,
        double humDb,
        double secondHarmonicPercent,
        double thirdHarmonicPercent,
        double crosstalkDb,
        double erasureDb,
        double recordEmphasisHz) {
    private static final double SILENT = -200;

    /**
     * Checks the values.
     *
     * @param referenceDbfs -60 to 0
     * @param noiseDb -200 to -10
     * @param mainsHz 16 to 400
     * @param humDb -200 to -10
     * @param secondHarmonicPercent 0 to 10
     * @param thirdHarmonicPercent 0 to 10
     * @param crosstalkDb -200 to 0
     * @param erasureDb -200 to 0
     * @param recordEmphasisHz 2 kHz to 1 MHz
     * @throws IllegalArgumentException if a number is outside its range; NaN is in none
     */
    public Electronics {
        Require.within("reference level in dBFS", referenceDbfs, -60, 0);
        Require.within("noise in dB", noiseDb, SILENT, -10);
        Require.within("mains frequency in Hz", mainsHz, 16, 400);
        Require.within("hum in dB", humDb, SILENT, -10);
        Require.within("second harmonic in %", secondHarmonicPercent, 0, 10);
        Require.within("third harmonic in %", thirdHarmonicPercent, 0, 10);
        Require.within("crosstalk in dB", crosstalkDb, SILENT, 0);
        Require.within("erasure in dB", erasureDb, SILENT, 0);
        Require.within("corner of the record emphasis in Hz", recordEmphasisHz, 2000, 1e6);
    }

    /**
     * Amplifiers without fault.
     *
     * @return reference level at -12 dBFS, no noise, hum, distortion, crosstalk or emphasis
     */
    public static Electronics perfect() {
        return new Electronics(-12, SILENT, 50, SILENT, 0, 0, SILENT, SILENT, 1e6);
    }

    /**
     * Amplifiers of a cassette machine in good order; common practice, no source.
     *
     * @return the electronics
     */
    public static Electronics cassette() {
        return new Electronics(-12, -66, 50, -68, 0.05, 0.05, -40, -68, 4500);
    }

    /**
     * Amplifiers of an open-reel machine in good order; common practice, no source.
     *
     * @return the electronics
     */
    public static Electronics openReel() {
        return new Electronics(-12, -72, 50, -72, 0.03, 0.03, -46, -72, 12_000);
    }

    /** Replay amplifier without its gain: small second- and third-order terms re the reference level. */
    double distorted(double value) {
        // sin^2 has half its amplitude in the second harmonic, sin^3 a quarter in the third.
        return value
                + value * value * (secondHarmonicPercent / 50)
                - value * value * value * (thirdHarmonicPercent / 25);
    }

    /** Treble emphasis of the recording current. */
    double emphasis(double hz) {
        double x = hz / recordEmphasisHz;
        return Math.sqrt(1 + x * x);
    }
}
