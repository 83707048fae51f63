/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Tones: sine fits by least squares, distortion that follows a tape's wavering speed, and the stages that follow it.
 *
 * <p>Result records are immutable. Meters accumulate and are thread-confined; their readings are bit-identical however
 * the samples are cut into blocks.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.tone;

import org.jspecify.annotations.NullMarked;
