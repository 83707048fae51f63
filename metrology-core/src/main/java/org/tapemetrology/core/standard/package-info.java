/* SPDX-License-Identifier: Apache-2.0 */
/**
 * One class per published standard and edition: its curves, constants and names, with clause and confidence. They know
 * filters and detectors; only meters and the facade know them.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads. Editions have no state: any number
 * of threads may use them. The filters that run and the detectors that they make are thread-confined.
 */
@NullMarked
package org.tapemetrology.core.standard;

import org.jspecify.annotations.NullMarked;
