/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import java.util.ArrayList;
import java.util.List;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.standard.Iec61260Edition2014;

/** RMS in one-third-octave bands from 25 Hz to 20 kHz, as far as they fit below half the sampling rate. */
final class ThirdOctaveBank {
    private final OctavePyramid pyramid;
    private final List<Band> bands = new ArrayList<>();
    private final double[] scratch;

    private record Band(int number, int stage, SecondOrderSections filter, SettledStatistics statistics) {}

    /** A bank on a pyramid, which its owner feeds. */
    ThirdOctaveBank(OctavePyramid pyramid, double settlingSeconds) {
        this.pyramid = pyramid;
        this.scratch = new double[pyramid.samples(0).length];
        for (int n = Iec61260Edition2014.LOWEST_BAND; n <= Iec61260Edition2014.HIGHEST_BAND; n++) {
            if (Iec61260Edition2014.upperEdgeHz(n) > Iec61260Edition2014.HIGHEST_EDGE_RATIO * pyramid.rateHz(0)) {
                break;
            }
            int stage = pyramid.slowestStageFor(Iec61260Edition2014.upperEdgeHz(n));
            double rateHz = pyramid.rateHz(stage);
            bands.add(new Band(
                    n,
                    stage,
                    Iec61260Edition2014.bandFilter(n, rateHz),
                    new SettledStatistics(rateHz, settlingSeconds)));
        }
    }

    /** Takes what the pyramid holds of its latest block. */
    void process() {
        for (int i = 0; i < bands.size(); i++) {
            Band band = bands.get(i);
            int count = pyramid.count(band.stage);
            band.filter.process(pyramid.samples(band.stage), 0, scratch, 0, count);
            band.statistics.process(scratch, 0, count);
        }
    }

    void reset() {
        for (Band band : bands) {
            band.filter.reset();
            band.statistics.reset();
        }
    }

    int size() {
        return bands.size();
    }

    double midBandHz(int index) {
        return Iec61260Edition2014.midBandHz(bands.get(index).number);
    }

    SettledStatistics statistics(int index) {
        return bands.get(index).statistics;
    }
}
