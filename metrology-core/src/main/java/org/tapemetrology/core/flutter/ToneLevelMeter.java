/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.OptionalDouble;
import org.tapemetrology.core.detector.MagnitudeHistogram;

/** Power mean of the fundamental of a tone, and the 95 % range of its level over windows of 100 ms. */
final class ToneLevelMeter {
    private static final double WINDOW_SECONDS = 0.1;
    private static final double TAIL = 0.025;

    private final long windowLength;
    private final double rateHz;
    private double powerSum;
    private long count;
    private double windowSum;
    private long windowCount;
    private final MagnitudeHistogram windows = new MagnitudeHistogram();

    ToneLevelMeter(double rateHz) {
        this.rateHz = rateHz;
        this.windowLength = Math.round(WINDOW_SECONDS * rateHz);
    }

    void accept(double[] power, int offset, int length, boolean bridged) {
        if (bridged) {
            windowSum = 0;
            windowCount = 0;
            return;
        }
        for (int i = offset; i < offset + length; i++) {
            windowSum += power[i];
            if (++windowCount == windowLength) {
                windows.add(windowSum / windowLength);
                powerSum += windowSum;
                count += windowLength;
                windowSum = 0;
                windowCount = 0;
            }
        }
    }

    /** Time that the level was taken over, in whole windows. */
    double seconds() {
        return count / rateHz;
    }

    /** Mean level re a full-scale sine in dB. */
    OptionalDouble levelDbfs() {
        return count == 0 ? OptionalDouble.empty() : OptionalDouble.of(10 * Math.log10(powerSum / count));
    }

    /** From the 2.5th to the 97.5th percentile of the levels of the windows, in dB. */
    OptionalDouble fluctuationDb() {
        OptionalDouble low = windows.quantile(TAIL);
        OptionalDouble high = windows.quantile(1 - TAIL);
        return low.isEmpty()
                ? OptionalDouble.empty()
                : OptionalDouble.of(10 * Math.log10(high.getAsDouble() / low.getAsDouble()));
    }
}
