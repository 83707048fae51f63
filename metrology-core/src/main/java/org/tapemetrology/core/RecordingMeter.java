/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.flutter.FlutterSeries;
import org.tapemetrology.core.flutter.ToneMeter;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.core.wav.WavReader;

/**
 * Measures everything that a recording of a test tone allows, on every channel, in one pass.
 *
 * <p>A file is measured by {@link #measure(Path)}. For anything else build a meter and push interleaved samples into it as
 * they come; {@link #reading()} may be asked at any moment. Results are bit-identical however the samples are cut into
 * blocks. Memory does not grow with the recording. Thread-confined.
 */
public final class RecordingMeter {
    /** Most channels that are measured. */
    public static final int MOST_CHANNELS = 64;

    private static final int FRAMES = 4096;
    private static final String BALANCE_METHOD = "difference of the RMS levels of the fundamentals";

    private final List<ToneMeter> channels;

    /** Builds a meter. */
    public static final class Builder {
        private final int sampleRateHz;
        private final int channels;
        private OptionalDouble nominalHz = OptionalDouble.empty();

        private Builder(int sampleRateHz, int channels) {
            if (channels < 1 || channels > MOST_CHANNELS) {
                throw new IllegalArgumentException("channels " + channels + " is not in 1 to " + MOST_CHANNELS);
            }
            this.sampleRateHz = sampleRateHz;
            this.channels = channels;
            ToneMeter.builder(sampleRateHz); // checks the rate here, where it is set
        }

        /**
         * Sets the frequency that the tone has at the right speed. Without it the nearest published carrier is assumed,
         * and a warning says so where the speed error exceeds 1 %.
         *
         * @param hz nominal frequency in Hz, from 20 to 0.43 times the sampling rate
         * @return this builder
         */
        public Builder nominalHz(double hz) {
            ToneMeter.builder(sampleRateHz).nominalHz(hz); // checks the value here, where it is set
            nominalHz = OptionalDouble.of(hz);
            return this;
        }

        /**
         * Builds the meter.
         *
         * @return a meter at rest
         */
        public RecordingMeter build() {
            return new RecordingMeter(this);
        }
    }

    private RecordingMeter(Builder builder) {
        List<ToneMeter> meters = new ArrayList<>();
        for (int i = 0; i < builder.channels; i++) {
            ToneMeter.Builder meter = ToneMeter.builder(builder.sampleRateHz);
            builder.nominalHz.ifPresent(meter::nominalHz);
            meters.add(meter.build());
        }
        this.channels = Collections.unmodifiableList(meters);
    }

    /**
     * Begins to build a meter.
     *
     * @param sampleRateHz sampling rate in Hz, 8000 to 192000
     * @param channels number of channels, 1 to 64
     * @return a builder
     */
    public static Builder builder(int sampleRateHz, int channels) {
        return new Builder(sampleRateHz, channels);
    }

    /**
     * Measures a WAV file, with the nominal frequency recognised.
     *
     * @param file the file
     * @return everything that it allows; a damaged file is measured up to where it is whole and a warning says so
     * @throws IOException where the file can't be read as WAV at all, or its sampling rate is not in 8 kHz to 192 kHz
     */
    public static Measurement measure(Path file) throws IOException {
        try (WavReader reader = WavReader.open(file)) {
            int rate = reader.format().sampleRateHz();
            if (rate < ToneMeter.LOWEST_SAMPLE_RATE_HZ || rate > ToneMeter.HIGHEST_SAMPLE_RATE_HZ) {
                throw new IOException(file + ": sampling rate " + rate + " Hz is not in "
                        + ToneMeter.LOWEST_SAMPLE_RATE_HZ + " to " + ToneMeter.HIGHEST_SAMPLE_RATE_HZ + " Hz");
            }
            return builder(rate, reader.format().channels()).build().measure(reader);
        }
    }

    /**
     * Takes everything that a reader still has.
     *
     * @param reader a reader with as many channels and the sampling rate of this meter
     * @return what can be said after it, with a warning where the file is damaged
     * @throws IOException where reading fails
     */
    public Measurement measure(WavReader reader) throws IOException {
        float[] block = new float[FRAMES * channels.size()];
        for (int frames = reader.read(block, 0, FRAMES); frames >= 0; frames = reader.read(block, 0, FRAMES)) {
            accept(block, 0, frames);
        }
        Measurement measurement = reading();
        return reader.damage()
                .map(damage -> measurement.withWarning(Warning.of(WarningCode.DAMAGED_FILE, damage.message())))
                .orElse(measurement);
    }

    /**
     * Takes interleaved samples.
     *
     * @param interleaved samples of all channels in turn, full scale 1
     * @param offset first sample of the first frame
     * @param frames number of frames
     */
    public void accept(float[] interleaved, int offset, int frames) {
        Objects.checkFromIndexSize(offset, Math.multiplyExact(frames, channels.size()), interleaved.length);
        for (int i = 0; i < channels.size(); i++) {
            channels.get(i).accept(interleaved, offset + i, channels.size(), frames);
        }
    }

    /**
     * Everything that can be said at this moment.
     *
     * @return readings of every channel in order, then those between channels
     */
    public Measurement reading() {
        List<Reading> readings = new ArrayList<>();
        List<Warning> warnings = new ArrayList<>();
        for (int i = 0; i < channels.size(); i++) {
            int number = i + 1;
            Measurement one = channels.get(i).reading();
            one.readings().forEach(reading -> readings.add(reading.onChannel(number)));
            one.warnings().forEach(warning -> warnings.add(warning.onChannel(number)));
        }
        if (channels.size() == 2) {
            readings.add(balance(new Measurement(readings, List.of())));
        }
        return new Measurement(readings, warnings);
    }

    private static Reading balance(Measurement both) {
        Reading first = both.find(Quantity.LEVEL, 1).orElseThrow();
        Reading second = both.find(Quantity.LEVEL, 2).orElseThrow();
        if (first.isValid() && second.isValid()) {
            double difference = second.value().orElseThrow() - first.value().orElseThrow();
            return Reading.valid(Quantity.CHANNEL_BALANCE, difference, BALANCE_METHOD);
        }
        Status status = first.isValid() ? second.status() : first.status();
        return Reading.without(Quantity.CHANNEL_BALANCE, status, BALANCE_METHOD);
    }

    /**
     * Number of channels.
     *
     * @return that number
     */
    public int channels() {
        return channels.size();
    }

    /**
     * Strip chart of the tone on a channel.
     *
     * @param channel 1-based channel
     * @return the chart, empty where no flutter is measured
     */
    public Optional<FlutterSeries> series(int channel) {
        return meter(channel).series();
    }

    /**
     * Present indication of the running weighted quasi-peak meter of a channel.
     *
     * @param channel 1-based channel
     * @return indication in %, empty while no tone is followed
     */
    public OptionalDouble runningQuasiPeakPercent(int channel) {
        return meter(channel).runningQuasiPeakPercent();
    }

    private ToneMeter meter(int channel) {
        if (channel < 1 || channel > channels.size()) {
            throw new IllegalArgumentException("channel " + channel + " is not in 1 to " + channels.size());
        }
        return channels.get(channel - 1);
    }

    /** Puts the meter to rest, as if new. */
    public void reset() {
        channels.forEach(ToneMeter::reset);
    }
}
