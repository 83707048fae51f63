/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.Arrays;

/**
 * A recording on a tape. It may be played as often as wanted, on any machine of its format. Immutable.
 *
 * <p>Fluxes are relative to the machine's reference fluxivity. What was not finite when it was recorded stays so.
 */
public final class RecordedTape {
    private final VirtualTape tape;
    private final float[][] tracks;
    private final double azimuthArcmin;
    private final double speedMmPerSecond;

    RecordedTape(VirtualTape tape, float[][] tracks, double azimuthArcmin, double speedMmPerSecond) {
        this.tape = tape;
        this.tracks = tracks;
        this.azimuthArcmin = azimuthArcmin;
        this.speedMmPerSecond = speedMmPerSecond;
    }

    /**
     * What it is recorded on.
     *
     * @return the tape
     */
    public VirtualTape tape() {
        return tape;
    }

    /**
     * Number of tracks.
     *
     * @return 1 or 2
     */
    public int channels() {
        return tracks.length;
    }

    /**
     * Duration at nominal speed.
     *
     * @return the duration in seconds
     */
    public double seconds() {
        return (double) tracks[0].length / VirtualRecorder.TAPE_RATE;
    }

    /**
     * Nominal speed of the machine that recorded it.
     *
     * @return the speed in mm/s
     */
    public double speedMmPerSecond() {
        return speedMmPerSecond;
    }

    double azimuthArcmin() {
        return azimuthArcmin;
    }

    float[][] tracks() {
        return tracks;
    }

    TapeReader reader() {
        return new Reader();
    }

    private final class Reader implements TapeReader {
        private long next;

        @Override
        public void read(double[][] into, int offset, int count) {
            int left = (int) Math.max(0, Math.min(count, length() - next));
            for (int track = 0; track < tracks.length; track++) {
                for (int i = 0; i < left; i++) {
                    into[track][offset + i] = tracks[track][(int) next + i];
                }
                Arrays.fill(into[track], offset + left, offset + count, 0);
            }
            next += count;
        }

        @Override
        public long length() {
            return tracks[0].length;
        }

        @Override
        public double azimuthArcmin() {
            return azimuthArcmin;
        }
    }
}
