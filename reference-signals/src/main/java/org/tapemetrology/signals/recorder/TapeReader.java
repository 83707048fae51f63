/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

/** The flux of a tape in order, sampled at {@link VirtualRecorder#TAPE_RATE} of nominal speed. */
interface TapeReader {
    /**
     * The next part of the tape.
     *
     * @param tracks one array per track
     * @param offset place of the first sample in each
     * @param count number of samples; beyond the end of the tape they are 0
     */
    void read(double[][] tracks, int offset, int count);

    /** Number of samples on the tape. */
    long length();

    /** Angle at which the tape was recorded. */
    double azimuthArcmin();
}
