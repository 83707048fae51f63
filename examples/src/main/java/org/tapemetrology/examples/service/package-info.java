/* SPDX-License-Identifier: Apache-2.0 */
/** The service file: what is to be measured on a machine, what was, and what it says. */
@NullMarked
package org.tapemetrology.examples.service;

import org.jspecify.annotations.NullMarked;
