/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Filters: analogue prototypes, second-order sections and FIR decimators, designed for the actual sampling rate.
 *
 * <p>Every running filter has the verbs {@code process} and {@code reset}, works in double precision, allocates nothing
 * after construction and gives bit-identical output however its input is cut into blocks. Running filters are
 * thread-confined.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.filter;

import org.jspecify.annotations.NullMarked;
