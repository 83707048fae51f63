/* SPDX-License-Identifier: Apache-2.0 */
/** The running display: where the samples come from and how the figures are shown. */
@NullMarked
package org.tapemetrology.examples.live;

import org.jspecify.annotations.NullMarked;
