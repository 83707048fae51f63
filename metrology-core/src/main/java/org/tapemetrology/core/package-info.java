/* SPDX-License-Identifier: Apache-2.0 */
/**
 * The common case in a few lines: a recording in, every reading out. See
 * {@link org.tapemetrology.core.RecordingMeter}.
 */
@NullMarked
package org.tapemetrology.core;

import org.jspecify.annotations.NullMarked;
