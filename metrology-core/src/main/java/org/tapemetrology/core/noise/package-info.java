/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Noise and hum of a recording without programme: weighted and unweighted levels, one-third-octave bands, mains hum.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.noise;

import org.jspecify.annotations.NullMarked;
