/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Stability of the speed against averaging time: the Allan family of deviations after NIST SP 1065. Everything here is
 * immutable.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.stability;

import org.jspecify.annotations.NullMarked;
