/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Running detectors: what turns a filtered signal into an indication. They know time constants, and no standard.
 *
 * <p>Every detector has the verbs {@code process} and {@code reset}, allocates nothing after construction and gives
 * bit-identical output however its input is cut into blocks. All are thread-confined.
 */
@NullMarked
package org.tapemetrology.core.detector;

import org.jspecify.annotations.NullMarked;
