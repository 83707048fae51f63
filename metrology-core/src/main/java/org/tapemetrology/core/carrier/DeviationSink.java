/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

/**
 * Takes the demodulated deviation of a tone, block by block, without gaps in time.
 *
 * <p>Called by the thread that feeds the tracker, and by no other.
 */
@FunctionalInterface
public interface DeviationSink {
    /**
     * Takes a block. The arrays are the caller's, to be read only.
     *
     * @param deviationHz deviations in Hz
     * @param amplitudeDeviationHz amplitude deviations in Hz, as {@link Demodulator} defines them
     * @param power squared amplitudes
     * @param offset first value of the block in each array
     * @param length number of values
     * @param bridged whether the tone was away and the deviation is a straight line across the gap; amplitude deviation
     *     and power are then no measurement
     */
    void accept(
            double[] deviationHz,
            double[] amplitudeDeviationHz,
            double[] power,
            int offset,
            int length,
            boolean bridged);
}
