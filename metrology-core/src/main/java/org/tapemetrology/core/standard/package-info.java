/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Published standards as data: one class for each edition holds its constants, curves and limits, every row with its
 * source and how well it is known. Everything here is immutable and safe to share between threads.
 */
@NullMarked
package org.tapemetrology.core.standard;

import org.jspecify.annotations.NullMarked;
