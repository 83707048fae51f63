/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.azimuth.AzimuthMeter;
import org.tapemetrology.core.flutter.DeviationSeries;
import org.tapemetrology.core.flutter.FlutterSeries;
import org.tapemetrology.core.flutter.ToneMeter;
import org.tapemetrology.core.level.ConverterFullScale;
import org.tapemetrology.core.level.DigitalLevel;
import org.tapemetrology.core.level.LevelScale;
import org.tapemetrology.core.loss.TrackGeometry;
import org.tapemetrology.core.noise.NoiseMeter;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.core.separation.ErasureMeter;
import org.tapemetrology.core.separation.RecordedTone;
import org.tapemetrology.core.spectrum.ScrapeSpectrum;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.ReadingBudgets;
import org.tapemetrology.core.uncertainty.TestTape;
import org.tapemetrology.core.wav.WavReader;

/**
 * Measures everything that a recording of a test tone allows, on every channel, in one pass.
 *
 * <p>A file is measured by {@link #measure(Path)}. For anything else build a meter and push interleaved samples into it as
 * they come; {@link #reading()} may be asked at any moment. Results are bit-identical however the samples are cut into
 * blocks. Memory does not grow with the recording. Thread-confined.
 *
 * <p>Each reading carries its unit and its method, by the standards of {@link org.tapemetrology.core.standard}. A
 * sample that is no finite number makes the readings of its channel, and those between the channels, {@code
 * invalid-input} until {@link #reset()}.
 *
 * <p>Settling and cost: readings are there as early as those of {@link ToneMeter}, {@link NoiseMeter} and {@link
 * AzimuthMeter}. Nothing is allocated per block while a tone is followed; only with {@link Builder#keepDeviation()}
 * does memory grow, by some 4 kB a second and channel.
 *
 * <p>Not for recordings of several steps, of which the longest tone alone would count: {@link
 * org.tapemetrology.core.programme.ProgrammeMeasurement} measures each. Not for music or speech, of which little more
 * than the azimuth means anything.
 */
public final class RecordingMeter {
    /** Most channels that are measured. */
    public static final int MOST_CHANNELS = 64;

    private static final int FRAMES = 4096;
    private static final double BLOCK_SECONDS = 0.02;

    private final List<ChannelMeter> channels;
    private final List<LevelScale> scales;
    private final float[] block;
    private int filled;
    private final List<ErasureMeter> erasures;
    private final Optional<PairMeter> pair;
    private final ReadingBudgets budgets;

    /** Builds a meter. */
    public static final class Builder {
        private final int sampleRateHz;
        private final int channels;
        private OptionalDouble nominalHz = OptionalDouble.empty();
        private OptionalDouble mainsHz = OptionalDouble.empty();
        private Content content = Content.AUTOMATIC;
        private boolean keepDeviation;
        private boolean running;
        private Optional<ConverterFullScale> fullScale = Optional.empty();
        private List<DigitalLevel> referenceLevels = List.of();
        private List<RecordedTone> referenceTones = List.of();
        private Optional<PairMeter.Tracks> tracks = Optional.empty();
        private TestTape testTape = TestTape.assumed();
        private Converter converter = Converter.assumed();

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
         * Sets what the recording is taken for; otherwise for a tone where one is found, else for noise.
         *
         * @param taken what it is taken for
         * @return this builder
         */
        public Builder content(Content taken) {
            content = taken;
            return this;
        }

        /**
         * Sets the mains frequency that hum is looked for at; otherwise the stronger of 50 Hz and 60 Hz counts.
         *
         * @param hz frequency in Hz, 45 to 65
         * @return this builder
         */
        public Builder mainsHz(double hz) {
            NoiseMeter.builder().mainsHz(hz); // checks the value here, where it is set
            mainsHz = OptionalDouble.of(hz);
            return this;
        }

        /**
         * Sets the full scale of the converter: levels are given as voltages too.
         *
         * @param scale the voltage of a full-scale sine
         * @return this builder
         */
        public Builder fullScale(ConverterFullScale scale) {
            fullScale = Optional.of(scale);
            return this;
        }

        /**
         * Sets the level that levels and noise are given re.
         *
         * @param level reference level of every channel
         * @return this builder
         */
        public Builder referenceLevel(DigitalLevel level) {
            referenceLevels = Collections.nCopies(channels, level);
            return this;
        }

        /**
         * Sets the recorded tone of each channel, which erasure, noise and level refer to.
         *
         * @param tones tones as they were measured before, one for each channel, of 120 Hz to 0.4 of the sampling rate
         * @return this builder
         */
        public Builder reference(List<RecordedTone> tones) {
            if (tones.size() != channels) {
                throw new IllegalArgumentException(
                        tones.size() + " reference tones do not go with " + channels + " channels");
            }
            for (int i = 0; i < channels; i++) {
                new ErasureMeter(sampleRateHz, tones.get(i), i + 1); // checks the value here, where it is set
            }
            referenceTones = List.copyOf(tones);
            referenceLevels = tones.stream().map(RecordedTone::level).toList();
            return this;
        }

        /**
         * Sets the tracks and the speed of a machine of two tracks: the azimuth is given as an angle too.
         *
         * @param geometry a pair of tracks
         * @param speedCmPerSecond tape speed in cm/s
         * @param lossHz frequencies at which the level is given that the azimuth error costs
         * @return this builder
         */
        public Builder tracks(TrackGeometry geometry, double speedCmPerSecond, double... lossHz) {
            AzimuthMeter.builder().tracks(geometry, speedCmPerSecond).levelLossAtHz(lossHz); // checks the values
            tracks = Optional.of(new PairMeter.Tracks(
                    geometry, speedCmPerSecond, Arrays.stream(lossHz).boxed().toList()));
            return this;
        }

        /**
         * Sets how well the test tape is known; otherwise usual values are assumed, and uncertainties say so.
         *
         * @param tape the tape
         * @return this builder
         */
        public Builder testTape(TestTape tape) {
            testTape = tape;
            return this;
        }

        /**
         * Sets how well the converter is known; otherwise usual values are assumed, and uncertainties say so.
         *
         * @param known the converter
         * @return this builder
         */
        public Builder converter(Converter known) {
            converter = known;
            return this;
        }

        /**
         * Keeps the deviation of the tone, for its diagnosis: some 4 kB a second and channel.
         *
         * @return this builder
         */
        public Builder keepDeviation() {
            keepDeviation = true;
            return this;
        }

        /** Keeps what a {@link LiveMeter} asks for beside the readings. */
        Builder running() {
            running = true;
            return this;
        }

        int sampleRateHz() {
            return sampleRateHz;
        }

        OptionalDouble nominalHz() {
            return nominalHz;
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
        int blockLength = (int) Math.round(BLOCK_SECONDS * builder.sampleRateHz);
        this.block = new float[blockLength * builder.channels];
        this.budgets = new ReadingBudgets(builder.testTape, builder.converter);
        List<ChannelMeter> meters = new ArrayList<>();
        List<LevelScale> perChannel = new ArrayList<>();
        for (int i = 0; i < builder.channels; i++) {
            meters.add(new ChannelMeter(
                    builder.sampleRateHz,
                    blockLength,
                    builder.content,
                    builder.nominalHz,
                    builder.mainsHz,
                    builder.keepDeviation));
            perChannel.add(new LevelScale(
                    builder.fullScale,
                    builder.referenceLevels.isEmpty()
                            ? Optional.empty()
                            : Optional.of(builder.referenceLevels.get(i))));
        }
        this.channels = List.copyOf(meters);
        this.scales = List.copyOf(perChannel);
        List<ErasureMeter> perTone = new ArrayList<>();
        for (int i = 0; i < builder.referenceTones.size(); i++) {
            perTone.add(new ErasureMeter(builder.sampleRateHz, builder.referenceTones.get(i), i + 1));
        }
        this.erasures = List.copyOf(perTone);
        this.pair = builder.channels == 2 && builder.content != Content.NOISE
                ? Optional.of(new PairMeter(builder.sampleRateHz, builder.nominalHz, builder.tracks, builder.running))
                : Optional.empty();
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
        int samples = frames * channels.size();
        for (int taken = 0; taken < samples; ) {
            int part = Math.min(samples - taken, block.length - filled);
            System.arraycopy(interleaved, offset + taken, block, filled, part);
            taken += part;
            filled += part;
            if (filled == block.length) {
                filled = 0;
                process();
            }
        }
    }

    /** Works on whole blocks alone, so that nothing depends on how the samples came. */
    private void process() {
        int stride = channels.size();
        for (int i = 0; i < stride; i++) {
            channels.get(i).accept(block, i, stride);
        }
        for (int i = 0; i < erasures.size(); i++) {
            erasures.get(i).accept(block, i, stride, block.length / stride);
        }
        if (pair.isPresent()) {
            pair.get().accept(block, block.length / stride, channels.get(0), channels.get(1));
        }
    }

    /**
     * Everything that can be said at this moment, corrected for the known errors of test tape and converter, with its
     * expanded uncertainty.
     *
     * @return readings of every channel in order, then those between channels
     */
    public Measurement reading() {
        List<Reading> readings = new ArrayList<>();
        List<Warning> warnings = new ArrayList<>();
        for (int i = 0; i < channels.size(); i++) {
            int number = i + 1;
            Measurement one = channels.get(i).reading();
            scales.get(i).applied(one.readings()).forEach(reading -> readings.add(reading.onChannel(number)));
            if (!erasures.isEmpty()) {
                readings.add(erasures.get(i).reading());
            }
            one.warnings().forEach(warning -> warnings.add(warning.onChannel(number)));
        }
        pair.ifPresent(meter -> {
            Measurement both = meter.reading(new Measurement(readings, List.of()));
            readings.addAll(both.readings());
            warnings.addAll(both.warnings());
        });
        return budgets.applied(new Measurement(readings, warnings));
    }

    /**
     * The uncertainty budgets behind the readings.
     *
     * @return what gives the budget of any reading of this meter
     */
    public ReadingBudgets budgets() {
        return budgets;
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
     * The deviation of the tone on a channel.
     *
     * @param channel 1-based channel
     * @return the series, empty where it is not kept or no flutter is measured
     */
    public Optional<DeviationSeries> deviation(int channel) {
        return meter(channel).deviation();
    }

    /**
     * Spectrum of the scrape flutter on a channel.
     *
     * @param channel 1-based channel
     * @return the spectrum, empty where the deviation is not kept or the scrape band does not fit
     */
    public Optional<ScrapeSpectrum> scrape(int channel) {
        return meter(channel).scrape();
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

    /** How many frames are wanted until the next block is worked on. */
    int framesToBlockEnd() {
        return (block.length - filled) / channels.size();
    }

    int blockFrames() {
        return block.length / channels.size();
    }

    LevelScale scale(int channel) {
        return scales.get(channel - 1);
    }

    /** What both channels allow together, where there are two. */
    Optional<PairMeter> pair() {
        return pair;
    }

    ChannelMeter meter(int channel) {
        if (channel < 1 || channel > channels.size()) {
            throw new IllegalArgumentException("channel " + channel + " is not in 1 to " + channels.size());
        }
        return channels.get(channel - 1);
    }

    /** Puts the meter to rest, as if new. */
    public void reset() {
        filled = 0;
        channels.forEach(ChannelMeter::reset);
        erasures.forEach(ErasureMeter::reset);
        pair.ifPresent(PairMeter::reset);
    }
}
