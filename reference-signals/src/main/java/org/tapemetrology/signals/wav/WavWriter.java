/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.wav;

import java.io.Closeable;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.OptionalLong;
import org.tapemetrology.signals.Quantiser;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.internal.Require;

/**
 * Writes a RIFF/WAVE file as a stream, in constant memory. {@link #close()} puts the sizes in; a file that was never
 * closed has none.
 *
 * <p>Integers are value &times; 2^(bits - 1), rounded and saturated; {@link #saturatedSamples()} counts how many did.
 * Floating-point values are written as they are, also beyond full scale. A value that is no finite number is refused in
 * an integer file and written as it is in a floating-point one. Thread-confined.
 *
 * <p>The same seed gives the same dither.
 */
public final class WavWriter implements Closeable {
    private static final long LARGEST_PLAIN_FILE = 0xFFFF_FFFFL;
    private static final int BLOCK_BYTES = 1 << 16;
    private static final int BLOCK_FRAMES = 1024;

    private final FileChannel channel;
    private final ByteBuffer block = ByteBuffer.allocate(BLOCK_BYTES).order(ByteOrder.LITTLE_ENDIAN);
    private final WavHeader header;
    private final WavEncoding encoding;
    private final int channels;
    private final double sampleRateHz;
    private final Rf64Mode rf64;
    private final long largestPlainFile;
    private final Quantiser[] quantisers;
    private long frames;
    private long saturated;
    private boolean open = true;

    private WavWriter(Builder builder, long largestPlainFile) throws IOException {
        encoding = builder.encoding;
        channels = builder.channels;
        sampleRateHz = builder.sampleRateHz;
        rf64 = builder.rf64;
        this.largestPlainFile = largestPlainFile;
        quantisers = new Quantiser[channels];
        for (int i = 0; i < channels; i++) {
            int bits = Math.min(encoding.validBits(), 32);
            quantisers[i] = builder.ditherSeed.isPresent()
                    ? Quantiser.dithered(bits, builder.ditherSeed.getAsLong() + i)
                    : Quantiser.plain(bits);
        }
        header = new WavHeader(builder.sampleRateHz, channels, encoding, builder.extensible, rf64);
        channel = builder.overwrite
                ? FileChannel.open(
                        builder.path,
                        StandardOpenOption.CREATE,
                        StandardOpenOption.TRUNCATE_EXISTING,
                        StandardOpenOption.WRITE)
                : FileChannel.open(builder.path, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
        writeFully(header.bytes(0, rf64 == Rf64Mode.ALWAYS));
    }

    /**
     * Starts a file.
     *
     * @param path where it is written
     * @return a builder for 48 kHz, one channel, 16 bits
     */
    public static Builder to(Path path) {
        return new Builder(path);
    }

    /**
     * Appends samples.
     *
     * @param samples one array for each channel, all of the same length
     * @throws IOException when the file cannot be written
     */
    public void write(double[]... samples) throws IOException {
        requireChannels(samples.length);
        for (double[] one : samples) {
            Require.that(
                    one.length == samples[0].length,
                    "a channel holds " + one.length + " samples, allowed: as many as the first, " + samples[0].length);
        }
        writeFrames(samples, samples[0].length);
    }

    /**
     * Appends a signal of one channel, from the number of frames already written on.
     *
     * @param signal the samples, at the rate of the file
     * @param count number of frames
     * @throws IOException when the file cannot be written
     */
    public void write(SampledSignal signal, long count) throws IOException {
        write(new SampledSignal[] {signal}, count);
    }

    /**
     * Appends one signal for each channel, from the number of frames already written on.
     *
     * @param signals the samples of each channel, at the rate of the file
     * @param count number of frames
     * @throws IOException when the file cannot be written
     */
    public void write(SampledSignal[] signals, long count) throws IOException {
        requireChannels(signals.length);
        Require.that(count >= 0, "number of frames is " + count + ", allowed: not below 0");
        for (SampledSignal signal : signals) {
            Require.that(
                    signal.sampleRateHz() == sampleRateHz,
                    "sample rate of the signal is " + signal.sampleRateHz() + " Hz, allowed: that of the file, "
                            + sampleRateHz + " Hz");
        }
        double[][] samples = new double[channels][(int) Math.min(BLOCK_FRAMES, count)];
        long last = frames + count;
        while (frames < last) {
            int length = (int) Math.min(BLOCK_FRAMES, last - frames);
            for (int i = 0; i < channels; i++) {
                signals[i].fill(frames, samples[i], 0, length);
            }
            writeFrames(samples, length);
        }
    }

    /**
     * Frames written so far.
     *
     * @return the number of samples of each channel
     */
    public long frames() {
        return frames;
    }

    /**
     * Samples that lay outside the codes of an integer encoding, all channels together.
     *
     * @return their number
     */
    public long saturatedSamples() {
        return saturated;
    }

    /**
     * Completes the file: pads the data to a whole number of words and puts the sizes into the header. Closing again
     * does nothing.
     *
     * @throws IOException when the file cannot be written
     */
    @Override
    public void close() throws IOException {
        if (!open) {
            return;
        }
        open = false;
        try (channel) {
            if (dataBytes() % 2 == 1) {
                writeByte();
            }
            flush();
            boolean large = rf64 == Rf64Mode.ALWAYS || header.fileBytes(frames) > largestPlainFile;
            channel.position(0);
            writeFully(header.bytes(frames, large));
        }
    }

    private void writeByte() throws IOException {
        if (!block.hasRemaining()) {
            flush();
        }
        block.put((byte) 0);
    }

    private void requireChannels(int given) {
        if (!open) {
            throw new IllegalStateException("the file is closed");
        }
        Require.that(given == channels, "number of channels is " + given + ", allowed: that of the file, " + channels);
    }

    private void writeFrames(double[][] samples, int length) throws IOException {
        if (rf64 == Rf64Mode.NEVER && header.fileBytes(frames + length) > largestPlainFile) {
            throw new IOException("a plain RIFF file cannot hold more than " + largestPlainFile + " bytes; at frame "
                    + frames + " it would outgrow that");
        }
        requireCodable(samples, length);
        for (int frame = 0; frame < length; frame++) {
            for (int i = 0; i < channels; i++) {
                put(samples[i][frame], quantisers[i]);
            }
            frames++;
        }
    }

    /** Before any of them is written, so that a refused block leaves no part of a frame behind. */
    private void requireCodable(double[][] samples, int length) {
        if (encoding.isFloatingPoint()) {
            return;
        }
        for (int i = 0; i < channels; i++) {
            for (int frame = 0; frame < length; frame++) {
                double value = samples[i][frame];
                if (!Double.isFinite(value)) {
                    throw new IllegalArgumentException("sample of channel " + (i + 1) + " at frame " + (frames + frame)
                            + " is " + value + ", allowed in an integer file: finite");
                }
            }
        }
    }

    private void put(double value, Quantiser quantiser) throws IOException {
        if (block.remaining() < encoding.bytes()) {
            flush();
        }
        switch (encoding) {
            case PCM_8 -> block.put((byte) (code(value, quantiser) + 128));
            case PCM_16 -> block.putShort((short) code(value, quantiser));
            case PCM_24 -> {
                long code = code(value, quantiser);
                block.putShort((short) code).put((byte) (code >> 16));
            }
            case PCM_24_IN_32 -> block.putInt((int) code(value, quantiser) << 8);
            case PCM_32 -> block.putInt((int) code(value, quantiser));
            case FLOAT_32 -> block.putFloat((float) value);
            case FLOAT_64 -> block.putDouble(value);
        }
    }

    private long code(double value, Quantiser quantiser) {
        if (quantiser.saturates(value, frames)) {
            saturated++;
        }
        return quantiser.code(value, frames);
    }

    private void flush() throws IOException {
        block.flip();
        writeFully(block);
        block.clear();
    }

    private void writeFully(ByteBuffer bytes) throws IOException {
        while (bytes.hasRemaining()) {
            channel.write(bytes);
        }
    }

    private long dataBytes() {
        return frames * channels * encoding.bytes();
    }

    /** Builds a writer. Thread-confined. */
    public static final class Builder {
        private final Path path;
        private int sampleRateHz = 48_000;
        private int channels = 1;
        private WavEncoding encoding = WavEncoding.PCM_16;
        private boolean extensible;
        private Rf64Mode rf64 = Rf64Mode.AUTOMATIC;
        private OptionalLong ditherSeed = OptionalLong.empty();
        private boolean overwrite;

        private Builder(Path path) {
            this.path = path;
        }

        /**
         * Sample rate; 48 kHz without this call.
         *
         * @param hertz 1 to 10 MHz
         * @return this builder
         */
        public Builder sampleRateHz(int hertz) {
            sampleRateHz = Require.within("sample rate in Hz", hertz, 1, 10_000_000);
            return this;
        }

        /**
         * Number of channels; one without this call.
         *
         * @param count 1 to 1024
         * @return this builder
         */
        public Builder channels(int count) {
            channels = Require.within("number of channels", count, 1, 1024);
            return this;
        }

        /**
         * Encoding of the samples; 16-bit integers without this call.
         *
         * @param value the encoding
         * @return this builder
         */
        public Builder encoding(WavEncoding value) {
            encoding = value;
            return this;
        }

        /**
         * Writes the extensible form of the format chunk, which {@link WavEncoding#PCM_24_IN_32} has in any case.
         *
         * @return this builder
         */
        public Builder extensible() {
            extensible = true;
            return this;
        }

        /**
         * Use of 64-bit sizes; automatic without this call.
         *
         * @param mode when they are used
         * @return this builder
         */
        public Builder rf64(Rf64Mode mode) {
            rf64 = mode;
            return this;
        }

        /**
         * Adds dither of triangular density before an integer encoding, independent in each channel; none without this
         * call. Floating-point samples get none.
         *
         * @param seed start of the random numbers
         * @return this builder
         */
        public Builder dither(long seed) {
            ditherSeed = OptionalLong.of(seed);
            return this;
        }

        /**
         * Replaces a file that exists; without this call it is refused.
         *
         * @return this builder
         */
        public Builder overwrite() {
            overwrite = true;
            return this;
        }

        /**
         * Creates the file.
         *
         * @return the writer, ready for the first frame
         * @throws IOException when the file exists and may not be replaced, or cannot be written
         */
        public WavWriter create() throws IOException {
            return create(LARGEST_PLAIN_FILE);
        }

        /** With another limit than that of the 32-bit sizes, so that a test need not write 4 GiB. */
        WavWriter create(long largestPlainFile) throws IOException {
            return new WavWriter(this, largestPlainFile);
        }
    }
}
