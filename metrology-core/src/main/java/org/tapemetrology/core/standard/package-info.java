/* SPDX-License-Identifier: Apache-2.0 */
/**
 * One class per published standard and edition: its curves, constants and names, with clause and confidence. They know
 * filters and detectors; only meters and the facade know them.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.standard;

import org.jspecify.annotations.NullMarked;
