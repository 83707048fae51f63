/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Reference test suites: anyone's meter against the published standards, in any test framework or none.
 *
 * <p>{@link org.tapemetrology.signals.conformance.Suites} lists a suite for each document and edition. An adapter puts a
 * meter behind the interface of its kind, for example {@link
 * org.tapemetrology.signals.conformance.FlutterMeterUnderTest}; {@link
 * org.tapemetrology.signals.conformance.Suite#run} streams the signals of every case through it and reports. A meter that
 * is no Java program gets the signals as files from {@link org.tapemetrology.signals.conformance.SuiteExport} and hands
 * its figures back through {@link org.tapemetrology.signals.conformance.SuiteImport}.
 *
 * <p>Whatever is not read is a failure.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.signals.conformance;

import org.jspecify.annotations.NullMarked;
