/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

/**
 * What is wrong with a recording that could be read in part.
 *
 * @param message what is wrong and what was done about it, for a person; names every byte offset it speaks of
 * @param byteOffset where in the file the first damage stands, in bytes from its start
 */
public record WavDamage(String message, long byteOffset) {

    WavDamage and(WavDamage later) {
        return new WavDamage(message + "; " + later.message, byteOffset);
    }
}
