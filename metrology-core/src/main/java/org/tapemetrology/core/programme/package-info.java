/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Test programmes: tones, sweeps, noise and pauses one after the other, what of them a recording holds, and the readings of
 * each step.
 *
 * <p>A step is named only where nothing else explains the recording as well; what is missing is named too.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.programme;

import org.jspecify.annotations.NullMarked;
