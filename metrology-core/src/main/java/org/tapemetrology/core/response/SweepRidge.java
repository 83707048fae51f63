/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import java.util.Arrays;

/**
 * The straight line on which the strongest line of each frame of a sweep lies, {@code ln line = offset + slope frame}.
 * Among lines of every slope that the speed of a machine allows, the one that most frames lie near is taken, and a
 * least-squares line through these frames refines it: frames with something stronger than the sweep do not move it.
 */
final class SweepRidge {
    /** More than a machine that is 5 % off speed with its wow. */
    private static final double SPEED_RANGE = 0.07;

    private static final double SPEED_STEP = 0.0025;
    /** Wow, the shape of a frame's spectrum, and half a step of the speed over three decades. */
    private static final double NEAR = 0.04;

    private static final int REFINEMENTS = 3;
    private static final double SWEEP_OCTAVES = 1.5;
    private static final double SWEEP_SHARE = 0.8;

    private final double onSpeed;
    private final int sweepFrames;
    private final int capacity;
    /** Frames by the line on which they lie, for one slope. */
    private final int[] votes;

    private long origin;
    private double offset;
    private double slope;
    private int followed;

    /**
     * No ridge yet.
     *
     * @param onSpeed slope of the sweep as sent, per frame
     * @param capacity most frames that are looked at
     * @param lines lines of a spectrum
     */
    SweepRidge(double onSpeed, int capacity, int lines) {
        this.onSpeed = onSpeed;
        this.sweepFrames = (int) Math.ceil(SWEEP_OCTAVES * StrictMath.log(2) / onSpeed);
        this.capacity = capacity;
        double range = onSpeed * (1 + SPEED_RANGE) * capacity + StrictMath.log(lines);
        this.votes = new int[(int) (range / NEAR) + 2];
    }

    /** Finds the ridge in what the frames hold. */
    void find(SweepFrames frames) {
        origin = frames.first();
        followed = 0;
        int steps = (int) StrictMath.round(SPEED_RANGE / SPEED_STEP);
        for (int step = -steps; step <= steps; step++) {
            tryLines(frames, onSpeed * (1 + step * SPEED_STEP));
        }
        for (int i = 0; i < REFINEMENTS && followed > 2; i++) {
            refine(frames);
        }
        if (Math.abs(speedRatio() - 1) > SPEED_RANGE || !isSweep(frames)) {
            followed = 0;
        }
    }

    /** Among the lines of one slope the one that most frames lie near, if they are more than before. */
    private void tryLines(SweepFrames frames, double tried) {
        Arrays.fill(votes, 0);
        double lowest = -tried * capacity;
        for (long n = origin; n < frames.end(); n++) {
            if (frames.strongest(n) >= 0) {
                votes[(int) ((frames.strongest(n) - tried * (n - origin) - lowest) / NEAR)]++;
            }
        }
        for (int i = 1; i < votes.length; i++) {
            if (votes[i - 1] + votes[i] > followed) {
                followed = votes[i - 1] + votes[i];
                slope = tried;
                offset = lowest + i * NEAR;
            }
        }
    }

    private boolean near(SweepFrames frames, long n) {
        return Math.abs(frames.strongest(n) - lineLogarithm(n)) <= NEAR;
    }

    private void refine(SweepFrames frames) {
        int count = 0;
        double meanX = 0;
        double meanY = 0;
        double xx = 0;
        double xy = 0;
        for (long n = origin; n < frames.end(); n++) {
            if (near(frames, n)) {
                count++;
                double offX = n - origin - meanX;
                meanX += offX / count;
                meanY += (frames.strongest(n) - meanY) / count;
                xx += offX * (n - origin - meanX);
                xy += offX * (frames.strongest(n) - meanY);
            }
        }
        if (xx > 0) {
            slope = xy / xx;
            offset = meanY - slope * meanX;
            followed = count;
        }
    }

    /** Whether nearly every frame of a stretch lies on the line: so do not those of noise, music or a steady tone. */
    private boolean isSweep(SweepFrames frames) {
        int near = 0;
        for (long n = origin; n < frames.end(); n++) {
            near += near(frames, n) ? 1 : 0;
            if (n - sweepFrames >= origin) {
                near -= near(frames, n - sweepFrames) ? 1 : 0;
            }
            if (near >= SWEEP_SHARE * sweepFrames) {
                return true;
            }
        }
        return false;
    }

    /** Frames on the line; 0 where there is no sweep. */
    int followed() {
        return followed;
    }

    /** Logarithm of the line that the sweep passes in the middle of a frame. */
    double lineLogarithm(long frame) {
        return offset + slope * (frame - origin);
    }

    /** The frame in whose middle the sweep passes a line. */
    double frameAt(double lineLogarithm) {
        return origin + (lineLogarithm - offset) / slope;
    }

    /** Growth of the logarithm of the line from frame to frame. */
    double slope() {
        return slope;
    }

    /** Speed of the machine over that of the recording. */
    double speedRatio() {
        return slope / onSpeed;
    }
}
