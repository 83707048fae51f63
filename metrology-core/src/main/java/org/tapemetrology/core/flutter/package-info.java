/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Speed, drift, wow and flutter of a test tone, and its level: from samples to readings.
 *
 * <p>{@link org.tapemetrology.core.flutter.ToneMeter} is the door; the other classes are its parts. All that takes
 * samples is thread-confined.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.flutter;

import org.jspecify.annotations.NullMarked;
