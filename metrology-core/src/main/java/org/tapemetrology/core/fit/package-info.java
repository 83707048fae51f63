/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Least squares and running moments, in the numerically stable forms: orthogonal triangularisation instead of normal
 * equations, updated means instead of sums of squares. Result records are immutable; everything that accumulates is
 * thread-confined.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.fit;

import org.jspecify.annotations.NullMarked;
