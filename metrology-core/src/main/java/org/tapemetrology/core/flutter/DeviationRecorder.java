/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.ArrayList;
import java.util.List;
import org.tapemetrology.core.filter.FirDecimator;
import org.tapemetrology.core.filter.FirDesign;

/**
 * Keeps the deviation of a stretch at a low rate, for what needs all of it: about 1000 values a second, flat up to the
 * 470 Hz where the figures end. This is the one part of a meter whose memory grows with the recording: 4 bytes a value,
 * 22 MB for 90 minutes.
 */
final class DeviationRecorder {
    /** Least rate: the band up to 470 Hz and room for the edge of the filter. */
    private static final double LEAST_RATE_HZ = 1000;
    /** Ripple of the pass band and what folds into it, 1e-4 of a line. */
    private static final double ATTENUATION_DB = 80;

    private static final int CHUNK = 1 << 14;

    private final double rateHz;
    private final int factor;
    private final double[] taps;
    private final FirDecimator decimator;
    private double[] block = new double[0];
    private final List<float[]> kept = new ArrayList<>();
    private int filled = CHUNK;

    DeviationRecorder(double inputRateHz) {
        this.factor = (int) (inputRateHz / LEAST_RATE_HZ);
        this.rateHz = inputRateHz / factor;
        double pass = WeightedPath.BAND_HZ;
        this.taps = FirDesign.lowPass(pass, rateHz - pass, ATTENUATION_DB, inputRateHz);
        this.decimator = new FirDecimator(taps, factor);
    }

    void accept(double[] deviationHz, int offset, int length) {
        if (block.length < length / factor + 2) {
            block = new double[length / factor + 2];
        }
        int produced = decimator.process(deviationHz, offset, length, block, 0);
        for (int i = 0; i < produced; i++) {
            if (filled == CHUNK) {
                kept.add(new float[CHUNK]);
                filled = 0;
            }
            kept.get(kept.size() - 1)[filled++] = (float) block[i];
        }
    }

    /**
     * What was kept, relative to the mean.
     *
     * @param startSeconds when the stretch begins
     * @param tunedHz frequency that the deviation is counted from
     * @param meanHz mean frequency of the stretch
     */
    DeviationSeries series(double startSeconds, double tunedHz, double meanHz) {
        int size = kept.isEmpty() ? 0 : (kept.size() - 1) * CHUNK + filled;
        double first = startSeconds + (taps.length - 1) / 2.0 / (rateHz * factor);
        return new DeviationSeries(first, rateHz, meanHz, kept, CHUNK, size, meanHz - tunedHz);
    }
}
