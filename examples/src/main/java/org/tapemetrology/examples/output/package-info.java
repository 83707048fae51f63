/* SPDX-License-Identifier: Apache-2.0 */
/** What was measured and found, as JSON and as tables. */
@NullMarked
package org.tapemetrology.examples.output;

import org.jspecify.annotations.NullMarked;
