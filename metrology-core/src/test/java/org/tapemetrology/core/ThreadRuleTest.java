/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** Every public class that takes samples or values says in its javadoc which threads may use it. */
class ThreadRuleTest {
    private static final Path SOURCES = Path.of("src/main/java/org/tapemetrology/core");
    /** Verbs of what changes a meter, a detector, a filter or a statistic. */
    private static final Pattern TAKES = Pattern.compile(
            "\n    public (?!static)[\\w<>\\[\\]]+ (accept|process|add|addMoved|track|read|reset|interrupt|gap)\\(");

    private static final Pattern CLASS_COMMENT = Pattern.compile(
            "(/\\*\\*(?:(?!\\*/).)*\\*/)\\s*(?:@\\w+(?:\\([^)]*\\))?\\s*)*public (?:final |abstract )?class",
            Pattern.DOTALL);

    private static List<Path> sources() throws IOException {
        try (Stream<Path> files = Files.walk(SOURCES)) {
            return files.filter(file -> file.toString().endsWith(".java")).toList();
        }
    }

    @Test
    void everyPublicClassThatTakesSamplesSaysItsThreadRule() throws IOException {
        int subjects = 0;
        for (Path file : sources()) {
            String text = Files.readString(file);
            Matcher comment = CLASS_COMMENT.matcher(text);
            if (comment.find() && TAKES.matcher(text).find()) {
                subjects++;
                assertThat(comment.group(1).replaceAll("\\s+\\* ", " "))
                        .as("javadoc of %s", file.getFileName())
                        .containsPattern("(?i)thread-confined|immutable|any number of threads");
            }
        }
        // As many there are at least: the search itself must not come up empty.
        assertThat(subjects).isGreaterThan(40);
    }
}
