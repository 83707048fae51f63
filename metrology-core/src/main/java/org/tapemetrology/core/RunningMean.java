/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

/** Mean of what a growing sum took up since the last look. */
final class RunningMean {
    private double sum;
    private long count;

    /** That mean; NaN where nothing came. A sum that began anew is taken from its beginning. */
    double next(double sumNow, long countNow) {
        if (countNow < count) {
            restart();
        }
        double mean = countNow > count ? (sumNow - sum) / (countNow - count) : Double.NaN;
        sum = sumNow;
        count = countNow;
        return mean;
    }

    /** Takes the next sum from its beginning. */
    void restart() {
        sum = 0;
        count = 0;
    }
}
