/* SPDX-License-Identifier: Apache-2.0 */
/** Noise and hum of a recording without programme: weighted and unweighted levels, one-third-octave bands, mains hum. */
@NullMarked
package org.tapemetrology.core.noise;

import org.jspecify.annotations.NullMarked;
