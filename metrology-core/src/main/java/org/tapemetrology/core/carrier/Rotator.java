/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

/**
 * Takes the turning e^(j a m) of an envelope out of blocks of {@link MixingDecimator#COLUMNS} values. The phase is set anew
 * for each block from a count of turns, so no error builds up. Thread-confined.
 */
final class Rotator {
    private final double[] cosines = new double[MixingDecimator.COLUMNS];
    private final double[] sines = new double[MixingDecimator.COLUMNS];
    private final double turnsPerBlock;
    private double turns;

    Rotator(double radiansPerValue) {
        for (int m = 0; m < cosines.length; m++) {
            cosines[m] = StrictMath.cos(m * radiansPerValue);
            sines[m] = -StrictMath.sin(m * radiansPerValue);
        }
        double all = cosines.length * radiansPerValue / (2 * StrictMath.PI);
        this.turnsPerBlock = all - StrictMath.floor(all);
    }

    /** Turns whole blocks in place. */
    void process(double[] re, double[] im, int count) {
        for (int block = 0; block < count; block += cosines.length) {
            double blockRe = Math.cos(-2 * Math.PI * turns);
            double blockIm = Math.sin(-2 * Math.PI * turns);
            for (int m = 0; m < cosines.length; m++) {
                double turnRe = cosines[m] * blockRe - sines[m] * blockIm;
                double turnIm = cosines[m] * blockIm + sines[m] * blockRe;
                double x = re[block + m];
                double y = im[block + m];
                re[block + m] = x * turnRe - y * turnIm;
                im[block + m] = x * turnIm + y * turnRe;
            }
            turns += turnsPerBlock;
            turns -= Math.floor(turns);
        }
    }
}
