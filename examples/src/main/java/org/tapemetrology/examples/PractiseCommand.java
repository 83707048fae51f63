/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.Callable;
import org.tapemetrology.core.alignment.Request;
import org.tapemetrology.core.alignment.Request.Source;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.alignment.Take;
import org.tapemetrology.core.alignment.Turn;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.examples.bench.VirtualBench;
import org.tapemetrology.examples.files.Failures;
import org.tapemetrology.examples.output.MeasurementTable;
import org.tapemetrology.signals.recorder.ChannelTruth;
import org.tapemetrology.signals.recorder.RecorderTruth;
import org.tapemetrology.signals.recorder.Trimmer;
import org.tapemetrology.signals.recorder.VirtualRecorder;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;

/** A virtual recorder on the table, for a student to align by hand. */
@Command(
        name = "practise",
        mixinStandardHelpOptions = true,
        description =
                "Puts a maladjusted virtual recorder on the table. At standard input: turn its trimmers, play a test tape, record and replay, read what is measured; at the end look at the truth.")
final class PractiseCommand implements Callable<Integer> {
    private static final double USUAL_SECONDS = 10;
    private static final Set<Quantity> SHOWN = EnumSet.of(
            Quantity.SPEED_ERROR,
            Quantity.FLUTTER_WEIGHTED_QUASI_PEAK,
            Quantity.LEVEL,
            Quantity.CHANNEL_BALANCE,
            Quantity.AZIMUTH_DELAY,
            Quantity.DISTORTION_THIRD_HARMONIC,
            Quantity.RESPONSE);

    private final InputStream in;
    private final PrintStream out;

    @Parameters(
            index = "0",
            arity = "0..1",
            paramLabel = "SEED",
            description = "number of the machine: the same one is maladjusted in the same way (1)")
    private long seed = 1;

    PractiseCommand(InputStream in, PrintStream out) {
        this.in = in;
        this.out = out;
    }

    @Override
    public Integer call() throws IOException {
        VirtualRecorder machine = VirtualRecorder.maladjusted(seed);
        VirtualBench bench = new VirtualBench(machine, seed);
        out.printf(
                Locale.ROOT,
                "A recorder of %d channel%s and %d heads at %.2f cm/s. Its reference level is %.0f dBFS at %.0f Hz; the maker of the tape wants %.1f dB of over-bias at %.0f Hz.%n",
                machine.channels(),
                machine.channels() == 1 ? "" : "s",
                machine.threeHeads() ? 3 : 2,
                machine.speedMmPerSecond() / 10,
                machine.referenceDbfs(),
                machine.referenceHz(),
                bench.plan().overBiasDropDb(),
                bench.plan().biasHz());
        help(machine);
        BufferedReader lines = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8));
        while (true) {
            out.print("> ");
            out.flush();
            String line = lines.readLine();
            if (line == null || line.strip().equals("quit")) {
                return Workbench.ALL_MEASURED;
            }
            try {
                obey(line.strip().split("\\s+"), machine, bench);
            } catch (IOException | IllegalArgumentException | IllegalStateException wrong) {
                out.println("  " + Failures.message(wrong));
            }
        }
    }

    private void obey(String[] words, VirtualRecorder machine, VirtualBench bench) throws IOException {
        switch (words[0]) {
            case "" -> {}
            case "help" -> help(machine);
            case "turn" -> turn(words, machine);
            case "tape" -> sound(words, Source.TEST_TAPE, bench);
            case "record" -> sound(words, Source.OWN_RECORDING, bench);
            case "truth" -> truth(machine.truth());
            default ->
                throw new IllegalArgumentException(words[0] + " is none of turn, tape, record, truth, help, quit");
        }
    }

    private void help(VirtualRecorder machine) {
        out.println("  turn TRIMMER TURNS              clockwise; -0.1 is counter-clockwise. Trimmers:");
        out.println("      "
                + String.join(" ", machine.trimmers().stream().map(Trimmer::id).toList()));
        out.println("  tape HZ DB [SECONDS] [FILE]     play a test tape of a tone, level re the reference level");
        out.println("  record HZ,HZ,.. DB [SECONDS] [FILE]   record tones, rewind, replay");
        out.println("      with FILE the sound is written as WAV, for any meter; without it is measured here");
        out.println("  truth                           what the machine really is");
        out.println("  quit");
    }

    private void turn(String[] words, VirtualRecorder machine) {
        if (words.length != 3) {
            throw new IllegalArgumentException("turn takes a trimmer and a number of turns");
        }
        Trimmer trimmer = machine.trimmer(words[1]);
        trimmer.turn(new Turn(words[1], number(words[2])).turns());
        out.println(trimmer.atStop() ? "  turned, to its stop" : "  turned, about so far: a hand is a tenth off");
    }

    private void sound(String[] words, Source source, VirtualBench bench) throws IOException {
        if (words.length < 3 || words.length > 5) {
            throw new IllegalArgumentException(words[0] + " takes frequencies and a level");
        }
        TreeSet<Double> frequencies = new TreeSet<>();
        for (String each : words[1].split(",", -1)) {
            frequencies.add(number(each));
        }
        if (source == Source.TEST_TAPE && frequencies.size() > 1) {
            throw new IllegalArgumentException("the test tape has one tone at a time");
        }
        Take take = Take.tones(
                new ArrayList<>(frequencies), number(words[2]), words.length > 3 ? number(words[3]) : USUAL_SECONDS);
        if (words.length > 4) {
            bench.write(source, take, Path.of(words[4]));
            out.println("  written to " + words[4]);
            return;
        }
        Request request =
                new Request(ServiceStep.RECORD_SENSITIVITY, source, List.of(), List.of(), List.of(take), "practise");
        for (Measurement measured : bench.perform(request, trimmer -> {})) {
            measured.readings().stream()
                    .filter(reading -> SHOWN.contains(reading.quantity()))
                    .map((Reading reading) -> "  " + MeasurementTable.row(reading))
                    .forEach(out::println);
        }
    }

    private void truth(RecorderTruth truth) {
        out.printf(
                Locale.ROOT,
                "  speed %+.2f %%, delay of the replay head %+.1f us%n",
                truth.speedErrorPercent(),
                truth.replayAzimuthDelayMicroseconds());
        for (ChannelTruth channel : truth.channels()) {
            out.printf(
                    Locale.ROOT,
                    "  channel %d: replay level %+.2f dB, at 10 kHz %+.2f dB; record level %+.2f dB, at 10 kHz %+.2f dB; bias %+.2f dB%n",
                    channel.channel(),
                    channel.replayLevelDb(),
                    channel.replayResponseDb().get(10_000.0),
                    channel.recordReplayLevelDb(),
                    channel.recordReplayResponseDb().get(10_000.0),
                    channel.biasDb());
        }
        if (!truth.unreachable().isEmpty()) {
            out.println("  no trimmer mends: " + String.join(", ", truth.unreachable()));
        }
    }

    private static double number(String word) {
        try {
            return Double.parseDouble(word);
        } catch (NumberFormatException wrong) {
            throw new IllegalArgumentException(word + " is no number", wrong);
        }
    }
}
