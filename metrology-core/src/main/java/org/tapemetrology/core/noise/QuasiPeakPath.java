/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.filter.MatchedFilter;
import org.tapemetrology.core.filter.Oversampler;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.standard.ItuRBs468Edition4;

/** The weighting of ITU-R BS.468-4, an oversampler as {@link Oversampler#beforeRectifier} and the detector. */
final class QuasiPeakPath {
    private final LaneFrame in;
    private final LaneSections weighting;
    private final LaneFrame weighted;
    private final List<LaneInterpolator> doublings = new ArrayList<>();
    private final LaneQuasiPeak detector;

    QuasiPeakPath(LaneFrame in, double rateHz, double settlingSeconds, double averageSettlingSeconds) {
        this.in = in;
        this.weighting = new LaneSections(
                new MatchedFilter(ItuRBs468Edition4.weighting(), rateHz).sections(), in.lanes(), in.length());
        List<double[]> sides = Oversampler.beforeRectifier(rateHz).sides();
        this.weighted = new LaneFrame(in.lanes(), in.length(), historyFor(sides, 0));
        LaneFrame frame = weighted;
        for (int i = 0; i < sides.size(); i++) {
            LaneInterpolator doubling = new LaneInterpolator(frame, sides.get(i), historyFor(sides, i + 1));
            doublings.add(doubling);
            frame = doubling.out();
        }
        this.detector = new LaneQuasiPeak(
                frame,
                rateHz * (1 << sides.size()),
                ItuRBs468Edition4.FIRST_STAGE,
                ItuRBs468Edition4.SECOND_STAGE,
                settlingSeconds,
                averageSettlingSeconds);
    }

    private static int historyFor(List<double[]> sides, int stage) {
        return stage < sides.size() ? LaneInterpolator.historyFor(sides.get(stage)) : 0;
    }

    /** Takes what the frame holds. */
    void process() {
        weighting.process(in);
        for (int t = 0; t < in.length(); t++) {
            System.arraycopy(weighting.row(t), 0, weighted.row(t), 0, in.lanes());
        }
        weighted.carry();
        for (int i = 0; i < doublings.size(); i++) {
            doublings.get(i).process();
        }
        detector.process();
    }

    double meanIndication() {
        return detector.meanIndication();
    }

    double highestIndication() {
        return detector.highestIndication();
    }

    double highestAtSeconds() {
        return detector.highestAtSeconds();
    }

    double meanMagnitude() {
        return detector.meanMagnitude();
    }

    Optional<StandardUncertainty> indicationUncertainty() {
        return detector.indicationUncertainty();
    }

    Optional<StandardUncertainty> highestUncertainty() {
        return detector.highestUncertainty();
    }

    Optional<StandardUncertainty> magnitudeUncertainty() {
        return detector.magnitudeUncertainty();
    }

    void reset() {
        weighting.reset();
        weighted.reset();
        for (int i = 0; i < doublings.size(); i++) {
            doublings.get(i).out().reset();
        }
        detector.reset();
    }
}
