/* SPDX-License-Identifier: Apache-2.0 */
/**
 * The response of a machine from recordings of known test signals.
 *
 * <p>A response is given at the frequencies of the sent signal, which stand for recorded wavelengths: on a machine that
 * runs off speed a tone sent at f is looked for, and found, at f times the speed ratio, and its reading says f.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.response;

import org.jspecify.annotations.NullMarked;
