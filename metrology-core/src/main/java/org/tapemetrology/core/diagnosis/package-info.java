/* SPDX-License-Identifier: Apache-2.0 */
/**
 * From the deviation of a tone to the parts that cause its flutter, and what their repair would win.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.diagnosis;

import org.jspecify.annotations.NullMarked;
