/* SPDX-License-Identifier: Apache-2.0 */
/** What the packages of this module share and nobody else sees. */
@NullMarked
package org.tapemetrology.signals.internal;

import org.jspecify.annotations.NullMarked;
