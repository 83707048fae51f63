/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Spectrum of the relative speed deviation: density of the random flutter by multitaper, and the periodic components,
 * told from it by a test and fitted by least squares. Results are immutable.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.spectrum;

import org.jspecify.annotations.NullMarked;
