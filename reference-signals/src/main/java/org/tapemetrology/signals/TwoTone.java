/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

/**
 * Two sines at once, as distortion by difference frequency or by modulation is measured with (IEC 60268-3).
 *
 * @param lower the tone of the lower frequency
 * @param upper the tone of the higher frequency
 */
public record TwoTone(Sine lower, Sine upper) implements ExactSignal {
    /**
     * Checks the order of the frequencies.
     *
     * @param lower the tone of the lower frequency
     * @param upper the tone of the higher frequency
     * @throws IllegalArgumentException if the lower tone is not below the upper one
     */
    public TwoTone {
        if (!(lower.frequencyHz() < upper.frequencyHz())) {
            throw new IllegalArgumentException("frequency of the lower tone is " + lower.frequencyHz()
                    + " Hz, allowed: below that of the upper one, " + upper.frequencyHz() + " Hz");
        }
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        return lower.at(wholeSeconds, fraction) + upper.at(wholeSeconds, fraction);
    }
}
