/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;

/**
 * A window of fixed size that slides over the bytes of a file or pipe. Indices count from the start of the window, the
 * position from the start of the file. No size that the file states is ever allocated.
 */
final class ByteWindow implements Closeable {
    static final int CAPACITY = 1 << 16;
    /** Length of a pipe. */
    static final long UNKNOWN = -1;

    private final String name;
    private final InputStream in;
    private final long length;
    private final byte[] bytes = new byte[CAPACITY];
    private final ByteBuffer view = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
    private int start;
    private int end;
    private long position;

    /** The stream is moved by {@link InputStream#skip} only where the length is known: a pipe may refuse to be moved. */
    ByteWindow(String name, InputStream in, long length) {
        this.name = name;
        this.in = in;
        this.length = length;
    }

    String name() {
        return name;
    }

    long length() {
        return length;
    }

    /** Bytes from the start of the file to the start of the window. */
    long position() {
        return position;
    }

    /** Reads on until the window holds {@code wanted} bytes or the file ends, and says how many it holds. */
    int require(int wanted) throws IOException {
        if (end - start >= wanted) {
            return end - start;
        }
        System.arraycopy(bytes, start, bytes, 0, end - start);
        end -= start;
        start = 0;
        while (end < wanted && readMore()) {}
        return end;
    }

    private boolean readMore() throws IOException {
        try {
            int count = in.read(bytes, end, CAPACITY - end);
            if (count == 0) { // against the contract of a stream, and asking again could go on for ever
                int single = in.read();
                if (single >= 0) {
                    bytes[end] = (byte) single;
                    count = 1;
                } else {
                    count = -1;
                }
            }
            end += Math.max(count, 0);
            return count > 0;
        } catch (IOException e) {
            throw unreadable(position + end - start, e);
        }
    }

    /** Slides the window past bytes that it holds. */
    void consume(int count) {
        start += count;
        position += count;
    }

    /** Slides the window and says by how much: less than asked for where the file ends. */
    long skip(long count) throws IOException {
        int held = (int) Math.min(count, end - start);
        consume(held);
        long left = count - held;
        while (left > 0 && position < length) {
            long skipped = seek(Math.min(left, length - position));
            if (skipped <= 0) {
                break;
            }
            position += skipped;
            left -= skipped;
        }
        while (left > 0) {
            int some = (int) Math.min(left, require(1));
            if (some == 0) {
                break;
            }
            consume(some);
            left -= some;
        }
        return count - left;
    }

    private long seek(long count) throws IOException {
        try {
            return in.skip(count);
        } catch (IOException e) {
            throw unreadable(position, e);
        }
    }

    private IOException unreadable(long at, IOException cause) {
        return new IOException(name + ": cannot be read on (byte " + at + "): " + cause.getMessage(), cause);
    }

    /** The array that holds the window, which begins at {@link #start()}. */
    byte[] array() {
        return bytes;
    }

    int start() {
        return start;
    }

    int uint8(int index) {
        return bytes[start + index] & 0xFF;
    }

    int uint16(int index) {
        return view.getShort(start + index) & 0xFFFF;
    }

    int int32(int index) {
        return view.getInt(start + index);
    }

    long uint32(int index) {
        return int32(index) & 0xFFFF_FFFFL;
    }

    long int64(int index) {
        return view.getLong(start + index);
    }

    /** Four characters, as chunks are named. */
    String fourCc(int index) {
        return new String(bytes, start + index, 4, StandardCharsets.ISO_8859_1);
    }

    String hex(int index, int count) {
        StringBuilder text = new StringBuilder();
        for (int i = index; i < index + count; i++) {
            text.append(text.isEmpty() ? "" : " ").append(String.format("%02X", uint8(i)));
        }
        return text.toString();
    }

    @Override
    public void close() throws IOException {
        in.close();
    }
}
