/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import java.util.List;

/**
 * A signal in closed form: its value at any moment is computed from the time alone, so nothing accumulates and any part
 * of it can be made on its own. Immutable; may be shared between threads.
 *
 * <p>A moment is to be finite and is not checked, for there is one in every sample: at NaN or infinity a tone is NaN,
 * a sequence is silent, and noise has some value.
 */
@FunctionalInterface
public interface Signal {
    /**
     * The value of the signal at a moment.
     *
     * @param seconds time from the start
     * @return the value; full scale is 1
     */
    double at(double seconds);

    /**
     * The value at a moment given in two parts. A double of some hours resolves only 1e-12 s, which a tone of some
     * kilohertz shows as 1e-8 rad; signals of this module override this method and keep the resolution of the fraction.
     *
     * @param wholeSeconds whole seconds from the start
     * @param fraction the rest, from 0 to below 1
     * @return the value; full scale is 1
     */
    default double at(long wholeSeconds, double fraction) {
        return at(wholeSeconds + fraction);
    }

    /**
     * The sum with another signal.
     *
     * @param other what is added
     * @return the sum
     */
    default Signal plus(Signal other) {
        return new Mix(List.of(this, other));
    }

    /**
     * This signal at another level.
     *
     * @param gain factor, negative to invert the polarity
     * @return the scaled signal
     */
    default Signal scaledBy(double gain) {
        return new Scaled(this, gain);
    }

    /**
     * This signal later in time, as a lagging channel has it.
     *
     * @param seconds delay, negative for earlier; no multiple of a sample is needed
     * @return the delayed signal
     */
    default Signal delayedBy(double seconds) {
        return new Delayed(this, seconds);
    }

    /**
     * This signal through an overdriven converter.
     *
     * @param level magnitude that no value exceeds
     * @return the clipped signal
     */
    default Signal clippedAt(double level) {
        return new Clipped(this, level);
    }

    /**
     * This signal with losses of level.
     *
     * @param dropouts the losses
     * @return the signal with dropouts
     */
    default Signal withDropouts(Dropout... dropouts) {
        return new Dropouts(this, List.of(dropouts));
    }

    /**
     * This signal with sinusoidal amplitude modulation.
     *
     * @param depth peak relative change of the amplitude, 0 to 1
     * @param rateHz rate of the modulation
     * @return the modulated signal
     */
    default Signal amplitudeModulated(double depth, double rateHz) {
        return new AmplitudeModulated(this, depth, rateHz, 0);
    }
}
