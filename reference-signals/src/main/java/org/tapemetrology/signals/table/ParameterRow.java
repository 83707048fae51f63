/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

import java.util.Optional;

/**
 * A single figure of a standard.
 *
 * <p>Read by {@link PublishedTables}, which refuses what is no number; a row itself is not checked.
 *
 * @param parameter what it is about
 * @param unit its unit
 * @param value nominal value in the unit
 * @param tolerance tolerance in the same unit; empty where the value is exact
 * @param confidence how sure the value is
 * @param toleranceConfidence how sure the tolerance is
 */
public record ParameterRow(
        String parameter,
        String unit,
        double value,
        Optional<Tolerance> tolerance,
        Confidence confidence,
        Confidence toleranceConfidence) {}
