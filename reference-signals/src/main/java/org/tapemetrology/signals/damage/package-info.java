/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Recordings with faults at random, each with what is true of it after the damage.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.signals.damage;

import org.jspecify.annotations.NullMarked;
