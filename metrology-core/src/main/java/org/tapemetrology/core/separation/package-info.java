/* SPDX-License-Identifier: Apache-2.0 */
/**
 * What is left of a recorded tone where none should be: in the silent channel (separation), after erasure, and on the
 * neighbouring layers of the pack (print-through).
 *
 * <p>Every figure is selective and positive in dB where the residue is weaker. A residue that does not stand clear of the
 * noise gives no value: its reading is {@code insufficient-data}, and its method names the limit that the figure exceeds.
 * Meters accumulate and are thread-confined; their readings are bit-identical however the samples are cut into blocks.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.separation;

import org.jspecify.annotations.NullMarked;
