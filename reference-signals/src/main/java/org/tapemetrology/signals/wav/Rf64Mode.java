/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.wav;

/** Whether a file is written with the 64-bit sizes of RF64 (EBU Tech 3306; ITU-R BS.2088). */
public enum Rf64Mode {
    /** Plain RIFF with room for the 64-bit sizes; they are filled in when the file outgrows 4 GiB. */
    AUTOMATIC,
    /** RF64 from the start. */
    ALWAYS,
    /** Plain RIFF without that room; writing beyond 4 GiB fails. */
    NEVER
}
