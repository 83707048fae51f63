/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.bench;

import java.io.IOException;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.tapemetrology.core.RequestMeter;
import org.tapemetrology.core.alignment.AlignmentPlan;
import org.tapemetrology.core.alignment.Request;
import org.tapemetrology.core.alignment.Take;
import org.tapemetrology.core.alignment.Turn;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.TestTape;
import org.tapemetrology.core.wav.WavReader;
import org.tapemetrology.examples.files.Failures;

/**
 * A real machine on the table: a person does what is asked for and answers with the name of the recording. An answer that
 * cannot be used is told why, and asked for again.
 */
public final class RecordedBench implements Bench {
    private static final int BLOCK = 4096;
    /** More takes than this are alike and told once. */
    private static final int LISTED = 10;

    private static final String DONE = "done";
    private static final String STOP = "stop";

    private final AlignmentPlan plan;
    private final TestTape tape;
    private final Converter converter;
    private final Conversation person;
    private final Optional<Path> sounds;
    private int rounds;

    /**
     * A bench.
     *
     * @param plan what is aligned
     * @param tape the test tape
     * @param converter the converter
     * @param person who does it
     * @param sounds folder where the tones to be sent are written, empty where the person has a generator
     */
    public RecordedBench(
            AlignmentPlan plan, TestTape tape, Converter converter, Conversation person, Optional<Path> sounds) {
        this.plan = plan;
        this.tape = tape;
        this.converter = converter;
        this.person = person;
        this.sounds = sounds;
    }

    @Override
    public List<Measurement> perform(Request request, Consumer<String> stopped) throws IOException {
        tell(request);
        while (true) {
            String answer = person.answer();
            try {
                return taken(request, answer, stopped);
            } catch (IOException | IllegalArgumentException unusable) {
                person.say("  " + Failures.message(unusable));
            }
        }
    }

    private void tell(Request request) throws IOException {
        person.say("");
        person.say(request.step().id() + ": " + request.sentence());
        request.before().forEach(turn -> person.say("  Turn " + words(turn) + "."));
        boolean alike = request.takes().size() > LISTED;
        for (Take take : alike ? request.takes().subList(0, 1) : request.takes()) {
            person.say("  Take: " + words(take) + (alike ? ", each" : ""));
        }
        request.between().forEach(turn -> person.say("  After each take turn " + words(turn) + "."));
        if (request.source() == Request.Source.OWN_RECORDING && sounds.isPresent()) {
            Path sound = sounds.get().resolve("round-" + ++rounds + ".wav");
            SentSound.write(request, plan.referenceDbfs(), plan.channels(), sound);
            person.say("  The tones to send, with pauses between the takes, are in " + sound);
        }
        person.say(
                request.takes().isEmpty()
                        ? "Answer '" + DONE + "'."
                        : "Answer with the recording: one WAV file of all takes with pauses between, or one for each; 'stop NAME' after it tells that a trimmer came to its stop.");
    }

    private static String words(Turn turn) {
        return String.format(
                Locale.ROOT,
                "%s %s by about %.2f of a turn",
                turn.trimmer(),
                turn.turns() > 0 ? "clockwise" : "counter-clockwise",
                Math.abs(turn.turns()));
    }

    private static String words(Take take) {
        return take.tones().stream()
                        .map(tone ->
                                String.format(Locale.ROOT, "%.0f Hz at %+.0f dB", tone.frequencyHz(), tone.levelDb()))
                        .collect(Collectors.joining(", "))
                + String.format(Locale.ROOT, "; %.0f s", take.seconds());
    }

    private List<Measurement> taken(Request request, String answer, Consumer<String> stopped) throws IOException {
        List<String> words =
                Stream.of(answer.split("\\s+")).filter(word -> !word.isEmpty()).toList();
        int stops = words.indexOf(STOP);
        List<String> files = stops < 0 ? words : words.subList(0, stops);
        List<String> trimmers = stops < 0 ? List.of() : words.subList(stops + 1, words.size());
        List<String> turned = Stream.concat(request.before().stream(), request.between().stream())
                .map(Turn::trimmer)
                .toList();
        for (String trimmer : trimmers) {
            if (!turned.contains(trimmer)) {
                throw new IOException(trimmer + " was not to be turned; those that were: " + turned);
            }
        }
        List<Measurement> measured = request.takes().isEmpty() ? byHand(files) : measured(request, files);
        trimmers.forEach(stopped);
        return measured;
    }

    private static List<Measurement> byHand(List<String> words) throws IOException {
        if (!words.equals(List.of(DONE))) {
            throw new IOException("answer '" + DONE + "' when it is done");
        }
        return List.of();
    }

    private List<Measurement> measured(Request request, List<String> files) throws IOException {
        int takes = request.takes().size();
        if (files.size() != 1 && files.size() != takes) {
            throw new IOException(files.size() + " files for " + takes + " takes; give one, or one for each");
        }
        List<Path> paths = new ArrayList<>();
        for (String file : files) {
            paths.add(path(file));
        }
        List<TakeFinder.Span> spans = new ArrayList<>();
        if (files.size() == 1) {
            spans.addAll(TakeFinder.find(paths.get(0), request.takes()));
        } else {
            for (int i = 0; i < takes; i++) {
                spans.addAll(
                        TakeFinder.find(paths.get(i), List.of(request.takes().get(i))));
            }
        }
        RequestMeter meter = null;
        for (int i = 0; i < takes; i++) {
            try (WavReader reader = WavReader.open(paths.get(Math.min(i, paths.size() - 1)))) {
                if (meter == null) {
                    meter = meter(request, reader);
                }
                feed(reader, spans.get(i), meter);
            }
        }
        if (meter == null) {
            throw new IllegalStateException("a request without takes");
        }
        return meter.measurements();
    }

    private RequestMeter meter(Request request, WavReader reader) throws IOException {
        int channels = reader.format().channels();
        if (channels != plan.channels()) {
            throw new IOException("the recording has " + channels + " channel" + (channels == 1 ? "" : "s")
                    + ", the machine " + plan.channels());
        }
        return new RequestMeter(request, plan.referenceHz(), reader.format().sampleRateHz(), channels, tape, converter);
    }

    private static void feed(WavReader reader, TakeFinder.Span span, RequestMeter meter) throws IOException {
        float[] block = new float[BLOCK * reader.format().channels()];
        long at = 0;
        for (int frames = reader.read(block, 0, BLOCK); frames > 0; frames = reader.read(block, 0, BLOCK)) {
            int from = (int) Math.min(frames, Math.max(0, span.from() - at));
            int to = (int) Math.min(frames, Math.max(0, span.to() - at));
            if (to > from) {
                meter.accept(block, from * reader.format().channels(), to - from);
            }
            at += frames;
        }
        meter.endTake();
    }

    private static Path path(String file) throws IOException {
        try {
            return Path.of(file);
        } catch (InvalidPathException wrong) {
            throw new IOException(file + ": not a file name: " + wrong.getReason(), wrong);
        }
    }
}
