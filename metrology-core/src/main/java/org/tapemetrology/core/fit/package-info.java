/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Least squares and running moments, in the numerically stable forms: orthogonal triangularisation instead of normal
 * equations, updated means instead of sums of squares. Result records are immutable; everything that accumulates is
 * thread-confined.
 */
@NullMarked
package org.tapemetrology.core.fit;

import org.jspecify.annotations.NullMarked;
