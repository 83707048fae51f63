/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.tapemetrology.signals.conformance.SuiteReport;
import org.tapemetrology.signals.conformance.Suites;
import org.tapemetrology.signals.conformance.Verdict;

/** The exercise {@code labs/own-meter.md}: its numbers are those that a student gets. */
class OwnMeterLabTest {
    /** Read by every test; made once, for it takes a second. */
    private static final SuiteReport REPORT = Suites.iec60386QuasiPeak().run(new NaiveFlutterMeter());

    private static List<String> ids(Verdict verdict) {
        return REPORT.results().stream()
                .filter(result -> result.verdict() == verdict)
                .map(result -> result.about().id().substring("iec60386-qp-".length()))
                .toList();
    }

    private static String lab() throws IOException {
        return Files.readString(Path.of("labs", "own-meter.md"));
    }

    /** Right: the scale, also off speed, and what no weighting and a peak hold happen to get right. */
    @Test
    void theNaiveMeterPassesWhereItIsRight() {
        assertThat(ids(Verdict.REFERENCE_GRADE)).containsExactly("scale", "pulses-100ms");
        assertThat(ids(Verdict.CONFORMS))
                .containsExactly("off-speed", "pulses-100ms-slower", "weighting-1.6", "weighting-2", "weighting-6.3");
    }

    /** Wrong: dynamics, weighting, drift. Not there: an indication in time, a second channel. */
    @Test
    void theNaiveMeterFailsInTheRightPlaces() {
        assertThat(ids(Verdict.FAILS))
                .containsExactly(
                        "drift",
                        "pulses-10ms",
                        "pulses-30ms",
                        "pulses-60ms",
                        "pulses-10ms-slower",
                        "pulses-30ms-slower",
                        "pulses-60ms-slower",
                        "weighting-0.63",
                        "weighting-0.8",
                        "weighting-1",
                        "weighting-10",
                        "weighting-20",
                        "weighting-40",
                        "weighting-63",
                        "weighting-100",
                        "weighting-200");
        assertThat(ids(Verdict.NOT_READ)).containsExactly("channel-2", "fall-back-100ms", "fall-back-100ms-slower");
    }

    @Test
    void theNumbersOfTheExerciseAreThese() throws IOException {
        StringBuilder table = new StringBuilder();
        for (String id : List.of("scale", "drift", "pulses-10ms", "pulses-100ms", "weighting-1", "weighting-20")) {
            REPORT.results().stream()
                    .filter(result -> result.about().id().equals("iec60386-qp-" + id))
                    .forEach(result -> table.append(String.format(
                            Locale.ROOT,
                            "   | `%s` | %s | %s %s | %s |%n",
                            id,
                            number(result.about().expected(), result.about().digits()),
                            number(result.got().orElseThrow(), result.about().digits()),
                            result.about().unit(),
                            result.verdict().words())));
        }
        assertThat(lab()).contains(table);
        assertThat(lab())
                .contains(String.format(
                        Locale.ROOT,
                        "%d cases: %d reference grade, %d conform, %d fail, %d not read",
                        REPORT.cases().size(),
                        REPORT.count(Verdict.REFERENCE_GRADE),
                        REPORT.count(Verdict.CONFORMS),
                        REPORT.count(Verdict.FAILS),
                        REPORT.count(Verdict.NOT_READ)));
    }

    private static String number(double value, int digits) {
        return String.format(Locale.ROOT, "%." + digits + "f", value);
    }

    @Test
    void theNaiveMeterIsShort() throws IOException {
        assertThat(Files.readAllLines(
                        Path.of("src/main/java/org/tapemetrology/examples/conformance/NaiveFlutterMeter.java")))
                .hasSizeLessThan(80);
    }
}
