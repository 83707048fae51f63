/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Setting trimmers by recordings: how far and which way, what a trimmer does, when it is good enough, the bias curve, the
 * maximum output level, and how well a companding noise reduction tracks.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.alignment;

import org.jspecify.annotations.NullMarked;
