/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.WarningCode;

/**
 * The pages of {@code docs} and {@code examples/labs}: their commands are run and their programs compiled and run as they stand
 * there, and what is printed must be what the page shows. A line of three dots stands for any number of lines.
 */
class PagesTest {
    /** In text a reader can't be misled by: formulas, trees, commands of other programs. */
    private static final Set<String> LANGUAGES = Set.of("console", "java", "json", "xml", "text");

    /** How a program of a page sets a published value against what it got; the page names the source. */
    private static final Pattern COMPARISON =
            Pattern.compile("published +(-?[\\d.]+) .*measured +(-?[\\d.]+) .*within +([\\d.]+)");

    private static final Pattern LINK = Pattern.compile("\\]\\(([^)#:]+)(?:#[^)]*)?\\)");

    @TempDir
    private Path folder;

    static List<Path> pages() throws IOException {
        List<Path> pages = new ArrayList<>();
        for (Path place : List.of(Path.of("..", "docs"), Path.of("labs"))) {
            try (Stream<Path> files = Files.list(place)) {
                files.filter(file -> file.toString().endsWith(".md")).sorted().forEach(pages::add);
            }
        }
        return pages;
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("pages")
    void whatThePageShowsIsWhatHappens(Path path) throws IOException {
        MarkdownPage page = MarkdownPage.read(path);
        PageSession session = new PageSession(folder);
        for (MarkdownPage.Block block : page.blocks()) {
            assertThat(LANGUAGES).as(path + ":" + block.line()).contains(block.language());
            session.save(block);
            if (block.language().equals("console")) {
                run(path, block, session);
            }
        }
        for (MarkdownPage.Block block : page.blocks("java")) {
            assertThat(page.text())
                    .as(path + ":" + block.line() + " is run")
                    .containsPattern("\n\\$ java -cp (workbench|metrology-core)\\.jar " + Pattern.quote(block.file()));
        }
    }

    private static void run(Path path, MarkdownPage.Block block, PageSession session) throws IOException {
        assertThat(block.lines().get(0)).as(path + ":" + block.line()).startsWith("$ ");
        int from = 0;
        while (from < block.lines().size()) {
            int to = from + 1;
            while (to < block.lines().size() && !block.lines().get(to).startsWith("$ ")) {
                to++;
            }
            List<String> shown = block.lines().subList(from + 1, to);
            List<String> printed = session.run(block.lines().get(from).substring(2));
            assertThat(matches(shown, printed))
                    .as(
                            "%s:%d shows%n%s%nbut what is printed is%n%s",
                            path, block.line() + from + 1, String.join("\n", shown), String.join("\n", printed))
                    .isTrue();
            from = to;
        }
    }

    /** Whether lines are those of a pattern in which three dots stand for any number of lines. */
    private static boolean matches(List<String> pattern, List<String> lines) {
        if (pattern.isEmpty()) {
            return lines.isEmpty();
        }
        List<String> rest = pattern.subList(1, pattern.size());
        if (!pattern.get(0).equals("...")) {
            return !lines.isEmpty()
                    && pattern.get(0).stripTrailing().equals(lines.get(0))
                    && matches(rest, lines.subList(1, lines.size()));
        }
        for (int skipped = 0; skipped <= lines.size(); skipped++) {
            if (matches(rest, lines.subList(skipped, lines.size()))) {
                return true;
            }
        }
        return false;
    }

    /** The page says how near a figure must come to the published one, and why; the figures that it prints keep that. */
    @ParameterizedTest(name = "{0}")
    @MethodSource("pages")
    void whatIsSetAgainstAPublishedValueKeepsItsTolerance(Path path) throws IOException {
        for (MarkdownPage.Block block : MarkdownPage.read(path).blocks("console")) {
            for (String line : block.lines()) {
                Matcher found = COMPARISON.matcher(line);
                if (found.find()) {
                    assertThat(Double.parseDouble(found.group(2)))
                            .as(path + ": " + line)
                            .isCloseTo(Double.parseDouble(found.group(1)), within(Double.parseDouble(found.group(3))));
                } else {
                    assertThat(line).as(path.toString()).doesNotContain("published");
                }
            }
        }
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("pages")
    void everyLinkLeadsToAFile(Path path) throws IOException {
        Matcher link = LINK.matcher(Files.readString(path));
        while (link.find()) {
            assertThat(path.resolveSibling(link.group(1))).as(path.toString()).exists();
        }
    }

    @Test
    void everyStatusAndWarningIsExplained() throws IOException {
        String page = Files.readString(Path.of("..", "docs", "warnings.md"));
        for (Status status : Status.values()) {
            assertThat(page).contains("\n| `" + status.id() + "` | ");
        }
        for (WarningCode code : WarningCode.values()) {
            assertThat(page).contains("\n| `" + code.id() + "` | ");
        }
    }

    @Test
    void everyExerciseHasItsParts() throws IOException {
        List<Path> labs = pages().stream()
                .filter(page -> page.startsWith("labs") && !page.endsWith("README.md"))
                .toList();
        assertThat(labs).hasSize(9);
        String contents = Files.readString(Path.of("labs", "README.md"));
        for (Path lab : labs) {
            assertThat(contents).contains("(" + lab.getFileName() + ")");
            assertThat(Files.readString(lab))
                    .as(lab.toString())
                    .startsWith("# Laboratory exercise: ")
                    .contains("\n**Aim.**", "\n**Theory.**", "\n**Steps.**", "\n**Questions.**");
        }
    }

    @Test
    void threeDotsStandForAnyNumberOfLines() {
        List<String> lines = List.of("a", "b", "c");
        assertThat(matches(List.of("a", "...", "c"), lines)).isTrue();
        assertThat(matches(List.of("...", "c", "..."), lines)).isTrue();
        assertThat(matches(List.of("a", "..."), lines)).isTrue();
        assertThat(matches(List.of("a", "c"), lines)).isFalse();
        assertThat(matches(List.of("...", "b"), lines)).isFalse();
        assertThat(matches(List.of(), lines)).isFalse();
    }
}
