/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Levels and their references, and the meters with standard ballistics.
 *
 * <p>The value types are immutable and safe to share. On the digital scale a full-scale sine is 0 dBFS, on the RMS scale
 * as on the peak scale (AES17, second-hand), so a full-scale square wave is +3.01 dBFS.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.level;

import org.jspecify.annotations.NullMarked;
