/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

/**
 * A rectifier and what makes an indication of it. Thread-confined.
 *
 * <p>What a sample does that is not finite is said by the class behind it.
 */
public interface Detector {
    /**
     * Detects a block. The output may be the input array at the same offset.
     *
     * @param in input samples
     * @param inOffset first input sample
     * @param out indication after each sample
     * @param outOffset first output sample
     * @param length number of samples
     */
    void process(double[] in, int inOffset, double[] out, int outOffset, int length);

    /** Puts the detector to rest. */
    void reset();
}
