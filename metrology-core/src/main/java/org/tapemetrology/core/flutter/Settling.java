/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/** Keeps the start of a tone, and a time after each gap in it, out of a statistic. */
final class Settling {
    private final long afterStart;
    private final long afterGap;
    private long left;

    /**
     * A gate that has not opened yet.
     *
     * @param startSeconds time to leave out at the start
     * @param gapSeconds time to leave out after a gap
     * @param rateHz rate of the values
     */
    Settling(double startSeconds, double gapSeconds, double rateHz) {
        this.afterStart = Math.round(startSeconds * rateHz);
        this.afterGap = Math.round(gapSeconds * rateHz);
        this.left = afterStart;
    }

    /** How many of the next values are to be left out: all of them where they are bridged. */
    int leaveOut(int length, boolean bridged) {
        if (bridged) {
            left = Math.max(left - length, afterGap);
            return length;
        }
        int skipped = (int) Math.min(left, length);
        left -= skipped;
        return skipped;
    }
}
