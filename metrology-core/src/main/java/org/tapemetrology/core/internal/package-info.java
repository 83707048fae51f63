/* SPDX-License-Identifier: Apache-2.0 */
/** Helpers that are no part of the public interface. */
@NullMarked
package org.tapemetrology.core.internal;

import org.jspecify.annotations.NullMarked;
