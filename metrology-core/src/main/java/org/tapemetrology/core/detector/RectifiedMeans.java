/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

/**
 * Means of the magnitudes of {@value #GROUP} samples in turn: what a slow movement needs of a rectified signal, at a sixteenth
 * of its rate. A movement of 2 Hz behind a rectifier at 192 kHz moves by less than a part in a million between two of them;
 * what of the ripple folds into its band is below a part in five thousand, where twice the tone stands within 1 Hz of the
 * rate of the means, and far less elsewhere, for there the mean of the group is zero. A non-finite
 * sample makes the mean that holds it non-finite. Allocates nothing. Thread-confined.
 */
public final class RectifiedMeans {
    /** Samples in a mean. */
    public static final int GROUP = 16;

    private final double[] pending = new double[GROUP];
    private int filled;

    /** Means of no sample yet. */
    public RectifiedMeans() {}

    /**
     * Takes a block.
     *
     * @param in samples
     * @param inOffset first sample
     * @param length number of samples
     * @param out where the means go, with room for {@code length / 16 + 1}
     * @param outOffset first of them
     * @return number of means written
     */
    public int process(double[] in, int inOffset, int length, double[] out, int outOffset) {
        int produced = 0;
        int taken = 0;
        if (filled > 0) {
            taken = Math.min(length, GROUP - filled);
            System.arraycopy(in, inOffset, pending, filled, taken);
            filled += taken;
            if (filled < GROUP) {
                return 0;
            }
            out[outOffset] = mean(pending, 0);
            produced = 1;
        }
        for (; taken + GROUP <= length; taken += GROUP) {
            out[outOffset + produced++] = mean(in, inOffset + taken);
        }
        filled = length - taken;
        System.arraycopy(in, inOffset + taken, pending, 0, filled);
        return produced;
    }

    /** Four sums, so that one need not wait for another. */
    private static double mean(double[] x, int at) {
        double a = 0;
        double b = 0;
        double c = 0;
        double d = 0;
        for (int i = at; i < at + GROUP; i += 4) {
            a += Math.abs(x[i]);
            b += Math.abs(x[i + 1]);
            c += Math.abs(x[i + 2]);
            d += Math.abs(x[i + 3]);
        }
        return (a + b + (c + d)) / GROUP;
    }

    /** Forgets every sample. */
    public void reset() {
        filled = 0;
    }
}
