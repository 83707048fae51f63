/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import org.tapemetrology.core.internal.Sums;
import org.tapemetrology.core.level.SteadyLevel;

/** Cuts the power of the fundamental of a tone into windows; one in which the tone was away does not count. */
final class ToneLevelMeter {
    private final long windowLength;
    private final SteadyLevel level = new SteadyLevel();
    private double windowSum;
    private long windowCount;
    private double sumOfWindows;
    private long windows;

    ToneLevelMeter(double rateHz) {
        this.windowLength = Math.round(SteadyLevel.WINDOW_SECONDS * rateHz);
    }

    void accept(double[] power, int offset, int length, boolean bridged) {
        if (bridged) {
            windowSum = 0;
            windowCount = 0;
            return;
        }
        for (int done = 0; done < length; ) {
            int part = (int) Math.min(length - done, windowLength - windowCount);
            windowSum += Sums.of(power, offset + done, part);
            windowCount += part;
            done += part;
            if (windowCount == windowLength) {
                closeWindow();
            }
        }
    }

    private void closeWindow() {
        if (windowSum > 0) {
            sumOfWindows += windowSum / windowLength;
            windows++;
            level.acceptPower(windowSum / windowLength);
        }
        windowSum = 0;
        windowCount = 0;
    }

    /** Mean power so far, where a full-scale sine has 1; 0 before the first window. */
    double meanPower() {
        return windows == 0 ? 0 : sumOfWindows / windows;
    }

    /** Sum of the powers of the windows so far. */
    double sumOfWindows() {
        return sumOfWindows;
    }

    /** How many windows there are. */
    long windows() {
        return windows;
    }

    SteadyLevel level() {
        return level;
    }
}
