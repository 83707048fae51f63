/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Tables of published standards as data, each with standard, edition, clause, unit and source, and each row with how
 * sure its figures are. {@link org.tapemetrology.signals.table.PublishedTables} is the door.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.signals.table;

import org.jspecify.annotations.NullMarked;
