/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.standard.Iec61260Edition2014;

/** RMS in one-third-octave bands from 25 Hz to 20 kHz, as far as they fit below half the sampling rate. */
final class ThirdOctaveBank {
    /** Shorter lanes would spend more time on what they hand over than on filtering. */
    private static final int SHORTEST_LANE = 16;

    private final List<Band> bands = new ArrayList<>();

    /** A filter on a stage of the pyramid and the power behind it. */
    private interface Band {
        void process();

        double rms();

        Optional<StandardUncertainty> decibelUncertainty();

        void reset();
    }

    /** A bank on a pyramid, which its owner feeds; one without bands where they are not wanted. */
    ThirdOctaveBank(OctavePyramid pyramid, double settlingSeconds, boolean wanted) {
        if (!wanted) {
            return;
        }
        for (int n = Iec61260Edition2014.LOWEST_BAND; n <= Iec61260Edition2014.HIGHEST_BAND; n++) {
            if (Iec61260Edition2014.upperEdgeHz(n) > Iec61260Edition2014.HIGHEST_EDGE_RATIO * pyramid.rateHz(0)) {
                break;
            }
            int stage = pyramid.slowestStageFor(Iec61260Edition2014.upperEdgeHz(n));
            SecondOrderSections filter = Iec61260Edition2014.bandFilter(n, pyramid.rateHz(stage));
            bands.add(
                    stage < pyramid.laneStages() && pyramid.frame(stage).length() >= SHORTEST_LANE
                            ? new FastBand(pyramid.frame(stage), filter, settlingSeconds)
                            : new SlowBand(pyramid, stage, filter, settlingSeconds));
        }
    }

    private static final class FastBand implements Band {
        private final WeightedPower power;

        FastBand(LaneFrame in, SecondOrderSections filter, double settlingSeconds) {
            this.power = new WeightedPower(in, filter, settlingSeconds);
        }

        @Override
        public void process() {
            power.process();
        }

        @Override
        public double rms() {
            return power.rms();
        }

        @Override
        public Optional<StandardUncertainty> decibelUncertainty() {
            return power.decibelUncertainty();
        }

        @Override
        public void reset() {
            power.reset();
        }
    }

    private static final class SlowBand implements Band {
        private final OctavePyramid pyramid;
        private final int stage;
        private final SerialBandPower power;

        SlowBand(OctavePyramid pyramid, int stage, SecondOrderSections filter, double settlingSeconds) {
            this.pyramid = pyramid;
            this.stage = stage;
            pyramid.provideSamples(stage);
            this.power = new SerialBandPower(filter, settlingSeconds);
        }

        @Override
        public void process() {
            power.process(pyramid.samples(stage), pyramid.count(stage));
        }

        @Override
        public double rms() {
            return power.rms();
        }

        @Override
        public Optional<StandardUncertainty> decibelUncertainty() {
            return power.decibelUncertainty();
        }

        @Override
        public void reset() {
            power.reset();
        }
    }

    /** Takes what the pyramid holds of its latest frame. */
    void process() {
        for (int i = 0; i < bands.size(); i++) {
            bands.get(i).process();
        }
    }

    void reset() {
        bands.forEach(Band::reset);
    }

    int size() {
        return bands.size();
    }

    double midBandHz(int index) {
        return Iec61260Edition2014.midBandHz(Iec61260Edition2014.LOWEST_BAND + index);
    }

    /** RMS after the settling time, NaN where there is none yet. */
    double rms(int index) {
        return bands.get(index).rms();
    }

    /** How well the level in the long run is known, in dB. */
    Optional<StandardUncertainty> decibelUncertainty(int index) {
        return bands.get(index).decibelUncertainty();
    }
}
