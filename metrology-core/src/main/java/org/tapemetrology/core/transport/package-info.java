/* SPDX-License-Identifier: Apache-2.0 */
/**
 * The rotating parts of a tape transport, their rates, and which of them a component of the flutter comes from. Knows
 * nothing of how components are found.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.transport;

import org.jspecify.annotations.NullMarked;
