/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.azimuth.AzimuthMeter;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.level.ConverterFullScale;
import org.tapemetrology.core.level.DigitalLevel;
import org.tapemetrology.core.level.LevelScale;
import org.tapemetrology.core.loss.TrackGeometry;
import org.tapemetrology.core.noise.NoiseMeter;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/**
 * Measures a replayed recording of a programme step by step: it is recognised first, and then each step is measured by the
 * meters that its signal asks for. The recording is asked for twice.
 *
 * <p>Tones give what {@code flutter}, {@code tone}, {@code azimuth} and {@code separation} read of a tone of that frequency;
 * tones of one level on the same channels that follow each other give the response too, re the one at the reference
 * frequency: {@code L - L_reference} in dB, each the level of the fundamental alone. Sweeps, multitones and noise give the
 * response and the azimuth, pauses the noise. Of each step 0.15 s at either end are left out, sweeps excepted. Figures that
 * a step is too short for are left out. Units, formulas, NaN and statuses are those of the meters. Thread-confined.
 *
 * <p>Sources are those of the meters. Cost: that of {@link ProgrammeRecogniser}, then that of the meters of one step
 * at a time; the recording is read twice and never held.
 *
 * <p>Not for a live input, which cannot be read twice.
 */
public final class ProgrammeMeasurement {
    private static final String RESPONSE_METHOD = "tones of a programme, levels of the fundamentals";
    private static final double EDGE_SECONDS = 0.15;

    private final Programme programme;
    private final int sampleRateHz;
    private final int channels;
    private final StepOptions options;

    /** Builds a measurement. */
    public static final class Builder {
        private final Programme programme;
        private final int sampleRateHz;
        private final int channels;
        private OptionalDouble mainsHz = OptionalDouble.empty();
        private LevelScale scale = LevelScale.NONE;
        private Optional<StepOptions.Tracks> tracks = Optional.empty();

        private Builder(Programme programme, int sampleRateHz, int channels) {
            this.programme = programme;
            this.sampleRateHz = (int) Require.inRange(
                    "sampleRateHz",
                    sampleRateHz,
                    ProgrammeRecogniser.LOWEST_RATE_HZ,
                    ProgrammeRecogniser.HIGHEST_RATE_HZ);
            this.channels = (int) Require.inRange("channels", channels, 1, 1024);
        }

        /**
         * Sets the mains frequency that hum is looked for at in pauses; otherwise the stronger of 50 Hz and 60 Hz counts.
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
         * @param fullScale the voltage of a full-scale sine
         * @return this builder
         */
        public Builder fullScale(ConverterFullScale fullScale) {
            scale = new LevelScale(Optional.of(fullScale), scale.reference());
            return this;
        }

        /**
         * Sets the level that levels and noise are given re.
         *
         * @param level reference level of every channel
         * @return this builder
         */
        public Builder referenceLevel(DigitalLevel level) {
            scale = new LevelScale(scale.fullScale(), Optional.of(level));
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
            tracks = Optional.of(new StepOptions.Tracks(
                    geometry, speedCmPerSecond, Arrays.stream(lossHz).boxed().toList()));
            return this;
        }

        /**
         * Builds the measurement.
         *
         * @return a measurement of recordings of the programme
         */
        public ProgrammeMeasurement build() {
            return new ProgrammeMeasurement(this);
        }
    }

    /** Takes samples. */
    @FunctionalInterface
    public interface Sink {
        /**
         * Takes interleaved samples.
         *
         * @param interleaved samples of all channels in turn, full scale 1
         * @param offset first sample of the first frame
         * @param frames number of frames
         */
        void accept(float[] interleaved, int offset, int frames);
    }

    /** A recording that can be replayed more than once. */
    @FunctionalInterface
    public interface Source {
        /**
         * Hands the whole recording, from its start, to a sink.
         *
         * @param sink what takes the samples
         * @throws IOException where reading fails
         */
        void replay(Sink sink) throws IOException;
    }

    /**
     * What was read of one step.
     *
     * @param step where it stands
     * @param measurement its readings and warnings; times are those of the recording
     */
    public record StepMeasurement(RecognisedStep step, Measurement measurement) {}

    /**
     * What was read of a recording.
     *
     * @param recognition which steps it holds, and what is missing
     * @param steps the readings of each step that was recognised, in the order of the recording
     */
    public record Result(Recognition recognition, List<StepMeasurement> steps) {
        /**
         * A result, its list copied.
         *
         * @param recognition which steps it holds
         * @param steps the readings of each
         */
        public Result {
            steps = List.copyOf(steps);
        }

        /**
         * The readings of a step.
         *
         * @param name its name
         * @return its measurement, empty where it was not recognised
         */
        public Optional<Measurement> find(String name) {
            return steps.stream()
                    .filter(one -> one.step().name().equals(name))
                    .map(StepMeasurement::measurement)
                    .findFirst();
        }
    }

    private ProgrammeMeasurement(Builder builder) {
        programme = builder.programme;
        sampleRateHz = builder.sampleRateHz;
        channels = builder.channels;
        options = new StepOptions(builder.mainsHz, builder.scale, builder.tracks);
    }

    /**
     * Begins to build a measurement of recordings of a programme.
     *
     * @param programme what was recorded
     * @param sampleRateHz sampling rate in Hz, 8000 to 192 000
     * @param channels channels of the recording, 1 or more; of more than two the first two are measured
     * @return a builder
     */
    public static Builder builder(Programme programme, int sampleRateHz, int channels) {
        return new Builder(programme, sampleRateHz, channels);
    }

    /**
     * Measures a recording.
     *
     * @param source the recording, which is replayed twice
     * @return the readings of every step that was recognised
     * @throws IOException where the source throws it
     */
    public Result measure(Source source) throws IOException {
        ProgrammeRecogniser recogniser = new ProgrammeRecogniser(programme, sampleRateHz, Math.min(2, channels));
        source.replay((samples, offset, frames) -> recogniser.accept(samples, offset, channels, frames));
        Recognition recognition = recogniser.recognition();
        Feed feed = new Feed(recognition);
        source.replay(feed::accept);
        return new Result(recognition, withResponses(feed.finished()));
    }

    /** Hands the samples of each step to its meters; those of one step at a time are alive. */
    private final class Feed {
        private final Recognition recognition;
        private final List<StepMeasurement> measured = new ArrayList<>();
        private int next;
        private long at;
        private @Nullable StepMeters meters;

        Feed(Recognition recognition) {
            this.recognition = recognition;
        }

        private long edge(RecognisedStep step, boolean start) {
            boolean sweep = programme.steps().get(step.index()).signal() instanceof StepSignal.Sweep;
            double margin = sweep ? 0 : EDGE_SECONDS;
            return Math.round((start ? step.fromSeconds() + margin : step.toSeconds() - margin) * sampleRateHz);
        }

        void accept(float[] samples, int offset, int frames) {
            int taken = 0;
            while (taken < frames && next < recognition.found().size()) {
                RecognisedStep step = recognition.found().get(next);
                long from = edge(step, true);
                long to = edge(step, false);
                if (at < from) {
                    int part = (int) Math.min(frames - taken, from - at);
                    taken += part;
                    at += part;
                    continue;
                }
                if (meters == null) {
                    meters = new StepMeters(programme, step.index(), options, sampleRateHz, Math.min(2, channels));
                }
                int part = (int) Math.max(0, Math.min(frames - taken, to - at));
                meters.accept(samples, offset + taken * channels, channels, part);
                taken += part;
                at += part;
                if (at >= to) {
                    end(step, meters);
                }
            }
            at += frames - taken;
        }

        private void end(RecognisedStep step, StepMeters ended) {
            measured.add(new StepMeasurement(step, ended.reading(edge(step, true) / (double) sampleRateHz)));
            meters = null;
            next++;
        }

        List<StepMeasurement> finished() {
            if (meters != null) {
                end(recognition.found().get(next), meters);
            }
            return measured;
        }
    }

    /** Adds the response to the tones that belong to one. */
    private List<StepMeasurement> withResponses(List<StepMeasurement> measured) {
        Map<Integer, Measurement> byStep = new HashMap<>();
        measured.forEach(one -> byStep.put(one.step().index(), one.measurement()));
        for (List<Integer> sequence : programme.toneSequences()) {
            int reference = reference(sequence);
            for (int step : sequence) {
                Measurement own = byStep.get(step);
                if (own != null) {
                    byStep.put(step, withResponse(step, own, Optional.ofNullable(byStep.get(reference))));
                }
            }
        }
        return measured.stream()
                .map(one -> new StepMeasurement(
                        one.step(), byStep.getOrDefault(one.step().index(), one.measurement())))
                .toList();
    }

    /** The tone of a sequence that is nearest to the reference frequency. */
    private int reference(List<Integer> sequence) {
        double wanted = programme.referenceHz().orElse(StepMeters.USUAL_REFERENCE_HZ);
        int nearest = sequence.get(0);
        for (int step : sequence) {
            double off = Math.abs(StrictMath.log(hertz(step) / wanted));
            if (off < Math.abs(StrictMath.log(hertz(nearest) / wanted))) {
                nearest = step;
            }
        }
        return nearest;
    }

    private double hertz(int step) {
        return Programme.toneHz(programme.steps().get(step));
    }

    private Measurement withResponse(int step, Measurement own, Optional<Measurement> reference) {
        List<Reading> readings = new ArrayList<>(own.readings());
        for (int channel = 1; channel <= Math.min(2, channels); channel++) {
            int number = channel;
            Optional<Reading> level = own.find(Quantity.LEVEL, channel);
            Optional<Reading> re = reference.flatMap(one -> one.find(Quantity.LEVEL, number));
            if (level.isPresent()) {
                readings.add(response(level.get(), re).onChannel(channel).atFrequency(hertz(step)));
            }
        }
        return new Measurement(readings, own.warnings());
    }

    private static Reading response(Reading level, Optional<Reading> reference) {
        if (reference.isEmpty()) {
            return Reading.without(Quantity.RESPONSE, Status.NO_CARRIER, RESPONSE_METHOD);
        }
        Reading re = reference.get();
        if (!level.isValid() || !re.isValid()) {
            return Reading.without(Quantity.RESPONSE, level.isValid() ? re.status() : level.status(), RESPONSE_METHOD);
        }
        Reading response = Reading.valid(
                Quantity.RESPONSE, level.value().orElseThrow() - re.value().orElseThrow(), RESPONSE_METHOD);
        if (level.equals(re) || level.typeA().isEmpty() || re.typeA().isEmpty()) {
            return response;
        }
        return response.withTypeA(level.typeA().get().and(re.typeA().get()));
    }
}
