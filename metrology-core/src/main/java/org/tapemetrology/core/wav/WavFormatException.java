/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

import java.io.IOException;

/**
 * A file that cannot be read as a recording at all.
 *
 * <p>Thrown by {@link WavReader}; its message names the file, the byte and what is wrong.
 */
public final class WavFormatException extends IOException {
    private static final long serialVersionUID = 1L;

    /** Name of the file or pipe. */
    private final String file;
    /** Bytes from its start. */
    private final long byteOffset;

    /**
     * A refusal.
     *
     * @param file name of the file or pipe
     * @param byteOffset where in the file the trouble stands, in bytes from its start
     * @param problem what is wrong, for a person
     */
    public WavFormatException(String file, long byteOffset, String problem) {
        super(file + ": " + problem + " (byte " + byteOffset + ")");
        this.file = file;
        this.byteOffset = byteOffset;
    }

    /**
     * The file that was refused.
     *
     * @return name of the file or pipe
     */
    public String file() {
        return file;
    }

    /**
     * Where the trouble stands.
     *
     * @return bytes from the start of the file
     */
    public long byteOffset() {
        return byteOffset;
    }
}
