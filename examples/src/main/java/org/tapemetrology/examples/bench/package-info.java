/* SPDX-License-Identifier: Apache-2.0 */
/** The guided alignment at work: on a virtual recorder, and with recordings of a real one. */
@NullMarked
package org.tapemetrology.examples.bench;

import org.jspecify.annotations.NullMarked;
