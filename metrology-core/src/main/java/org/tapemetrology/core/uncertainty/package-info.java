/* SPDX-License-Identifier: Apache-2.0 */
/**
 * How well a figure is known: budgets and the law of propagation by JCGM 100:2008, and the propagation of distributions by
 * JCGM 101:2008 as the check and where a model is not linear. It knows quantities alone. Everything handed out is immutable.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.uncertainty;

import org.jspecify.annotations.NullMarked;
