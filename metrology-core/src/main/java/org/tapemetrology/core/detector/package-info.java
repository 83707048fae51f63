/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Detectors: what turns a filtered signal into a figure. Each takes every sample; maxima and percentiles are formed
 * inside, never by polling. All are thread-confined.
 */
@NullMarked
package org.tapemetrology.core.detector;

import org.jspecify.annotations.NullMarked;
