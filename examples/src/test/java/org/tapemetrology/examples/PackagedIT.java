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
import java.util.Collections;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.jar.JarEntry;
import java.util.jar.JarFile;
import java.util.regex.Pattern;
import java.util.spi.ToolProvider;
import java.util.stream.Stream;
import org.jspecify.annotations.NullMarked;
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

    /** Sources of the project outside this build. */
    private static final Path CONSUMER = Path.of("consumer");

    private static final Path MODULE = CONSUMER.resolve("src/main/java/module-info.java");
    private static final Path PROGRAM = CONSUMER.resolve("src/main/java/consumer/Main.java");

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
                MODULE.toString(),
                PROGRAM.toString());
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
        tool("javac", "-cp", classPath, "-d", folder.resolve("classes").toString(), PROGRAM.toString());
        assertThat(run(java(), "-cp", classPath + File.pathSeparator + folder.resolve("classes"), "consumer.Main"))
                .isEqualToIgnoringNewLines("false 1.00 0.100");
    }

    /**
     * The project outside this build, by Maven from a local repository that holds the artefacts as they would be installed: its
     * versions come from the bill of materials alone.
     */
    @Test
    void aProjectOfItsOwnFromALocalRepository() throws IOException {
        Path repository = LocalRepository.in(folder.resolve("repository"))
                .with("tape-metrology", Path.of("../pom.xml"))
                .with("metrology-bom", Path.of("../bom/pom.xml"))
                .with("metrology-core", Path.of("../metrology-core/target/dependency-reduced-pom.xml"), Path.of(CORE))
                .with("reference-signals", Path.of("../reference-signals/pom.xml"), Path.of(SIGNALS))
                .root();
        Path project = folder.resolve("project");
        for (Path source : List.of(CONSUMER.resolve("pom.xml"), MODULE, PROGRAM)) {
            Path copy = project.resolve(CONSUMER.relativize(source));
            Files.createDirectories(copy.getParent());
            Files.copy(source, copy);
        }
        run(
                Path.of(System.getProperty("mavenHome"), "bin", "mvn"),
                "-B",
                "-o",
                "-Dmaven.repo.local=" + repository,
                "-f",
                project.resolve("pom.xml"),
                "compile");
        String classes = project.resolve("target/classes").toString();
        String libraries = CORE + File.pathSeparator + SIGNALS + File.pathSeparator;
        assertThat(run(java(), "--module-path", libraries + classes, "-m", "consumer/consumer.Main"))
                .isEqualToIgnoringNewLines("true 1.00 0.100");
        assertThat(run(java(), "-cp", libraries + classes, "consumer.Main"))
                .isEqualToIgnoringNewLines("false 1.00 0.100");
    }

    /** The programs for hobbyists as their page says: source file and jar of the core, no build. */
    @Test
    void aProgramForHobbyistsFromItsSource() {
        assertThat(run(java(), "-cp", CORE, "src/main/java/org/tapemetrology/examples/hobby/ArrayIn.java"))
                .contains("speed.error                    0.5000 %");
    }

    /** All programs for hobbyists, against the jar of the core and nothing else. */
    @Test
    void theProgramsForHobbyistsNeedTheCoreAlone() throws IOException {
        List<String> arguments = new ArrayList<>(
                List.of("-proc:none", "-cp", CORE, "-d", folder.resolve("hobby").toString()));
        try (Stream<Path> files = Files.list(Path.of("src/main/java/org/tapemetrology/examples/hobby"))) {
            files.filter(file -> !file.endsWith("package-info.java")).forEach(file -> arguments.add(file.toString()));
        }
        assertThat(arguments).hasSize(5 + 6);
        tool("javac", arguments.toArray(String[]::new));
    }

    /**
     * No class of the core looks anything up by name. Of the libraries inside its jar three have methods that do, for serialisation, a
     * percentile of another's making and printing, none of which the core calls: another one would have to be looked at.
     */
    @Test
    void theJarOfTheCoreReflectsOnNothing() throws IOException {
        Pattern lookUp =
                Pattern.compile("java/lang/reflect/(Method|Field|Constructor)|java/util/ServiceLoader|forName");
        List<String> reflecting = new ArrayList<>();
        try (JarFile jar = new JarFile(CORE)) {
            for (JarEntry entry : Collections.list(jar.entries())) {
                String constants = new String(jar.getInputStream(entry).readAllBytes(), StandardCharsets.ISO_8859_1);
                if (entry.getName().endsWith(".class")
                        && lookUp.matcher(constants).find()) {
                    reflecting.add(entry.getName().replace("org/tapemetrology/core/", ""));
                }
            }
        }
        assertThat(reflecting)
                .containsExactlyInAnyOrder(
                        "internal/math3/stat/descriptive/DescriptiveStatistics.class",
                        "internal/math3/linear/MatrixUtils.class",
                        "internal/ejml/UtilEjml.class");
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
