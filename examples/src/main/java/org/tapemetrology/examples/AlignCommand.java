/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.BufferedReader;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.PrintStream;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.alignment.AlignmentPlan;
import org.tapemetrology.core.alignment.GuidedAlignment;
import org.tapemetrology.core.alignment.Instruction;
import org.tapemetrology.core.alignment.Outcome;
import org.tapemetrology.core.alignment.Request;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.TestTape;
import org.tapemetrology.examples.bench.Bench;
import org.tapemetrology.examples.bench.Conversation;
import org.tapemetrology.examples.bench.RecordedBench;
import org.tapemetrology.examples.bench.VirtualBench;
import org.tapemetrology.examples.files.Failures;
import org.tapemetrology.signals.recorder.VirtualRecorder;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Leads through an alignment trimmer by trimmer, from recordings of a real machine or on a virtual one. */
@Command(
        name = "align",
        mixinStandardHelpOptions = true,
        description =
                "Leads through the alignment of a machine in the trade's order: says what to play or record and which trimmer to turn how far, takes the recording, and repeats until each trimmer is set or found unable to. On a machine of two heads the record side takes at most five rounds of record, rewind, replay. With --practise a virtual recorder is on the table.",
        footer = {
            "",
            "Before a reference tape is loaded: path demagnetised, recording disabled, tape handling tried with a scrap tape.",
            "A live chassis is only for those qualified: see 'workbench --help'.",
            "Exit status: 0 where everything ended within its tolerance, 2 where not, 64 for wrong usage."
        })
final class AlignCommand implements Callable<Integer> {
    private final InputStream in;
    private final PrintStream out;

    @Spec
    private CommandSpec spec = CommandSpec.create();

    @Option(names = "--format", paramLabel = "FORMAT", description = "cassette (the default) or open-reel")
    private String format = "cassette";

    @Option(names = "--heads", paramLabel = "N", description = "heads: 2 (the default) or 3")
    private int heads = 2;

    @Option(names = "--channels", paramLabel = "N", description = "channels: 1 or 2 (the default)")
    private int channels = 2;

    @Option(
            names = "--reference-dbfs",
            paramLabel = "DBFS",
            description = "what the reference level is at the converter, -12 without this")
    private double referenceDbfs = -12;

    @Option(
            names = "--over-bias-drop",
            paramLabel = "DB",
            description =
                    "drop beyond the peak of the bias that the maker of the tape states, at 6.3 kHz for cassette, 10 kHz for open reel; 2.5 without this")
    private double overBiasDropDb = 2.5;

    @Mixin
    private InstrumentOptions instruments = new InstrumentOptions();

    @Option(
            names = "--session",
            paramLabel = "FILE",
            description =
                    "keeps the answers; those already there are taken first, so an alignment goes on where it was left")
    private @Nullable Path session;

    @Option(names = "--sounds", paramLabel = "DIR", description = "folder for the tones to be sent, as WAV files")
    private @Nullable Path sounds;

    @Option(names = "--practise", paramLabel = "SEED", description = "align a virtual recorder of this number instead")
    private @Nullable Long practise;

    AlignCommand(InputStream in, PrintStream out) {
        this.in = in;
        this.out = out;
    }

    @Override
    public Integer call() throws IOException {
        if (practise != null) {
            VirtualBench bench = new VirtualBench(VirtualRecorder.maladjusted(practise), practise);
            return align(bench, bench.plan());
        }
        AlignmentPlan plan = plan();
        if (sounds != null && !Files.isDirectory(sounds)) {
            throw new IOException(sounds + ": no such folder");
        }
        try (Dialogue person = new Dialogue(in, out, session)) {
            return align(
                    new RecordedBench(
                            plan,
                            instruments.tape().orElseGet(TestTape::assumed),
                            instruments.converter().orElseGet(Converter::assumed),
                            person,
                            Optional.ofNullable(sounds)),
                    plan);
        }
    }

    private AlignmentPlan plan() {
        try {
            return switch (format) {
                case "cassette" -> AlignmentPlan.cassette(heads, channels, referenceDbfs, overBiasDropDb);
                case "open-reel" -> AlignmentPlan.openReel(heads, channels, referenceDbfs, overBiasDropDb);
                default -> throw new IllegalArgumentException("format " + format + " is not cassette or open-reel");
            };
        } catch (IllegalArgumentException wrong) {
            throw new ParameterException(spec.commandLine(), Failures.message(wrong), wrong);
        }
    }

    private int align(Bench bench, AlignmentPlan plan) throws IOException {
        GuidedAlignment guide = new GuidedAlignment(plan);
        try {
            for (Optional<Request> next = guide.next(); next.isPresent(); next = guide.next()) {
                List<Instruction> said = guide.take(bench.perform(next.get(), guide::stopped));
                for (Instruction instruction : said) {
                    out.println("  " + instruction.sentence());
                }
            }
        } catch (EOFException ended) {
            out.println("Ended before everything was set; it stands so:");
        }
        report(guide, out);
        return guide.isReached() ? Workbench.ALL_MEASURED : Workbench.SOMETHING_FAILED;
    }

    /** How each thing ended. */
    static void report(GuidedAlignment guide, PrintStream out) {
        out.println();
        for (Outcome outcome : guide.outcomes()) {
            out.printf(
                    Locale.ROOT,
                    "%-9s %-20s %s%n",
                    outcome.state().isReached() ? "set" : "not set",
                    outcome.step().id(),
                    outcome.sentence());
        }
        out.printf(
                Locale.ROOT,
                "%s, with %d recordings of the machine's own.%n",
                guide.isReached() ? "Everything is within its tolerance" : "Not everything is within its tolerance",
                guide.ownRecordings());
    }

    /** A person at standard input, whose answers may be kept. */
    private static final class Dialogue implements Conversation, AutoCloseable {
        /** Far more than a person ever answers: another file was named by mistake. */
        private static final long MOST_BYTES = 1 << 20;

        private final PrintStream out;
        private final BufferedReader in;
        private final @Nullable Path kept;
        private final Deque<String> before = new ArrayDeque<>();

        Dialogue(InputStream in, PrintStream out, @Nullable Path kept) throws IOException {
            this.out = out;
            this.kept = kept;
            this.in = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8));
            if (kept != null && Files.exists(kept)) {
                if (Files.size(kept) > MOST_BYTES) {
                    throw new IOException(kept + ": " + Files.size(kept) + " bytes are more than " + MOST_BYTES);
                }
                try {
                    before.addAll(Files.readAllLines(kept));
                } catch (CharacterCodingException wrong) {
                    throw new IOException(kept + ": is no text in UTF-8", wrong);
                }
            }
        }

        @Override
        public void say(String line) {
            out.println(line);
        }

        @Override
        public String answer() throws IOException {
            String earlier = before.poll();
            if (earlier != null) {
                out.println("> " + earlier);
                return earlier;
            }
            out.print("> ");
            out.flush();
            String line = in.readLine();
            if (line == null || line.strip().equals("quit")) {
                throw new EOFException("no further answer");
            }
            if (kept != null) {
                Files.writeString(
                        kept,
                        line.strip() + System.lineSeparator(),
                        StandardOpenOption.CREATE,
                        StandardOpenOption.APPEND);
            }
            return line.strip();
        }

        @Override
        public void close() throws IOException {
            in.close();
        }
    }
}
