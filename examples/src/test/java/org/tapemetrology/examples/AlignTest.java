/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class AlignTest {
    @TempDir
    Path folder;

    private static Outcome run(String input, String... arguments) {
        return Outcome.run(new ByteArrayInputStream(input.getBytes(StandardCharsets.UTF_8)), arguments);
    }

    @Test
    void anAlignmentGoesOnWhereItWasLeft() throws IOException {
        Path session = folder.resolve("machine-2.txt");
        Outcome first = run("done\n", "align", "--session", session.toString());
        assertThat(first.status()).isEqualTo(2);
        assertThat(first.out()).contains("cleaning: ").contains("Ended before everything was set");
        assertThat(Files.readAllLines(session)).containsExactly("done");
        Outcome second = run("done\nquit\n", "align", "--session", session.toString());
        assertThat(second.out()).contains("tape-handling: ").contains("speed: ").contains("3150 Hz at +0 dB; 15 s");
        assertThat(Files.readAllLines(session)).containsExactly("done", "done");
    }

    @Test
    void anotherFileIsNoSession() throws IOException {
        Path recording = folder.resolve("long.wav");
        Files.write(recording, new byte[(1 << 20) + 1]);
        Outcome large = run("done\n", "align", "--session", recording.toString());
        assertThat(large.status()).isNotZero();
        assertThat(large.err()).contains("long.wav: 1048577 bytes are more than 1048576");
        Files.write(recording, new byte[] {'d', 'o', (byte) 0xff, 'e'});
        Outcome noText = run("done\n", "align", "--session", recording.toString());
        assertThat(noText.status()).isNotZero();
        assertThat(noText.err()).contains("long.wav: is no text in UTF-8");
    }

    @Test
    void aWrongPlanIsWrongUsage() {
        assertThat(run("", "align", "--heads", "4").status()).isEqualTo(64);
        Outcome format = run("", "align", "--format", "wire");
        assertThat(format.status()).isEqualTo(64);
        assertThat(format.err()).contains("format wire is not cassette or open-reel");
        assertThat(run("", "align", "--sounds", folder.resolve("no").toString()).err())
                .contains("no such folder");
    }

    @Test
    void aStudentTurnsATrimmerAndReadsWhatItDid() {
        Outcome student = run(
                String.join(
                        "\n",
                        "tape 315 0 3",
                        "turn replay-level-1 0.1",
                        "tape 315 0 3",
                        "record 315,6300 -20 3",
                        "turn nothing 1",
                        "tape 315,1000 0",
                        "truth",
                        "fly",
                        "tape 315 0 2 " + folder.resolve("kept.wav"),
                        ""),
                "practise",
                "1");
        assertThat(student.status()).isZero();
        assertThat(student.out())
                .contains("A recorder of 2 channels and 2 heads")
                .contains("level")
                .contains("response")
                .contains("trimmer is nothing, allowed: ")
                .contains("the test tape has one tone at a time")
                .contains("fly is none of turn, tape, record, truth, help, quit")
                .containsPattern("channel 2: replay level [+-]\\d");
        assertThat(folder.resolve("kept.wav")).isNotEmptyFile();
    }
}
