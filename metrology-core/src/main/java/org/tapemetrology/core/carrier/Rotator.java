/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

/**
 * Takes the turning e^(j a m) of an envelope out of it. Within blocks of {@value #BLOCK} values it is a table, and the phase is
 * set anew for each block from a count of turns, so no error builds up. Thread-confined.
 */
final class Rotator {
    private static final int BLOCK = 128;

    private final double[] cosines = new double[BLOCK];
    private final double[] sines = new double[BLOCK];
    private final double turnsPerBlock;
    private double turns;
    private double blockRe = 1;
    private double blockIm;
    private int next;

    Rotator(double radiansPerValue) {
        for (int m = 0; m < BLOCK; m++) {
            cosines[m] = StrictMath.cos(m * radiansPerValue);
            sines[m] = -StrictMath.sin(m * radiansPerValue);
        }
        this.turnsPerBlock = StrictMath.IEEEremainder(BLOCK * radiansPerValue / (2 * StrictMath.PI), 1);
    }

    /** Turns the next values in place. */
    void process(double[] re, double[] im, int count) {
        for (int done = 0; done < count; ) {
            int part = Math.min(count - done, BLOCK - next);
            for (int i = 0; i < part; i++) {
                double turnRe = cosines[next + i] * blockRe - sines[next + i] * blockIm;
                double turnIm = cosines[next + i] * blockIm + sines[next + i] * blockRe;
                double x = re[done + i];
                double y = im[done + i];
                re[done + i] = x * turnRe - y * turnIm;
                im[done + i] = x * turnIm + y * turnRe;
            }
            done += part;
            next += part;
            if (next == BLOCK) {
                beginBlock();
            }
        }
    }

    private void beginBlock() {
        next = 0;
        turns += turnsPerBlock;
        turns -= Math.floor(turns);
        blockRe = Math.cos(-2 * Math.PI * turns);
        blockIm = Math.sin(-2 * Math.PI * turns);
    }
}
