/* SPDX-License-Identifier: Apache-2.0 */
/**
 * From samples to the deviation of a test tone: finding the tone, demodulating it, watching that it is there and
 * bridging short losses. All classes that run are thread-confined.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.carrier;

import org.jspecify.annotations.NullMarked;
