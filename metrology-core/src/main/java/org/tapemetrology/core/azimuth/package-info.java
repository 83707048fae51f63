/* SPDX-License-Identifier: Apache-2.0 */
/**
 * The delay between the two channels of a replay, and what follows from it: azimuth angle, its wander, the level that it
 * costs, and the polarity of the channels.
 *
 * <p>Meters accumulate and are thread-confined; their readings are bit-identical however the samples are cut into blocks.
 */
@NullMarked
package org.tapemetrology.core.azimuth;

import org.jspecify.annotations.NullMarked;
