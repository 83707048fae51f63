/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

/** What a recording is taken for. */
public enum Content {
    /** A test tone where one is found, else noise. */
    AUTOMATIC,
    /** A test tone; where none is found, nothing is measured. */
    TONE,
    /** Noise without a tone: a biased or blank tape, or the machine alone. */
    NOISE
}
