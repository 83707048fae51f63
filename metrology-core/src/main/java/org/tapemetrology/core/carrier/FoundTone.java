/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

import java.util.OptionalDouble;

/**
 * A tone that stands out of a piece of recording.
 *
 * <p>Made by {@link ToneFinder}; its numbers are not checked.
 *
 * @param frequencyHz its frequency in Hz, to about a hundredth of its own
 * @param secondHz frequency in Hz of another tone within 20 dB of it that is no harmonic of it and no side band of
 *     flutter
 */
public record FoundTone(double frequencyHz, OptionalDouble secondHz) {}
