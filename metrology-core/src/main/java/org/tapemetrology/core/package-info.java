/* SPDX-License-Identifier: Apache-2.0 */
/**
 * The common case in a few lines: a recording in, every reading out. See
 * {@link org.tapemetrology.core.RecordingMeter}.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core;

import org.jspecify.annotations.NullMarked;
