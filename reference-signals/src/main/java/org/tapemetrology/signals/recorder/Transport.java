/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.List;
import org.tapemetrology.signals.internal.Require;

/**
 * What moves the tape, and how unsteadily. Its mean speed is set by the trimmer {@code speed}.
 *
 * @param speedMmPerSecond nominal tape speed in mm/s
 * @param driftPercentPerMinute change of the speed along the tape, in % a minute
 * @param parts what rotates
 * @param randomFlutterPercent RMS of the random flutter, whose power spectrum is flat to its corner and falls by 6 dB per
 *     octave beyond
 * @param randomFlutterCornerHz that corner, in Hz
 * @param scrapePercent RMS of scrape flutter in %, a narrow random band
 * @param scrapeHz centre of that band in Hz; its width is a tenth of it
 */
public record Transport(
        double speedMmPerSecond,
        double driftPercentPerMinute,
        List<RotatingPart> parts,
        double randomFlutterPercent,
        double randomFlutterCornerHz,
        double scrapePercent,
        double scrapeHz) {
    /**
     * Checks the values.
     *
     * @param speedMmPerSecond 10 to 1000
     * @param driftPercentPerMinute -1 to 1
     * @param parts any number
     * @param randomFlutterPercent 0 to 2
     * @param randomFlutterCornerHz 0.1 to 1000
     * @param scrapePercent 0 to 1
     * @param scrapeHz 200 to 6000
     * @throws IllegalArgumentException if a number is outside its range; NaN is in none
     */
    public Transport {
        Require.within("tape speed in mm/s", speedMmPerSecond, 10, 1000);
        Require.within("drift in % per minute", driftPercentPerMinute, -1, 1);
        Require.within("RMS of the random flutter in %", randomFlutterPercent, 0, 2);
        Require.within("corner of the random flutter in Hz", randomFlutterCornerHz, 0.1, 1000);
        Require.within("RMS of the scrape flutter in %", scrapePercent, 0, 1);
        Require.within("centre of the scrape flutter in Hz", scrapeHz, 200, 6000);
        parts = List.copyOf(parts);
    }

    /**
     * A transport without any unsteadiness.
     *
     * @param speedMmPerSecond tape speed
     * @return the transport
     */
    public static Transport steady(double speedMmPerSecond) {
        return new Transport(speedMmPerSecond, 0, List.of(), 0, 10, 0, 3000);
    }

    /**
     * A cassette transport in good order; dimensions are common practice, no source.
     *
     * @return the transport at 47.6 mm/s
     */
    public static Transport cassette() {
        double v = 47.6;
        return new Transport(
                v,
                0.003,
                List.of(
                        RotatingPart.ofDiameter("capstan", 2.4, v, 0.03),
                        RotatingPart.ofDiameter("pinch roller", 12.6, v, 0.025),
                        new RotatingPart("motor belt", 2.1, 0.02, 0),
                        new RotatingPart("take-up pack", 0.55, 0.015, -1.2),
                        new RotatingPart("supply pack", 0.31, 0.01, 0.7)),
                0.025,
                20,
                0.02,
                2600);
    }

    /**
     * An open-reel transport in good order; dimensions are common practice, no source.
     *
     * @return the transport at 190.5 mm/s
     */
    public static Transport openReel() {
        double v = 190.5;
        return new Transport(
                v,
                0.002,
                List.of(
                        RotatingPart.ofDiameter("capstan", 7.5, v, 0.015),
                        RotatingPart.ofDiameter("pinch roller", 34, v, 0.01),
                        new RotatingPart("motor belt", 3.3, 0.008, 0),
                        new RotatingPart("take-up pack", 0.9, 0.006, -0.9),
                        new RotatingPart("supply pack", 0.5, 0.006, 0.5)),
                0.012,
                20,
                0.015,
                3400);
    }
}
