/* SPDX-License-Identifier: Apache-2.0 */
/** The JSON files that the workbench reads: set-ups, instruments, limits, programmes, transports. */
@NullMarked
package org.tapemetrology.examples.files;

import org.jspecify.annotations.NullMarked;
