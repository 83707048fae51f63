/* SPDX-License-Identifier: Apache-2.0 */
/**
 * The report of a service: what it says ({@link org.tapemetrology.examples.report.Report}, which knows no file), and how it is
 * written as one self-contained page, and as a table of readings.
 */
@NullMarked
package org.tapemetrology.examples.report;

import org.jspecify.annotations.NullMarked;
