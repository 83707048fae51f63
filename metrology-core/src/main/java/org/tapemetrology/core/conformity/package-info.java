/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Whether a reading keeps a limit, given how well it is known: decision rules of JCGM 106:2012 and ILAC-G8:09/2019, the
 * probability of conformity, what would decide an undecided case, and the risks of a rule. Everything is immutable.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.conformity;

import org.jspecify.annotations.NullMarked;
