/* SPDX-License-Identifier: Apache-2.0 */
/** Recordings with faults at random, each with what is true of it after the damage. */
@NullMarked
package org.tapemetrology.signals.damage;

import org.jspecify.annotations.NullMarked;
