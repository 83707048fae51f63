/* SPDX-License-Identifier: Apache-2.0 */
/** The workbench: measuring, generating and the demonstration, from the command line. */
@NullMarked
package org.tapemetrology.examples;

import org.jspecify.annotations.NullMarked;
