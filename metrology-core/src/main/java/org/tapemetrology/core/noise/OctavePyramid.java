/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import java.util.ArrayList;
import java.util.List;
import org.tapemetrology.core.filter.FirDesign;
import org.tapemetrology.core.filter.HalfBandDecimator;

/**
 * The signal at its own rate and at that rate halved again and again, so that a low band is filtered at a low rate, where
 * its poles are well away from z = 1. Each stage is free of droop (0.001 dB) and of aliases (90 dB) up to
 * {@link #CLEAN} of its rate. The fast stages are frames of lanes, the slow ones samples in the order of time.
 */
final class OctavePyramid {
    /** Clean band of a decimated stage over its sampling rate. */
    static final double CLEAN = 0.375;

    private static final double ALIAS_ATTENUATION_DB = 90;
    /** Lanes of fewer samples would hardly be lanes. */
    private static final int SHORTEST_LANE = 4;

    private final double sampleRateHz;
    private final LaneFrame input;
    private final List<LaneDecimator> laneHalvings = new ArrayList<>();
    private final List<HalfBandDecimator> halvings = new ArrayList<>();
    private final double[][] samples;
    private final int[] counts;
    private final boolean[] inOrder;

    OctavePyramid(double sampleRateHz, int stages, int lanes, int laneLength) {
        this.sampleRateHz = sampleRateHz;
        this.samples = new double[stages][];
        this.counts = new int[stages];
        this.inOrder = new boolean[stages];
        // in units of the output rate: the same filter at any rate
        double[] sides = FirDesign.halfBandSides(CLEAN, ALIAS_ATTENUATION_DB, 1);
        int history = LaneDecimator.historyFor(sides);
        this.input = new LaneFrame(lanes, laneLength, history);
        LaneFrame frame = input;
        int size = lanes * laneLength;
        samples[0] = new double[size];
        for (int stage = 1; stage < stages; stage++) {
            if (frame.length() / 2 >= SHORTEST_LANE && stage == laneHalvings.size() + 1) {
                LaneDecimator halving = new LaneDecimator(frame, sides, history);
                laneHalvings.add(halving);
                frame = halving.out();
            } else {
                halvings.add(new HalfBandDecimator(CLEAN, ALIAS_ATTENUATION_DB, 1));
            }
            size = size / 2 + 1;
            samples[stage] = new double[size];
        }
        if (laneStages() < stages) {
            provideSamples(laneStages() - 1); // from which the next one is made
        }
    }

    /** The frame at the input rate, to be filled before {@link #process()}. */
    LaneFrame input() {
        return input;
    }

    /** Works on the frame that the input holds; every stage then holds what it made of it. */
    void process() {
        input.carry();
        for (int i = 0; i < laneHalvings.size(); i++) {
            laneHalvings.get(i).process();
        }
        int slow = laneStages();
        for (int stage = 0; stage < slow; stage++) {
            if (inOrder[stage]) {
                frame(stage).give(samples[stage]);
            }
        }
        for (int stage = slow; stage < samples.length; stage++) {
            counts[stage] =
                    halvings.get(stage - slow).process(samples[stage - 1], 0, count(stage - 1), samples[stage], 0);
        }
    }

    void reset() {
        input.reset();
        for (int i = 0; i < laneHalvings.size(); i++) {
            laneHalvings.get(i).out().reset();
        }
        for (int i = 0; i < halvings.size(); i++) {
            halvings.get(i).reset();
        }
    }

    /** How many stages are frames of lanes; the others are not. */
    int laneStages() {
        return laneHalvings.size() + 1;
    }

    LaneFrame frame(int stage) {
        return stage == 0 ? input : laneHalvings.get(stage - 1).out();
    }

    /** Asks for the samples of a stage in the order of time: frames of lanes have none otherwise. */
    void provideSamples(int stage) {
        inOrder[stage] = true;
    }

    /** Samples of a stage in the order of time, where they were asked for. */
    double[] samples(int stage) {
        return samples[stage];
    }

    int count(int stage) {
        return stage < laneStages() ? frame(stage).lanes() * frame(stage).length() : counts[stage];
    }

    double rateHz(int stage) {
        return sampleRateHz / (1L << stage);
    }

    int stages() {
        return samples.length;
    }

    /** The slowest stage whose clean band holds a frequency; the first stage where no other does. */
    int slowestStageFor(double frequencyHz) {
        for (int stage = samples.length - 1; stage > 0; stage--) {
            if (frequencyHz <= CLEAN * rateHz(stage)) {
                return stage;
            }
        }
        return 0;
    }
}
