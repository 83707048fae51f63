/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

import org.tapemetrology.core.internal.Circle;
import org.tapemetrology.core.internal.RealTransform;

/** Power spectrum of a window through a Hann window, and what stands where in it. In sums bins that it does not have hold nothing. */
final class LineSpectrum {
    /** In place of a bin where there is none. */
    static final int NONE = -1;

    private static final int LEAST_LENGTH = 256;
    /** What rounds away while bins come and go, and the skirts of lines, shall not move the middle. */
    private static final double NEARLY_ALL = 0.999;

    private final double sampleRateHz;
    private final int length;
    private final double[] hann;
    private final double[] power;
    private final RealTransform transform;

    /** A spectrum of the least power of two of samples that lasts so many seconds. */
    LineSpectrum(double sampleRateHz, double windowSeconds) {
        this.sampleRateHz = sampleRateHz;
        int size = LEAST_LENGTH;
        while (size < windowSeconds * sampleRateHz) {
            size *= 2;
        }
        this.length = size;
        this.hann = new double[length];
        Circle circle = new Circle(length);
        for (int i = 0; i < length; i++) {
            hann[i] = 0.5 - 0.5 * circle.cos(i);
        }
        this.transform = new RealTransform(length);
        this.power = new double[length / 2 + 1];
    }

    int length() {
        return length;
    }

    int bins() {
        return power.length;
    }

    double bin(double frequencyHz) {
        return frequencyHz * length / sampleRateHz;
    }

    double hz(double bin) {
        return bin * sampleRateHz / length;
    }

    void take(float[] samples, int offset) {
        double[] windowed = transform.series();
        for (int i = 0; i < length; i++) {
            windowed[i] = samples[offset + i] * hann[i];
        }
        transform.power(1, power);
    }

    private double power(int bin) {
        return bin >= 0 && bin < power.length ? power[bin] : 0;
    }

    /** The power of some bins. */
    double sum(int from, int to) {
        double sum = 0;
        for (int i = Math.max(0, from); i <= Math.min(power.length - 1, to); i++) {
            sum += power[i];
        }
        return sum;
    }

    /** Their centre of power. */
    double centroid(int from, int to) {
        double sum = 0;
        double moment = 0;
        for (int i = Math.max(0, from); i <= Math.min(power.length - 1, to); i++) {
            sum += power[i];
            moment += i * power[i];
        }
        return moment / sum;
    }

    /** The strongest bin in a range, leaving out what is within some bins of a centre; -1 bins leave out nothing. */
    int strongest(int from, int to, int centre, int leaveOut) {
        int best = NONE;
        double most = -1;
        for (int i = from; i <= to; i++) {
            if (Math.abs(i - centre) > leaveOut && power[i] > most) {
                most = power[i];
                best = i;
            }
        }
        return best;
    }

    /** Of the bins in a range that have the most power within so many bins to either side, or nearly as much, the middle. */
    int middleOfMost(int from, int to, int width) {
        double most = 0;
        double here = sum(from - width, from + width);
        for (int i = from; i <= to; i++) {
            most = Math.max(most, here);
            here += power(i + 1 + width) - power(i - width);
        }
        int first = to;
        int last = from;
        here = sum(from - width, from + width);
        for (int i = from; i <= to; i++) {
            if (here >= NEARLY_ALL * most) {
                first = Math.min(first, i);
                last = i;
            }
            here += power(i + 1 + width) - power(i - width);
        }
        return (first + last) / 2;
    }

    boolean isPeak(int bin) {
        return bin < power.length - 1 && power[bin] >= power[bin - 1] && power[bin] >= power[bin + 1];
    }

    /** The power of the strongest bin. */
    double most(int from, int to) {
        double most = 0;
        for (int i = from; i <= to; i++) {
            most = Math.max(most, power[i]);
        }
        return most;
    }

    /** The least power of a bin and the two beside it. */
    double leastOfThree(int from, int to) {
        double least = Double.POSITIVE_INFINITY;
        for (int i = from; i <= to; i++) {
            least = Math.min(least, sum(i - 1, i + 1));
        }
        return least;
    }
}
