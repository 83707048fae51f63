/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.tapemetrology.examples.files.ProgrammeFile;
import org.tapemetrology.examples.service.ServiceFile;

/** Files that mean harm are refused with a sentence, before they cost memory, and write nothing anywhere. */
class HostileFilesTest {
    @TempDir
    private Path folder;

    private static Stream<Arguments> texts() {
        return Stream.of(
                // Deeper than any stack: a reader that recurses must stop before.
                Arguments.of("deep lists", "{\"name\":" + "[".repeat(500_000)),
                Arguments.of("deep objects", "{\"a\":".repeat(200_000)),
                Arguments.of("a number of 900 000 digits", "{\"referenceHz\":" + "9".repeat(900_000) + "}"),
                Arguments.of("a name of 900 000 letters", "{\"" + "a".repeat(900_000) + "\":1}"),
                Arguments.of("more than a description needs", "{\"name\":\"" + "a".repeat(1 << 20) + "\"}"),
                Arguments.of("the same field twice", "{\"name\":\"a\",\"name\":\"b\"}"),
                Arguments.of("no text at all", "\0\0\0\0"));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("texts")
    void textsAreRefused(String name, String text) throws IOException {
        Path file = Files.writeString(folder.resolve("hostile.json"), text);
        assertThatThrownBy(() -> ProgrammeFile.named(file.toString()))
                .isInstanceOfAny(IOException.class, IllegalArgumentException.class)
                .satisfies(refusal -> assertThat(refusal.getMessage())
                        .contains("hostile.json")
                        .hasSizeLessThan(2000));
        assertThatThrownBy(() -> ServiceFile.read(file))
                .isInstanceOfAny(IOException.class, IllegalArgumentException.class)
                .satisfies(refusal -> assertThat(refusal.getMessage()).hasSizeLessThan(2000));
        assertOnly("hostile.json");
    }

    @Test
    void aProgrammeHasABoundedNumberOfSteps() throws IOException {
        String[] steps = new String[5000];
        Arrays.setAll(steps, i -> "{\"name\":\"s" + i + "\",\"kind\":\"pause\",\"seconds\":10}");
        Path file = Files.writeString(
                folder.resolve("long.json"), "{\"name\":\"long\",\"steps\":[" + String.join(",", steps) + "]}");
        assertThatThrownBy(() -> ProgrammeFile.named(file.toString()))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("steps")
                .hasMessageContaining("5000");
    }

    private void assertOnly(String... names) throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            List<String> found = files.map(each -> String.valueOf(each.getFileName()))
                    .sorted()
                    .toList();
            assertThat(found).containsExactly(names);
        }
    }
}
