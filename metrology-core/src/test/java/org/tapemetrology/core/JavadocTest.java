/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;
import static org.tapemetrology.core.JavadocRules.NOT_FINITE;
import static org.tapemetrology.core.JavadocRules.THREADS;
import static org.tapemetrology.core.JavadocRules.UNIT;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;

/**
 * What the documentation of every public type says. Words are looked for, not sense. The kinds and their rules:
 *
 * <ul>
 *   <li>A meter (takes samples, gives readings): unit, source, settling and cost, what it does with a sample that is not finite,
 *       which threads may use it, what it is not for.
 *   <li>A stage (takes samples, gives samples or figures): the rules of samples that are not finite and of threads.
 *   <li>Any other class computes or leads: unit, source with confidence (or that there is none), cost, numbers that are not
 *       finite, threads, what it is not for.
 *   <li>An edition (class of the package {@code standard}): document, confidence, what it is not for, and numbers that are not
 *       finite where it takes any. Editions have no state, which their package says.
 *   <li>A record: the unit of each number at its {@code @param}; what the constructor refuses, or that it checks nothing. An
 *       enumeration that holds numbers: their source. That both are immutable, their package says.
 *   <li>An interface: threads. An exception: when it is thrown.
 * </ul>
 *
 * <p>Builders and other classes within a class are documented by that class; that they have a comment at all is doclint's.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS) // the sources are read once
class JavadocTest {
    private static final Path SOURCES = Path.of("src", "main", "java", "org", "tapemetrology", "core");
    private static final Pattern TAKES =
            Pattern.compile("public (?:final )?\\w[\\w\\[\\]<>]* (accept|process|next)\\(\\s*(?:double|float)");
    private static final Pattern READS = Pattern.compile(
            "public (?:final )?\\w[\\w<>]* (readings?|measurements?|recognition|spectrum|uncertainty)\\(");
    private static final Pattern TAKES_A_NUMBER = Pattern.compile("public static [\\w.<>]+ \\w+\\([^)]*\\bdouble\\b");
    private static final Pattern HOLDS_NUMBERS = Pattern.compile("\\n {4}\\w+\\([^)]*\\bdouble\\b");
    private static final Pattern SOURCE =
            Pattern.compile("IEC|ITU-R|AES|JCGM|ILAC|NIST|IEEE|\\b(?:19|20)\\d\\d\\b|[Bb]y definition"
                    + "|no source|from memory|this (?:project|library)'s own|those of the meters");
    private static final Pattern NOT_FOR = Pattern.compile("Not for ");

    private static final Map<String, Pattern> RULES_OF_A_STAGE = Map.of(
            "what it does with a sample that is not finite",
            NOT_FINITE,
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
            NOT_FOR);

    private static final Map<String, Pattern> RULES_OF_A_COMPUTING_CLASS = Map.of(
            "unit",
            UNIT,
            "source",
            SOURCE,
            "cost",
            Pattern.compile("[Cc]ost: "),
            "what it does with a number that is not finite",
            NOT_FINITE,
            "which threads may use it",
            THREADS,
            "when not to use it",
            NOT_FOR);

    private static final Map<String, Pattern> RULES_OF_AN_EDITION = Map.of(
            "document",
            Pattern.compile("IEC|DIN|JIS|NAB|ITU-R"),
            "confidence",
            Pattern.compile("verified|[Ss]econd-hand|memory|[Rr]ead in the text"),
            "when not to use it",
            NOT_FOR);

    private static final Map<String, Pattern> RULES_OF_AN_EXCEPTION =
            Map.of("when it is thrown", Pattern.compile("Thrown "));

    private enum Kind {
        METER,
        STAGE,
        COMPUTING,
        EDITION,
        EXCEPTION,
        WITHIN_A_CLASS,
        RECORD,
        ENUMERATION,
        INTERFACE
    }

    private final Map<Kind, List<PublicType>> types;
    private final Map<String, PublicType> classes;

    JavadocTest() throws IOException {
        List<PublicType> all = PublicType.in(SOURCES);
        classes = all.stream()
                .filter(type -> type.depth() == 0)
                .collect(Collectors.toMap(PublicType::name, Function.identity()));
        types = all.stream().collect(Collectors.groupingBy(this::kind));
    }

    private Kind kind(PublicType type) {
        String samples = type.source() + base(type, PublicType::source);
        return switch (type.kind()) {
            case "record" -> Kind.RECORD;
            case "enum" -> Kind.ENUMERATION;
            case "interface" -> Kind.INTERFACE;
            default -> {
                if (type.depth() > 0) {
                    yield Kind.WITHIN_A_CLASS;
                }
                if (TAKES.matcher(samples).find()) {
                    yield READS.matcher(samples).find() ? Kind.METER : Kind.STAGE;
                }
                if (type.superclass().endsWith("Exception")) {
                    yield Kind.EXCEPTION;
                }
                yield type.file().startsWith("standard") ? Kind.EDITION : Kind.COMPUTING;
            }
        };
    }

    /** Something of the class that a class extends. */
    private String base(PublicType type, Function<PublicType, String> something) {
        PublicType base = classes.get(type.superclass());
        return base == null ? "" : something.apply(base);
    }

    private List<PublicType> of(Kind kind) {
        return types.getOrDefault(kind, List.of());
    }

    @SafeVarargs
    private List<String> missing(Kind kind, Map<String, Pattern>... rules) {
        List<String> missing = new ArrayList<>();
        for (PublicType type : of(kind)) {
            String comment = type.comment() + base(type, PublicType::comment);
            for (Map<String, Pattern> some : rules) {
                missing.addAll(JavadocRules.missing(type.name(), comment, some));
            }
        }
        return missing;
    }

    private List<String> names(Kind kind) {
        return of(kind).stream().map(PublicType::name).toList();
    }

    @Test
    void everyMeterSaysWhatItIs() {
        assertThat(names(Kind.METER))
                .contains("RecordingMeter", "ToneMeter", "NoiseMeter", "AzimuthMeter", "SweepResponse")
                .hasSizeGreaterThanOrEqualTo(20);
        assertThat(missing(Kind.METER, RULES_OF_A_METER, RULES_OF_A_STAGE)).isEmpty();
    }

    @Test
    void everyStageSaysItsRules() {
        assertThat(names(Kind.STAGE)).contains("SecondOrderSections", "QuasiPeakDetector", "Demodulator");
        assertThat(missing(Kind.STAGE, RULES_OF_A_STAGE)).isEmpty();
    }

    @Test
    void everyOtherClassSaysWhatItComputes() {
        assertThat(names(Kind.COMPUTING))
                .contains("LineFit", "Budget", "FirDesign", "GuidedAlignment", "WavReader")
                .hasSizeGreaterThanOrEqualTo(50);
        assertThat(missing(Kind.COMPUTING, RULES_OF_A_COMPUTING_CLASS)).isEmpty();
    }

    @Test
    void everyEditionSaysItsDocument() {
        assertThat(names(Kind.EDITION))
                .contains("Iec60386Edition1972", "ItuRBs468Edition4")
                .hasSizeGreaterThan(10);
        assertThat(missing(Kind.EDITION, RULES_OF_AN_EDITION)).isEmpty();
        for (PublicType edition : of(Kind.EDITION)) {
            if (TAKES_A_NUMBER.matcher(edition.source()).find()) {
                assertThat(edition.comment()).as(edition.name()).containsPattern(NOT_FINITE);
            }
        }
    }

    @Test
    void everyExceptionAndInterfaceSaysItsRule() {
        assertThat(names(Kind.EXCEPTION)).contains("WavFormatException");
        assertThat(missing(Kind.EXCEPTION, RULES_OF_AN_EXCEPTION)).isEmpty();
        for (PublicType type : of(Kind.INTERFACE)) {
            // An interface within a class is called as that class is.
            if (type.depth() == 0) {
                assertThat(type.comment()).as(type.name()).containsPattern(THREADS);
            }
        }
    }

    @Test
    void everyRecordSaysUnitsAndRefusals() {
        assertThat(names(Kind.RECORD))
                .contains("Reading", "Limit.Range", "StepSignal.Tone")
                .hasSizeGreaterThan(60);
        assertThat(of(Kind.RECORD).stream().flatMap(type -> JavadocRules.missingInRecord(type).stream()))
                .isEmpty();
    }

    @Test
    void everyEnumerationOfNumbersSaysTheirSource() {
        int subjects = 0;
        for (PublicType type : of(Kind.ENUMERATION)) {
            if (type.depth() == 0 && HOLDS_NUMBERS.matcher(type.source()).find()) {
                subjects++;
                assertThat(type.comment() + type.source()).as(type.name()).containsPattern(SOURCE);
            }
        }
        assertThat(subjects).isGreaterThanOrEqualTo(3);
    }

    @Test
    void everyPackageSaysThatItsValuesAreImmutable() throws IOException {
        TreeSet<String> packages = new TreeSet<>();
        for (Kind kind : List.of(Kind.RECORD, Kind.ENUMERATION, Kind.EDITION)) {
            of(kind).forEach(type -> packages.add(type.file().replaceAll("[^/\\\\]+$", "package-info.java")));
        }
        assertThat(packages).hasSizeGreaterThan(15);
        for (String info : packages) {
            assertThat(Files.readString(SOURCES.resolve(info)))
                    .as(info)
                    .containsPattern("immutable and\\s+(?:\\*\\s+)?may be shared");
        }
    }

    /** Negative controls. */
    @Test
    void whatIsMissingIsNamed() {
        assertThat(JavadocRules.missing("Some", "/** Reads dB. Thread-confined.", RULES_OF_A_METER))
                .containsExactlyInAnyOrder("Some: source", "Some: settling and cost", "Some: when not to use it");
        Map<String, Pattern> rules = new TreeMap<>(RULES_OF_A_COMPUTING_CLASS);
        assertThat(JavadocRules.missing("Some", "/** A sum of dB. Immutable. Cost: none.", rules))
                .containsExactly(
                        "Some: source",
                        "Some: what it does with a number that is not finite",
                        "Some: when not to use it");
    }

    @Test
    void aRecordThatIsSilentIsNamed() {
        String checked = """
                /**
                 * A pair.
                 *
                 * @param name its name
                 * @param size its size
                 * @param rate its rate
                 *     in Hz
                 */
                public record Pair(String name, OptionalDouble size, double rate) {
                    /** A pair. */
                    public Pair {
                        Require.positive("rate", rate);
                    }

                    /** Half. */
                    public record Half(List<Map<String, Double>> all) {}

                    private record Own(double x) {}
                }
                """;
        assertThat(PublicType.of("Pair.java", checked).stream()
                        .flatMap(type -> JavadocRules.missingInRecord(type).stream()))
                .containsExactly(
                        "Pair: unit of size",
                        "Pair: what its constructor refuses",
                        "Pair.Half: unit of all",
                        "Pair.Half: that its numbers are not checked");
    }
}
