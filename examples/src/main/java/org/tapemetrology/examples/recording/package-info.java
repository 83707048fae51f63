/* SPDX-License-Identifier: Apache-2.0 */
/** A recording measured, budgeted and judged. */
@NullMarked
package org.tapemetrology.examples.recording;

import org.jspecify.annotations.NullMarked;
