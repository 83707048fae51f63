/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

/**
 * Tells of a frame, one frame later, whether it lies inside a stretch of tone: the frames before and after it hold the
 * tone on the same channel, within 3 dB. So what rings where a tone starts, stops or changes its channel is left out.
 */
final class SteadyFrames {
    private static final double ALIKE = 2;

    private int channel = -1;
    private double power;
    private boolean continues;

    /** Takes the next frame that holds the tone; true where the frame before it lay inside a stretch. */
    boolean next(int toneChannel, double tonePower) {
        boolean alike = toneChannel == channel && tonePower < ALIKE * power && power < ALIKE * tonePower;
        boolean inside = alike && continues;
        channel = toneChannel;
        power = tonePower;
        continues = alike;
        return inside;
    }

    /** The next frame holds no tone. */
    void gap() {
        channel = -1;
        continues = false;
    }
}
