/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.recording;

import java.io.IOException;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.flutter.ToneMeter;
import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.core.programme.ProgrammeMeasurement;
import org.tapemetrology.core.programme.RecognisedStep;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.core.uncertainty.ReadingBudgets;
import org.tapemetrology.core.wav.WavDamage;
import org.tapemetrology.core.wav.WavFormat;
import org.tapemetrology.core.wav.WavReader;
import org.tapemetrology.examples.files.Failures;

/** A recording that is to be measured: which file, and which part of it. */
public record Recording(String file, double fromSeconds, double toSeconds) {
    private static final int FRAMES = 4096;

    /** Why a recording could not be measured. */
    public record Failure(String code, String message) {}

    /** What became of it; the rate and channels are 0 where they are not known. */
    public record Result(
            String file,
            int sampleRateHz,
            int channels,
            double durationSeconds,
            Measurement measurement,
            Optional<Failure> error) {

        /** This result with other uncertainties. */
        public Result with(Measurement other) {
            return new Result(file, sampleRateHz, channels, durationSeconds, other, error);
        }

        public static Result failed(String file, Exception cause) {
            String code = cause instanceof IOException ? "unreadable" : "not-measurable";
            return new Result(
                    file,
                    0,
                    0,
                    0,
                    new Measurement(List.of(), List.of()),
                    Optional.of(new Failure(code, Failures.message(cause))));
        }
    }

    /** A measurement with the meter that made it. */
    public record Measured(Result result, RecordingMeter meter) {}

    public Result measure(MeterSettings settings, Progress progress) throws IOException {
        return measured(settings, progress).result();
    }

    /** Measures, and keeps the meter for what else it knows. */
    public Measured measured(MeterSettings settings, Progress progress) throws IOException {
        try (WavReader reader = open()) {
            requireMeasurable(reader.format(), file);
            int rate = reader.format().sampleRateHz();
            int channels = reader.format().channels();
            RecordingMeter meter = meter(settings, rate, channels);
            feed(reader, meter::accept, progress);
            double offset = Math.min(fromFrame(rate), reader.framesRead()) / (double) rate;
            Measurement part = shifted(meter.reading(), offset);
            Measurement measurement = withDamage(part, reader);
            return new Measured(
                    new Result(
                            file, rate, channels, reader.framesRead() / (double) rate, measurement, Optional.empty()),
                    meter);
        }
    }

    /** Refuses what no meter takes. */
    public static void requireMeasurable(WavFormat format, String name) {
        int rate = format.sampleRateHz();
        if (rate < ToneMeter.LOWEST_SAMPLE_RATE_HZ || rate > ToneMeter.HIGHEST_SAMPLE_RATE_HZ) {
            throw new IllegalArgumentException(name + ": the sampling rate of " + rate + " Hz is not in "
                    + ToneMeter.LOWEST_SAMPLE_RATE_HZ + " to " + ToneMeter.HIGHEST_SAMPLE_RATE_HZ + " Hz");
        }
        if (format.channels() > RecordingMeter.MOST_CHANNELS) {
            throw new IllegalArgumentException(name + ": " + format.channels() + " channels are more than "
                    + RecordingMeter.MOST_CHANNELS + " can be measured");
        }
    }

    /** The measurement with what is wrong with its file. */
    public static Measurement withDamage(Measurement measurement, WavReader reader) {
        return reader.damage()
                .map(damage -> measurement.withWarning(
                        Warning.of(WarningCode.DAMAGED_FILE, damage.message() + "; what is whole was measured")))
                .orElse(measurement);
    }

    /** A recording of a programme: what it is, and the readings of each step. */
    public record OfProgramme(
            Result result, List<ProgrammeMeasurement.StepMeasurement> steps, ReadingBudgets budgets) {}

    /** Recognises and measures the steps of a programme, with the errors of tape and converter as they are set. */
    public OfProgramme measured(Programme programme, MeterSettings settings, Progress progress) throws IOException {
        if (file.equals("-")) {
            throw new IllegalArgumentException("a programme is read twice: standard input cannot be");
        }
        int rate;
        int channels;
        long frames;
        Optional<WavDamage> damage;
        try (WavReader reader = open()) {
            rate = reader.format().sampleRateHz();
            channels = reader.format().channels();
            skipAll(reader);
            frames = reader.framesRead();
            damage = reader.damage();
        }
        ProgrammeMeasurement.Result measured;
        try {
            measured = settings.measurement(programme, rate, channels).measure(sink -> {
                try (WavReader reader = open()) {
                    feed(reader, sink, progress);
                }
            });
        } catch (IllegalArgumentException wrong) {
            throw new IllegalArgumentException(file + ": " + wrong.getMessage(), wrong);
        }
        double offset = Math.min(fromFrame(rate), frames) / (double) rate;
        ReadingBudgets budgets =
                new ReadingBudgets(settings.setup().testTape(), settings.setup().converter());
        List<Warning> warnings = new ArrayList<>(
                shifted(new Measurement(List.of(), measured.recognition().warnings()), offset)
                        .warnings());
        List<Reading> readings = new ArrayList<>();
        List<ProgrammeMeasurement.StepMeasurement> steps = new ArrayList<>();
        for (ProgrammeMeasurement.StepMeasurement one : MaximumOutput.added(programme, measured.steps())) {
            Measurement part = shifted(budgets.applied(one.measurement()), offset);
            RecognisedStep step = one.step();
            steps.add(new ProgrammeMeasurement.StepMeasurement(
                    new RecognisedStep(
                            step.index(),
                            step.name(),
                            step.fromSeconds() + offset,
                            step.toSeconds() + offset,
                            step.speedRatio(),
                            step.confidence(),
                            step.complete()),
                    part));
            readings.addAll(part.readings());
            part.warnings()
                    .forEach(w -> warnings.add(new Warning(
                            w.code(), w.channel(), step.name() + ": " + w.message(), w.fromSeconds(), w.toSeconds())));
        }
        Fringing.warning(new Measurement(readings, List.of()), settings.setup()).ifPresent(warnings::add);
        damage.ifPresent(found ->
                warnings.add(Warning.of(WarningCode.DAMAGED_FILE, found.message() + "; what is whole was measured")));
        return new OfProgramme(
                new Result(
                        file,
                        rate,
                        channels,
                        frames / (double) rate,
                        new Measurement(readings, warnings),
                        Optional.empty()),
                steps,
                budgets);
    }

    private static void skipAll(WavReader reader) throws IOException {
        float[] block = new float[FRAMES * reader.format().channels()];
        int frames;
        do {
            frames = reader.read(block, 0, FRAMES);
        } while (frames >= 0);
    }

    private RecordingMeter meter(MeterSettings settings, int rate, int channels) {
        try {
            return settings.meter(rate, channels);
        } catch (IllegalArgumentException wrong) {
            throw new IllegalArgumentException(file + ": " + wrong.getMessage(), wrong);
        }
    }

    private WavReader open() throws IOException {
        if (file.equals("-")) {
            return WavReader.of(System.in, "standard input");
        }
        try {
            return WavReader.open(Path.of(file));
        } catch (InvalidPathException wrong) {
            throw new IOException(file + ": not a file name: " + wrong.getReason(), wrong);
        }
    }

    private long fromFrame(int rate) {
        return Math.round(fromSeconds * rate);
    }

    /** Reads the whole file, so that its damage is known, and measures the part that was asked for. */
    private void feed(WavReader reader, ProgrammeMeasurement.Sink meter, Progress progress) throws IOException {
        int rate = reader.format().sampleRateHz();
        int channels = reader.format().channels();
        long from = fromFrame(rate);
        long to = toSeconds < Long.MAX_VALUE / (double) rate ? Math.round(toSeconds * rate) : Long.MAX_VALUE;
        float[] block = new float[FRAMES * channels];
        progress.begin();
        long at = 0;
        for (int frames = reader.read(block, 0, FRAMES); frames >= 0; frames = reader.read(block, 0, FRAMES)) {
            int skip = (int) Math.min(frames, Math.max(0, from - at));
            int end = (int) Math.min(frames, Math.max(0, to - at));
            if (end > skip) {
                meter.accept(block, skip * channels, end - skip);
            }
            at += frames;
            progress.at(file, at / (double) rate);
        }
        progress.end();
    }

    /** Times as those of the whole recording. */
    private static Measurement shifted(Measurement part, double offsetSeconds) {
        if (offsetSeconds == 0) {
            return part;
        }
        List<Reading> readings = part.readings().stream()
                .map(r -> r.atSeconds().isPresent() ? r.atTime(r.atSeconds().getAsDouble() + offsetSeconds) : r)
                .toList();
        List<Warning> warnings = part.warnings().stream()
                .map(w -> new Warning(
                        w.code(),
                        w.channel(),
                        w.message(),
                        plus(w.fromSeconds(), offsetSeconds),
                        plus(w.toSeconds(), offsetSeconds)))
                .toList();
        return new Measurement(readings, warnings);
    }

    private static OptionalDouble plus(OptionalDouble seconds, double offset) {
        return seconds.isPresent() ? OptionalDouble.of(seconds.getAsDouble() + offset) : seconds;
    }
}
