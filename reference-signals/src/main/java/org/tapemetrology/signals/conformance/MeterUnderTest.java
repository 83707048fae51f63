/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.Optional;

/**
 * A meter that takes samples and gives figures. For each recording the suite calls {@link #start} once, {@link #accept}
 * until the recording ends, and {@link #read} at the end; where a case follows an indication in time, also in between.
 * All calls come from one thread.
 *
 * <p>A figure that is not finite, or in another unit than was asked for, fails its case.
 *
 * @param <F> the figures that it can be asked for
 */
public interface MeterUnderTest<F extends AskedFigure> {
    /**
     * Begins a recording; whatever was taken before is forgotten.
     *
     * @param format name, rate, channels and nominal frequency
     */
    void start(RecordingFormat format);

    /**
     * Takes samples.
     *
     * @param block one array for each channel; full scale is 1; the arrays are filled anew for the next call
     * @param length number of samples of each channel, from index 0 on, at most 4096
     */
    void accept(double[][] block, int length);

    /**
     * Reads a figure of what was taken since the start.
     *
     * @param asked the figure
     * @param channel channel, counted from 0
     * @return the figure; empty where the meter has none, which fails the case
     */
    Optional<Figure> read(F asked, int channel);
}
