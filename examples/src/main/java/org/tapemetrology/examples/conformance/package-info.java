/* SPDX-License-Identifier: Apache-2.0 */
/** The meters of this library, and a naive one, behind the interfaces of the reference test suites. */
@NullMarked
package org.tapemetrology.examples.conformance;

import org.jspecify.annotations.NullMarked;
