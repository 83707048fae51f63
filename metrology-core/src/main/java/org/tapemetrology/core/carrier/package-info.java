/* SPDX-License-Identifier: Apache-2.0 */
/**
 * From samples to the deviation of a test tone: finding the tone, demodulating it, watching that it is there and
 * bridging short losses. All classes are thread-confined.
 */
@NullMarked
package org.tapemetrology.core.carrier;

import org.jspecify.annotations.NullMarked;
