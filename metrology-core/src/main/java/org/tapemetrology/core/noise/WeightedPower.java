/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import java.util.Arrays;
import java.util.Optional;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.fit.LongRunMean;
import org.tapemetrology.core.quantity.StandardUncertainty;

/** True RMS behind a filter on a frame, over the whole frames after its settling time. */
final class WeightedPower {
    private final LaneFrame in;
    private final LaneSections filter;
    private final int settlingFrames;
    private final double[] sums;
    private int unsettled;
    private long samples;
    private double before;
    private final LongRunMean frames = new LongRunMean();

    WeightedPower(LaneFrame in, SecondOrderSections filter, double settlingSeconds) {
        this.in = in;
        this.filter = new LaneSections(filter, in.lanes(), in.length());
        this.settlingFrames = (int) Math.ceil(settlingSeconds * filter.sampleRateHz() / (in.lanes() * in.length()));
        this.unsettled = settlingFrames;
        this.sums = new double[in.lanes()];
    }

    /** Takes what the frame holds. */
    void process() {
        filter.process(in);
        if (unsettled > 0) {
            unsettled--;
            return;
        }
        for (int t = 0; t < in.length(); t++) {
            Lanes.addSquares(sums, filter.row(t));
        }
        samples += (long) in.lanes() * in.length();
        double total = total();
        frames.add((total - before) / (in.lanes() * in.length()));
        before = total;
    }

    private double total() {
        double sum = 0;
        for (double s : sums) {
            sum += s;
        }
        return sum;
    }

    /** NaN where there is none yet. */
    double rms() {
        return Math.sqrt(total() / samples);
    }

    /** How well the level in the long run is known, in dB. */
    Optional<StandardUncertainty> decibelUncertainty() {
        return DecibelScatter.ofPower(frames);
    }

    void reset() {
        filter.reset();
        Arrays.fill(sums, 0);
        unsettled = settlingFrames;
        samples = 0;
        before = 0;
        frames.reset();
    }
}
