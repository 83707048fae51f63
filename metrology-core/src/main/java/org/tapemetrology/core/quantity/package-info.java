/* SPDX-License-Identifier: Apache-2.0 */
/**
 * What a measurement says: quantities, units, statuses, readings and warnings.
 *
 * <p>Everything here is immutable and safe to share between threads. A value, its unit, its status, its uncertainty and
 * the method that gave it travel together in a {@link org.tapemetrology.core.quantity.Reading}.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.quantity;

import org.jspecify.annotations.NullMarked;
