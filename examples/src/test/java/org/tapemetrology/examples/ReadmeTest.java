/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What the README shows is what happens. */
class ReadmeTest {
    @TempDir
    private Path folder;

    private static String readme() throws IOException {
        return Files.readString(Path.of("..", "README.md"));
    }

    @Test
    void theProgramPrintsWhatTheReadmeShows() throws IOException {
        Path tone = folder.resolve("tone.wav");
        PrintStream nowhere = new PrintStream(new ByteArrayOutputStream(), true, StandardCharsets.UTF_8);
        int status = Workbench.run(
                nowhere,
                nowhere,
                "generate",
                "--out",
                tone.toString(),
                "--seconds",
                "40",
                "--speed-error",
                "0.5",
                "--flutter",
                "4:0.1");
        assertThat(status).isZero();
        ByteArrayOutputStream printed = new ByteArrayOutputStream();
        PrintStream before = System.out;
        System.setOut(new PrintStream(printed, true, StandardCharsets.UTF_8));
        try {
            FirstReading.main(new String[] {tone.toString()});
        } finally {
            System.setOut(before);
        }
        String[] lines = printed.toString(StandardCharsets.UTF_8).split("\\R");
        assertThat(lines).hasSizeGreaterThan(15);
        String shown = readme();
        for (String line : lines) {
            // The README leaves out further figures of the same kind, but none that it shows may differ.
            String id = line.substring(0, line.indexOf(' '));
            if (shown.contains("\n" + id + " ")) {
                assertThat(shown).contains("\n" + line + "\n");
            }
        }
    }

    @Test
    void theProgramOfTheReadmeIsTheExample() throws IOException {
        Path source = Path.of("src/main/java/org/tapemetrology/examples/FirstReading.java");
        String example = Files.readString(source).replaceAll("\\s+", "");
        String readme = readme();
        String program = readme.substring(
                readme.indexOf("for (Reading reading"), readme.indexOf("```", readme.indexOf("for (Reading reading")));
        assertThat(example).contains(program.replaceAll("\\s+", "").replaceAll("}+$", ""));
    }

    @Test
    void theReadmeIsShort() throws IOException {
        assertThat(readme().split("\\s+")).hasSizeLessThan(600);
    }
}
