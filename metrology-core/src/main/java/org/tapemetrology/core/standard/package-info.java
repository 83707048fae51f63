/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Curves, constants and limits of published standards: one class for each edition, immutable, safe to share.
 *
 * <p>Each figure says how well it is founded: <i>verified</i> was read in the standard's text; <i>second-hand</i> was
 * read in another text that cites the standard; <i>computed</i> follows from the figures named; <i>from memory</i> must
 * be checked before anyone relies on it; <i>fitted</i> is a model of this library that meets the published limits.
 */
@NullMarked
package org.tapemetrology.core.standard;

import org.jspecify.annotations.NullMarked;
