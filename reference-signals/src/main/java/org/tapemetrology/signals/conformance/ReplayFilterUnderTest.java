/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.OptionalDouble;

/**
 * A replay equaliser that is fed with samples: what comes in is proportional to the flux, what comes out to the
 * level.
 *
 * <p>All calls come from one thread. What it gives back that is not finite fails its case.
 */
public interface ReplayFilterUnderTest {
    /**
     * Begins a signal; whatever was taken before is forgotten.
     *
     * @param sampleRateHz sampling rate in Hz
     * @param bassMicroseconds longer time constant of the flux; empty where it has no bass lift
     * @param trebleMicroseconds shorter time constant of the flux
     */
    void start(int sampleRateHz, OptionalDouble bassMicroseconds, double trebleMicroseconds);

    /**
     * Filters samples.
     *
     * @param in samples, full scale is 1
     * @param out where the filtered samples go, from index 0 on; not the same array
     * @param length number of samples, at most 4096
     */
    void process(double[] in, double[] out, int length);
}
