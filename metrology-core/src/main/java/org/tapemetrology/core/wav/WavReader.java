/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Optional;
import java.util.OptionalLong;
import org.jspecify.annotations.Nullable;

/**
 * A WAV recording, read from start to end in constant memory.
 *
 * <p>Reads RIFF, RF64 and BW64 with linear PCM of up to 32 bits and IEEE floating point of 32 and 64 bits. Samples are
 * given relative to full scale: {@code x / 2^(n-1)} for an integer {@code x} in a container of {@code n} bits, so that
 * full scale is 1.0 (Multimedia Programming Interface and Data Specifications 1.0; EBU Tech 3306; ITU-R BS.2088).
 * Floating-point samples are handed on as they are, NaN and infinities included.
 *
 * <p>A recording whose length was never written, or that is cut off, is read as far as it goes; {@link #damage()} then
 * says so. Thread-confined.
 *
 * <p>Cost: a window of the file in memory, and one pass.
 *
 * <p>Not for compressed recordings, which are refused, nor for going back: open the file again.
 */
public final class WavReader implements AutoCloseable {
    private final ByteWindow in;
    private final WavFormat format;
    private final int bytesPerFrame;
    private final long dataStart;
    private final long dataBytes;
    private SampleDecoder decoder;
    private boolean justificationOpen;
    private int silentBytes;
    private @Nullable WavDamage damage;
    private long framesRead;
    private boolean ended;
    private boolean closed;

    private WavReader(ByteWindow in) throws IOException {
        WavHeader header = WavHeader.read(in);
        this.in = in;
        this.format = header.format().format();
        this.bytesPerFrame = format.bytesPerFrame();
        this.dataStart = in.position();
        this.dataBytes = header.dataBytes();
        this.decoder = SampleDecoder.of(format);
        this.justificationOpen = header.format().justificationOpen();
        this.damage = header.damage();
    }

    private WavReader(ByteWindow in, WavFormat format) {
        this.in = in;
        this.format = format;
        this.bytesPerFrame = format.bytesPerFrame();
        this.dataStart = 0;
        this.dataBytes = ByteWindow.UNKNOWN;
        this.decoder = SampleDecoder.of(format);
    }

    /**
     * Opens a file, or whatever else the path names that can be read.
     *
     * @param file the path
     * @return a reader that stands at the first frame
     * @throws WavFormatException if the file cannot be opened or is no recording that can be read
     * @throws IOException if reading fails
     */
    public static WavReader open(Path file) throws IOException {
        String name = file.toString();
        if (Files.isDirectory(file)) {
            throw new WavFormatException(name, 0, "this is a directory");
        }
        try {
            long length = Files.isRegularFile(file) ? Files.size(file) : ByteWindow.UNKNOWN;
            return read(new ByteWindow(name, Files.newInputStream(file), length));
        } catch (NoSuchFileException e) {
            throw refused(name, "there is no such file", e);
        } catch (AccessDeniedException e) {
            throw refused(name, "reading it is not permitted", e);
        } catch (FileSystemException e) {
            throw refused(name, "it cannot be opened: " + e.getReason(), e);
        }
    }

    /**
     * Reads from a stream that is never moved but by reading, such as a pipe.
     *
     * @param stream the stream, which {@link #close()} closes
     * @param name what to call it in messages
     * @return a reader that stands at the first frame
     * @throws WavFormatException if the stream holds no recording that can be read
     * @throws IOException if reading fails
     */
    public static WavReader of(InputStream stream, String name) throws IOException {
        return read(new ByteWindow(name, stream, ByteWindow.UNKNOWN));
    }

    /**
     * Reads samples that stand there without a header, as a capture program writes them into a pipe. The byte order is that of
     * WAV: the lowest byte first.
     *
     * @param stream the stream, which {@link #close()} closes
     * @param name what to call it in messages
     * @param format how the samples are stored
     * @return a reader that stands at the first frame
     */
    public static WavReader ofRaw(InputStream stream, String name, WavFormat format) {
        return new WavReader(new ByteWindow(name, stream, ByteWindow.UNKNOWN), format);
    }

    private static WavReader read(ByteWindow in) throws IOException {
        try {
            return new WavReader(in);
        } catch (IOException | RuntimeException e) {
            try {
                in.close();
            } catch (IOException secondary) {
                e.addSuppressed(secondary);
            }
            throw e;
        }
    }

    private static WavFormatException refused(String name, String problem, IOException cause) {
        WavFormatException refusal = new WavFormatException(name, 0, problem);
        refusal.initCause(cause);
        return refusal;
    }

    /**
     * How the samples are stored.
     *
     * @return the format
     */
    public WavFormat format() {
        return format;
    }

    /**
     * Length of the recording in frames: counted once the end is reached; until then what the header says, or what the
     * file has room for if that is less. A pipe may end earlier than its header says.
     *
     * @return the number of whole frames, empty where nothing tells it yet
     */
    public OptionalLong frames() {
        if (ended) {
            return OptionalLong.of(framesRead);
        }
        long available = in.length() == ByteWindow.UNKNOWN ? Long.MAX_VALUE : in.length() - dataStart;
        long promised = dataBytes == ByteWindow.UNKNOWN ? Long.MAX_VALUE : dataBytes;
        long bytes = Math.min(available, promised);
        return bytes == Long.MAX_VALUE ? OptionalLong.empty() : OptionalLong.of(bytes / bytesPerFrame);
    }

    /**
     * Frames read so far.
     *
     * @return the number of frames
     */
    public long framesRead() {
        return framesRead;
    }

    /**
     * What is wrong with the recording, as far as it has been read: complete once a read has returned -1.
     *
     * @return the damage, empty where there is none
     */
    public Optional<WavDamage> damage() {
        return Optional.ofNullable(damage);
    }

    /**
     * Reads frames, waiting for them where they come from a pipe.
     *
     * @param interleaved where to put them, channel by channel within each frame
     * @param offset index of the first sample
     * @param frames how many frames
     * @return frames read, fewer than asked for only at the end of the recording, -1 where there was none left
     * @throws IOException if reading fails
     * @throws IllegalArgumentException if the frames do not fit behind the offset
     * @throws IllegalStateException if the reader is closed
     */
    public int read(float[] interleaved, int offset, int frames) throws IOException {
        requireRoom(interleaved.length, offset, frames);
        int done = 0;
        while (done < frames) {
            int some = framesAtHand(frames - done);
            if (some == 0) {
                return done == 0 ? -1 : done;
            }
            decoder.decode(
                    in.array(), in.start(), interleaved, offset + done * format.channels(), some * format.channels());
            advance(some);
            done += some;
        }
        return done;
    }

    /**
     * Reads frames, waiting for them where they come from a pipe.
     *
     * @param interleaved where to put them, channel by channel within each frame
     * @param offset index of the first sample
     * @param frames how many frames
     * @return frames read, fewer than asked for only at the end of the recording, -1 where there was none left
     * @throws IOException if reading fails
     * @throws IllegalArgumentException if the frames do not fit behind the offset
     * @throws IllegalStateException if the reader is closed
     */
    public int read(double[] interleaved, int offset, int frames) throws IOException {
        requireRoom(interleaved.length, offset, frames);
        int done = 0;
        while (done < frames) {
            int some = framesAtHand(frames - done);
            if (some == 0) {
                return done == 0 ? -1 : done;
            }
            decoder.decode(
                    in.array(), in.start(), interleaved, offset + done * format.channels(), some * format.channels());
            advance(some);
            done += some;
        }
        return done;
    }

    private void requireRoom(int length, int offset, int frames) {
        if (closed) {
            throw new IllegalStateException(in.name() + ": the reader is closed");
        }
        if (offset < 0 || frames < 0 || (long) frames * format.channels() > length - (long) offset) {
            throw new IllegalArgumentException("frames: " + frames + " of " + format.channels() + " samples at offset "
                    + offset + ", allowed is what fits into " + length + " samples");
        }
    }

    /** Whole frames in the window, at most those wanted; 0 only at the end of the recording. */
    private int framesAtHand(int wanted) throws IOException {
        if (ended) {
            return 0;
        }
        int bytes = (int) Math.min(in.require(bytesPerFrame), bytesLeft());
        if (bytes < bytesPerFrame) {
            end(bytes);
            return 0;
        }
        if (justificationOpen && silentBytes == 0) {
            bytes = settleJustification();
        } else if (justificationOpen) {
            bytes = silentBytes;
        }
        return Math.min(wanted, bytes / bytesPerFrame);
    }

    private long bytesLeft() {
        return dataBytes == ByteWindow.UNKNOWN ? Long.MAX_VALUE : dataBytes - framesRead * bytesPerFrame;
    }

    private void advance(int frames) {
        in.consume(frames * bytesPerFrame);
        framesRead += frames;
        silentBytes = Math.max(0, silentBytes - frames * bytesPerFrame);
    }

    /**
     * Finds out at which end of its four bytes a sample of 24 bits stands: it stands on the right if something is in the
     * lowest byte and the highest only ever repeats the sign. Looks at the whole window, filled to its end, so that the
     * outcome does not depend on how the bytes arrive. Zeros tell nothing and read as zeros either way.
     */
    private int settleJustification() throws IOException {
        int held = (int) Math.min(in.require(ByteWindow.CAPACITY), bytesLeft());
        int whole = held - held % bytesPerFrame;
        int any = 0;
        boolean signExtended = true;
        for (int i = 0; i < whole; i += 4) {
            int sample = in.int32(i);
            any |= sample;
            signExtended &= sample == sample << 8 >> 8;
        }
        if (any == 0) {
            silentBytes = whole;
        } else {
            justificationOpen = false;
            if (signExtended && (any & 0xFF) != 0) {
                decoder = SampleDecoder.SIGNED_24_RIGHT_JUSTIFIED_IN_32;
            }
        }
        return whole;
    }

    private void end(int strayBytes) throws IOException {
        ended = true;
        long at = in.position();
        if (dataBytes != ByteWindow.UNKNOWN && strayBytes < bytesLeft()) {
            long fileEnd = at + strayBytes;
            report(new WavDamage(
                    "the recording is cut off: its header promises " + dataBytes + " bytes of samples from byte "
                            + dataStart + " on, but the file ends at byte " + fileEnd + ", after " + framesRead
                            + " whole frames",
                    fileEnd));
        }
        if (strayBytes > 0) {
            report(new WavDamage(
                    "the last " + strayBytes + " bytes (byte " + at + ") are no whole frame of " + bytesPerFrame
                            + " bytes and are left out",
                    at));
        }
        in.consume(strayBytes);
        if (dataBytes != ByteWindow.UNKNOWN && !WavHeader.isChunkBoundary(in, dataBytes % 2 != 0)) {
            report(new WavDamage(
                    "what follows the samples (byte " + in.position() + ") is no chunk and is left out",
                    in.position()));
        }
    }

    private void report(WavDamage found) {
        damage = damage == null ? found : damage.and(found);
    }

    /**
     * Closes the file or stream.
     *
     * @throws IOException if closing fails
     */
    @Override
    public void close() throws IOException {
        closed = true;
        in.close();
    }
}
