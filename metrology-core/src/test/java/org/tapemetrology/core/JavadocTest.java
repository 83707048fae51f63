/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/**
 * What the documentation of a class that takes samples says: a meter its unit, source, settling and cost, what it does with a sample
 * that is not finite, which threads may use it, and what it is not for; a stage the two rules. Words are looked for, not sense.
 */
class JavadocTest {
    private static final Path SOURCES = Path.of("src", "main", "java", "org", "tapemetrology", "core");
    private static final Pattern HEAD =
            Pattern.compile("\\npublic (?:abstract |final |sealed )*class (\\w+)(?:\\s+extends (\\w+))?");
    private static final Pattern TAKES =
            Pattern.compile("public (?:final )?\\w[\\w\\[\\]<>]* (accept|process|next)\\(\\s*(?:double|float)");
    private static final Pattern READS = Pattern.compile(
            "public (?:final )?\\w[\\w<>]* (readings?|measurements?|recognition|spectrum|uncertainty)\\(");

    private static final Map<String, Pattern> RULES_OF_A_STAGE = Map.of(
            "what it does with a sample that is not finite",
            Pattern.compile("not\\s+finite|no\\s+finite|non-finite|NaN"),
            "which threads may use it",
            Pattern.compile("[Tt]hread-confined"));

    private static final Map<String, Pattern> RULES_OF_A_METER = Map.of(
            "unit",
            Pattern.compile("\\bdB|%|\\bper cent\\b|\\bHz\\b|\\bus\\b|\\bunit\\b|\\bseconds\\b"),
            "source",
            Pattern.compile("IEC|ITU-R|AES|SMPTE|JCGM|\\bstandard\\b|[Tt]hose of the\\s+meters|geometry"),
            "settling and cost",
            Pattern.compile("Settling and cost: "),
            "when not to use it",
            Pattern.compile("Not for "));

    /** Comment of each class that takes something, with that of the class it extends. */
    private static Map<String, String> comments(boolean meters) throws IOException {
        Map<String, String> sources = new TreeMap<>();
        List<Path> files;
        try (Stream<Path> tree = Files.walk(SOURCES)) {
            files = tree.filter(file -> file.toString().endsWith(".java")
                            && !file.toString().contains("internal"))
                    .toList();
        }
        for (Path file : files) {
            String source = Files.readString(file);
            Matcher head = HEAD.matcher(source);
            if (head.find()) {
                sources.put(head.group(1), source);
            }
        }
        Map<String, String> comments = new TreeMap<>();
        sources.forEach((name, source) -> {
            Matcher head = HEAD.matcher(source);
            assertThat(head.find()).isTrue();
            String base = head.group(2) == null ? "" : sources.getOrDefault(head.group(2), "");
            boolean takes = TAKES.matcher(source + base).find();
            if (takes && READS.matcher(source + base).find() == meters) {
                comments.put(name, comment(source) + (base.isEmpty() ? "" : comment(base)));
            }
        });
        return comments;
    }

    private static String comment(String source) {
        Matcher head = HEAD.matcher(source);
        assertThat(head.find()).isTrue();
        String before = source.substring(0, head.start());
        return before.substring(before.lastIndexOf("/**"));
    }

    private static List<String> missing(Map<String, String> comments, Map<String, Pattern> rules) {
        List<String> missing = new ArrayList<>();
        comments.forEach((name, comment) -> rules.forEach((what, words) -> {
            if (!words.matcher(comment).find()) {
                missing.add(name + ": " + what);
            }
        }));
        return missing;
    }

    @Test
    void everyMeterSaysWhatItIs() throws IOException {
        Map<String, String> meters = comments(true);
        assertThat(meters)
                .containsKeys("RecordingMeter", "ToneMeter", "NoiseMeter", "AzimuthMeter", "SweepResponse")
                .hasSizeGreaterThanOrEqualTo(20);
        assertThat(missing(meters, RULES_OF_A_METER)).isEmpty();
        assertThat(missing(meters, RULES_OF_A_STAGE)).isEmpty();
    }

    @Test
    void everyStageSaysItsRules() throws IOException {
        Map<String, String> stages = comments(false);
        assertThat(stages).containsKeys("SecondOrderSections", "QuasiPeakDetector", "Demodulator");
        assertThat(missing(stages, RULES_OF_A_STAGE)).isEmpty();
    }

    /** Negative control. */
    @Test
    void whatIsMissingIsNamed() {
        assertThat(missing(Map.of("Some", "/** Reads dB. Thread-confined. */"), RULES_OF_A_METER))
                .containsExactlyInAnyOrder("Some: source", "Some: settling and cost", "Some: when not to use it");
    }
}
