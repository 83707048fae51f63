/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Detectors: what turns a filtered signal into a figure. Each takes every sample; maxima and percentiles are formed
 * inside, never by polling. Detectors and statistics are thread-confined.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.detector;

import org.jspecify.annotations.NullMarked;
