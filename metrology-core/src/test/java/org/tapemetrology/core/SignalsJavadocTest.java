/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeSet;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/**
 * What the documentation of every public type of {@code reference-signals} says; it stands here so that both modules share the
 * rules. A record: the unit of each number, and what its constructor refuses or that it checks nothing. A class or interface:
 * which threads may use it and, where it takes numbers, what those that are not finite do. Whatever takes a seed: that the
 * same seed gives the same.
 */
class SignalsJavadocTest {
    private static final Path SOURCES =
            Path.of("..", "reference-signals", "src", "main", "java", "org", "tapemetrology", "signals");

    private static final Pattern SEED = Pattern.compile("\\blong (?:seed|ditherSeed)\\b|OptionalLong ditherSeed");
    private static final Pattern TAKES_NUMBERS =
            Pattern.compile("\\n {4}(?:public |default |static )?[\\w<>\\[\\], .]+ \\w+\\([^)]*\\b(?:double|float)\\b");

    private static List<String> missing(PublicType type) {
        List<String> missing = new ArrayList<>();
        if (type.kind().equals("record")) {
            missing.addAll(JavadocRules.missingInRecord(type));
        }
        if (type.depth() == 0
                && SEED.matcher(type.source()).find()
                && !type.comment().contains("same seed")) {
            missing.add(type.name() + ": that the same seed gives the same");
        }
        if (type.depth() == 0 && (type.kind().equals("class") || type.kind().equals("interface"))) {
            if (!JavadocRules.THREADS.matcher(type.comment()).find()) {
                missing.add(type.name() + ": which threads may use it");
            }
            if (TAKES_NUMBERS.matcher(type.source()).find()
                    && !JavadocRules.NOT_FINITE.matcher(type.comment()).find()) {
                missing.add(type.name() + ": what a number does that is not finite");
            }
        }
        return missing;
    }

    @Test
    void everyTypeSaysItsRules() throws IOException {
        List<PublicType> types = PublicType.in(SOURCES);
        assertThat(types.stream().map(PublicType::name))
                .contains("FmTone", "WhiteNoise", "Suite", "VirtualRecorder", "Sequence.Section")
                .hasSizeGreaterThan(80);
        assertThat(types.stream().flatMap(type -> missing(type).stream())).isEmpty();
    }

    @Test
    void everyPackageSaysThatItsValuesAreImmutable() throws IOException {
        TreeSet<String> packages = new TreeSet<>();
        PublicType.in(SOURCES).forEach(type -> packages.add(type.file().replaceAll("[^/\\\\]+$", "package-info.java")));
        assertThat(packages).hasSizeGreaterThan(5);
        for (String info : packages) {
            assertThat(Files.readString(SOURCES.resolve(info)).replaceAll("\\s+\\*\\s+", " "))
                    .as(info)
                    .contains("immutable and may be shared");
        }
    }

    /** Negative control. */
    @Test
    void whatIsMissingIsNamed() {
        String silent = "/** A noise. */\npublic final class Noise {\n    public Noise of(long seed, double rms) {\n";
        assertThat(PublicType.of("Noise.java", silent).stream().flatMap(type -> missing(type).stream()))
                .containsExactlyInAnyOrder(
                        "Noise: that the same seed gives the same",
                        "Noise: which threads may use it",
                        "Noise: what a number does that is not finite");
    }
}
