/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.net.URISyntaxException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.spi.ToolProvider;
import org.jspecify.annotations.NullMarked;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The packaged jars from outside: the workbench as a process, and the two libraries on class path, module path, linked. */
class PackagedIT {
    private static final String CORE = jar("coreJar");
    private static final String SIGNALS = jar("signalsJar");
    private static final String WORKBENCH = jar("workbenchJar");

    @TempDir
    private Path folder;

    private static String jar(String property) {
        String path = System.getProperty(property);
        assertThat(path).as("system property " + property).isNotNull();
        assertThat(Path.of(path)).isRegularFile();
        return path;
    }

    private static final String MODULE = """
            module consumer {
                requires org.tapemetrology.core;
                requires org.tapemetrology.signals;
            }
            """;

    private static final String PROGRAM = """
            package consumer;

            import org.tapemetrology.core.RecordingMeter;
            import org.tapemetrology.core.quantity.Quantity;
            import org.tapemetrology.signals.FmTone;
            import org.tapemetrology.signals.SampledSignal;

            public class Main {
                public static void main(String[] args) {
                    var tone = FmTone.builder(3150).amplitude(0.5).speedError(0.01).sine(4, 0.001).build();
                    float[] samples = new float[12 * 44100];
                    SampledSignal.of(tone, 44100).fill(0, samples, 0, samples.length);
                    var meter = RecordingMeter.builder(44100, 1).nominalHz(3150).build();
                    meter.accept(samples, 0, samples.length);
                    var reading = meter.reading();
                    System.out.printf(java.util.Locale.ROOT, "%s %.2f %.3f%n", RecordingMeter.class.getModule().isNamed(),
                            reading.find(Quantity.SPEED_ERROR).get().value().getAsDouble(),
                            reading.find(Quantity.FLUTTER_WEIGHTED_TWO_SIGMA).get().value().getAsDouble());
                }
            }
            """;

    @BeforeEach
    void writeProgram() throws IOException {
        Files.createDirectories(folder.resolve("src/consumer"));
        Files.writeString(folder.resolve("src/module-info.java"), MODULE);
        Files.writeString(folder.resolve("src/consumer/Main.java"), PROGRAM);
    }

    private void tool(String name, String... arguments) {
        StringWriter said = new StringWriter();
        PrintWriter writer = new PrintWriter(said);
        int status = ToolProvider.findFirst(name).orElseThrow().run(writer, writer, arguments);
        assertThat(status).as(said.toString()).isZero();
        // A module that is not fit to be published draws a warning here.
        assertThat(said.toString()).doesNotContain("warning");
    }

    private static String run(Object... command) {
        try {
            List<String> words = new ArrayList<>();
            for (Object word : command) {
                words.add(word.toString());
            }
            Process process =
                    new ProcessBuilder(words).redirectErrorStream(true).start();
            String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
            assertThat(process.waitFor(60, TimeUnit.SECONDS)).isTrue();
            assertThat(process.exitValue()).as(said).isZero();
            return said;
        } catch (IOException failed) {
            throw new UncheckedIOException(failed);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException(interrupted);
        }
    }

    private static Path java() {
        return Path.of(System.getProperty("java.home"), "bin", "java");
    }

    /** The null-ness annotations, which both jars ask for when something is compiled against them, and only then. */
    private static String annotations() {
        try {
            return Path.of(NullMarked.class
                            .getProtectionDomain()
                            .getCodeSource()
                            .getLocation()
                            .toURI())
                    .toString();
        } catch (URISyntaxException wrong) {
            throw new IllegalStateException(wrong);
        }
    }

    private void compileModule() {
        tool(
                "javac",
                "-Xlint:all,-exports",
                "-Werror",
                "--module-path",
                String.join(File.pathSeparator, CORE, SIGNALS, annotations()),
                "-d",
                folder.resolve("consumer").toString(),
                folder.resolve("src/module-info.java").toString(),
                folder.resolve("src/consumer/Main.java").toString());
    }

    @Test
    void onTheModulePath() {
        compileModule();
        String modulePath = String.join(
                File.pathSeparator, CORE, SIGNALS, folder.resolve("consumer").toString());
        // 1 % fast; two-sigma of a sine of 0.1 % is 0.0997 %.
        assertThat(run(java(), "--module-path", modulePath, "-m", "consumer/consumer.Main"))
                .isEqualToIgnoringNewLines("true 1.00 0.100");
    }

    @Test
    void linkedIntoAnImage() {
        compileModule();
        Path image = folder.resolve("image");
        tool(
                "jlink",
                "--module-path",
                String.join(
                        File.pathSeparator,
                        CORE,
                        SIGNALS,
                        folder.resolve("consumer").toString()),
                "--add-modules",
                "consumer",
                "--output",
                image.toString());
        assertThat(run(image.resolve("bin/java"), "-m", "consumer/consumer.Main"))
                .isEqualToIgnoringNewLines("true 1.00 0.100");
    }

    @Test
    void onTheClassPath() {
        String classPath = CORE + File.pathSeparator + SIGNALS;
        tool(
                "javac",
                "-cp",
                classPath,
                "-d",
                folder.resolve("classes").toString(),
                folder.resolve("src/consumer/Main.java").toString());
        assertThat(run(java(), "-cp", classPath + File.pathSeparator + folder.resolve("classes"), "consumer.Main"))
                .isEqualToIgnoringNewLines("false 1.00 0.100");
    }

    @Test
    void workbenchAsAProcess() {
        Path tone = folder.resolve("tone.wav");
        run(java(), "-jar", WORKBENCH, "generate", "--out", tone, "--seconds", "9");
        String line = run(java(), "-Xmx64m", "-jar", WORKBENCH, "measure", "--format", "json", tone);
        assertThat(line)
                .startsWith("{\"schema\":\"org.tapemetrology.measurement/1\"")
                .contains("\"status\":\"valid\"");
    }

    /** The reference test suites fit into the memory of a small board. */
    @Test
    void everySuiteInLittleMemory() {
        assertThat(run(java(), "-Xmx256m", "-jar", WORKBENCH, "conformance"))
                .endsWith("0 conform, 0 fail, 0 not read\n");
    }

    /** Whoever interrupts while the reading thread waits for samples gets the result of what came, once, and status 0. */
    @Test
    void anInterruptedLiveMeasurementPrintsItsResult() throws IOException, InterruptedException {
        Process process = new ProcessBuilder(
                        java().toString(),
                        "-jar",
                        WORKBENCH,
                        "live",
                        "--rate",
                        "8000",
                        "--channels",
                        "1",
                        "--display",
                        "none")
                .redirectError(folder.resolve("err.txt").toFile())
                .start();
        int seconds = 12;
        byte[] tone = new byte[2 * 8000 * seconds];
        for (int i = 0; i < 8000 * seconds; i++) {
            int sample = (int) Math.round(10_000 * Math.sin(2 * Math.PI * 3000 * i / 8000));
            tone[2 * i] = (byte) sample;
            tone[2 * i + 1] = (byte) (sample >> 8);
        }
        // When it is written, all but what pipe and reader hold, 128 KiB or 8 s, has been measured.
        process.getOutputStream().write(tone);
        process.getOutputStream().flush();
        process.toHandle().destroy();
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertThat(process.waitFor(60, TimeUnit.SECONDS)).isTrue();
        assertThat(process.exitValue()).isZero();
        assertThat(said.lines()).singleElement().asString().contains("\"tone.frequency\"", "\"error\":null");
        assertThat(folder.resolve("err.txt")).isEmptyFile();
    }
}
