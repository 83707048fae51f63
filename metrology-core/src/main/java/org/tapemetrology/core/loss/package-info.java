/* SPDX-License-Identifier: Apache-2.0 */
/**
 * The physics of replay: losses of level at short wavelengths, the geometry of the tracks, and which loss explains a
 * measured response.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.loss;

import org.jspecify.annotations.NullMarked;
