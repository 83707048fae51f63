/* SPDX-License-Identifier: Apache-2.0 */
/** Small programs, each in one file that needs the jar of the core alone and none of the others: copy one and change it. */
@NullMarked
package org.tapemetrology.examples.hobby;

import org.jspecify.annotations.NullMarked;
