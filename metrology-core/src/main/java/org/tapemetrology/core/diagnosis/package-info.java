/* SPDX-License-Identifier: Apache-2.0 */
/** From the deviation of a tone to the parts that cause its flutter, and what their repair would win. */
@NullMarked
package org.tapemetrology.core.diagnosis;

import org.jspecify.annotations.NullMarked;
