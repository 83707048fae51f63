/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import com.code_intelligence.jazzer.api.FuzzedDataProvider;
import com.code_intelligence.jazzer.junit.FuzzTest;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;
import org.tapemetrology.signals.wav.WavEncoding;
import org.tapemetrology.signals.wav.WavWriter;

/**
 * Any arguments end with one of the three statuses and a message for a person. Commands that take long whatever they are given
 * (demo, conformance, practise) are left out, and what {@code generate} writes is kept short.
 */
@Tag("fuzz")
class CommandLineFuzzTest {
    private static final int MOST_ARGUMENTS = 6;
    private static final int LONGEST = 12;
    private static final int MOST_INPUT = 4000;
    private static final int RATE_HZ = 8000;

    /** What a person should never read: exceptions by name, and what the virtual machine says of a fault in a program. */
    private static final Pattern FAULT =
            Pattern.compile("Exception|Error:|out of bounds|Cannot invoke|Cannot read|cannot be cast|\\tat ");

    @TempDir
    static Path folder;

    private static List<List<String>> beginnings = List.of();
    private static List<String> words = List.of();

    @BeforeAll
    static void files() throws IOException {
        double[][] tone = new double[2][2 * RATE_HZ];
        for (int i = 0; i < tone[0].length; i++) {
            tone[0][i] = 0.25 * Math.sin(2 * Math.PI * 3150 * i / RATE_HZ);
            tone[1][i] = tone[0][i] / 2;
        }
        Path wav = folder.resolve("tone.wav");
        try (WavWriter writer = WavWriter.to(wav)
                .sampleRateHz(RATE_HZ)
                .channels(2)
                .encoding(WavEncoding.PCM_16)
                .create()) {
            writer.write(tone);
        }
        Path service = folder.resolve("service.json");
        Files.writeString(
                service,
                "{\"machine\":{\"name\":\"archive recorder\"},\"recordings\":[{\"step\":\"speed\",\"stage\":\"before\",\"file\":\"tone.wav\",\"date\":\"2026-11-25\"}]}");
        Path parts = folder.resolve("transport.json");
        Files.writeString(
                parts,
                "{\"speedMmPerSecond\":47.6,\"parts\":[{\"name\":\"capstan\",\"kind\":\"shaft\",\"diameterMm\":2}]}");
        Path empty = folder.resolve("empty");
        Files.createFile(empty);
        beginnings = List.of(
                List.of(),
                List.of("measure"),
                List.of("measure", "--format", "json", wav.toString()),
                List.of("diagnose", wav.toString()),
                List.of("diagnose", "--transport", parts.toString()),
                List.of("service", service.toString()),
                List.of(
                        "report",
                        service.toString(),
                        "--force",
                        "--out",
                        folder.resolve("report").toString()),
                List.of("check-converter"),
                List.of("align", "--session", folder.resolve("none.json").toString()),
                List.of("live"),
                List.of(
                        "generate",
                        "--seconds",
                        "0.01",
                        "--force",
                        "--out",
                        folder.resolve("out.wav").toString()));
        words = List.of(
                "--as",
                "--bias",
                "--budget",
                "--card",
                "--channels",
                "--companding",
                "--converter",
                "--date",
                "--direction",
                "--display",
                "--done",
                "--drift",
                "--dropout",
                "--flutter",
                "--format",
                "--from",
                "--heads",
                "--help",
                "--hiss",
                "--hum",
                "--interval-within",
                "--known",
                "--level",
                "--limits",
                "--lower",
                "--name",
                "--new",
                "--nominal",
                "--over-bias-drop",
                "--part",
                "--pcm",
                "--position",
                "--programme",
                "--rate",
                "--recorded",
                "--recording",
                "--reference",
                "--reference-dbfs",
                "--repair",
                "--rule",
                "--same-tone",
                "--samples",
                "--second-recorder",
                "--second-within",
                "--setup",
                "--silence",
                "--speed",
                "--speed-error",
                "--stage",
                "--step",
                "--tape",
                "--time",
                "--to",
                "--tone",
                "--true",
                "--unit",
                "--upper",
                "--value",
                "json",
                "tone",
                "noise",
                "speed",
                "azimuth",
                "before",
                "after",
                "iec-60386",
                "s16le",
                "0",
                "-1",
                "1",
                "2",
                "3150",
                "1e9",
                "NaN",
                "0.5:0.1:-20",
                "2026-11-25",
                wav.toString(),
                service.toString(),
                parts.toString(),
                empty.toString(),
                folder.toString(),
                "-");
    }

    @FuzzTest(maxDuration = "1h")
    void anyArgumentsEndWithAStatusAndAMessage(FuzzedDataProvider data) {
        List<String> arguments = new ArrayList<>(beginnings.get(data.consumeInt(0, beginnings.size() - 1)));
        int more = data.consumeInt(0, MOST_ARGUMENTS);
        for (int i = 0; i < more; i++) {
            // No folder but the test's own is written into.
            arguments.add(
                    data.consumeBoolean()
                            ? words.get(data.consumeInt(0, words.size() - 1))
                            : data.consumeAsciiString(LONGEST).replaceAll("[/\\\\]", "_"));
        }
        // What takes long, or answers for as long as it is asked.
        if (arguments.isEmpty()
                || Set.of("demo", "conformance", "practise", "--practise").contains(arguments.get(0))) {
            return;
        }
        byte[] input = data.consumeBytes(MOST_INPUT);
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ByteArrayOutputStream err = new ByteArrayOutputStream();
        InputStream before = System.in;
        // A file named "-" is read from there, where the test's own orders would come from.
        System.setIn(new ByteArrayInputStream(input));
        int status;
        try {
            status = Workbench.run(
                    System.in,
                    new PrintStream(out, true, StandardCharsets.UTF_8),
                    new PrintStream(err, true, StandardCharsets.UTF_8),
                    arguments.toArray(String[]::new));
        } finally {
            System.setIn(before);
        }
        String said = err.toString(StandardCharsets.UTF_8);
        String ownWords = said;
        for (String argument : arguments) {
            ownWords = argument.isEmpty() ? ownWords : ownWords.replace(argument, "");
        }
        if (!Set.of(Workbench.ALL_MEASURED, Workbench.SOMETHING_FAILED, Workbench.WRONG_USAGE)
                .contains(status)) {
            throw new IllegalStateException(arguments + " ended with " + status);
        }
        if (FAULT.matcher(ownWords).find()) {
            throw new IllegalStateException(arguments + " said " + said);
        }
        if (status != Workbench.ALL_MEASURED && said.isBlank() && out.size() == 0) {
            throw new IllegalStateException(arguments + " ended with " + status + " and said nothing");
        }
    }
}
