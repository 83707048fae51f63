/* SPDX-License-Identifier: Apache-2.0 */
/** Closed-form test signals, each with its truth. */
@NullMarked
package org.tapemetrology.signals;

import org.jspecify.annotations.NullMarked;
