/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.tapemetrology.signals.table.Confidence;
import org.tapemetrology.signals.table.PublishedTables;

/** What the suites hold. */
class SuitesTest {
    private static List<ConformanceCase> all() {
        return Suites.all().stream().flatMap(suite -> suite.cases().stream()).toList();
    }

    /** A case that is lost by mistake must show: the numbers are part of the suites. */
    @Test
    void theNumbersOfCasesAreTheseOnes() {
        Map<String, Integer> numbers = new TreeMap<>();
        Suites.all().forEach(suite -> numbers.put(suite.id(), suite.caseCount()));
        assertThat(numbers)
                .containsExactlyInAnyOrderEntriesOf(Map.ofEntries(
                        Map.entry("iec-60386-quasi-peak", 26),
                        Map.entry("iec-60386-two-sigma", 20),
                        Map.entry("nab-1965", 20),
                        Map.entry("jis-c-5551", 17),
                        Map.entry("din-45500-4-speed", 10),
                        Map.entry("itu-r-bs468-4", 36),
                        Map.entry("iec-61672-1-a", 36),
                        Map.entry("iec-60268-17", 12),
                        Map.entry("iec-60268-10-type-i", 7),
                        Map.entry("iec-60268-10-type-ii", 8),
                        Map.entry("iec-60094-1", 35)));
    }

    @Test
    void everyRowOfATableIsACaseOrSaidNotToBeCovered() {
        // Rows without 4 Hz, where the table has its reference, and without those named as not covered.
        assertThat(count("iec-60386-two-sigma", "Table I"))
                .isEqualTo(PublishedTables.flutterWeighting().rows().size() - 2);
        assertThat(count("itu-r-bs468-4", "Table 1"))
                .isEqualTo(PublishedTables.noiseWeighting().rows().size() - 2);
        assertThat(count("itu-r-bs468-4", "Table 2"))
                .isEqualTo(PublishedTables.noiseSingleBursts().rows().size());
        assertThat(count("itu-r-bs468-4", "Table 3"))
                .isEqualTo(PublishedTables.noiseRepeatedBursts().rows().size());
        assertThat(count("iec-61672-1-a", "Table 3"))
                .isEqualTo(PublishedTables.aWeighting().rows().size() - 1);
    }

    private static long count(String suiteId, String clause) {
        return Suites.all().stream()
                .filter(suite -> suite.id().equals(suiteId))
                .flatMap(suite -> suite.cases().stream())
                .filter(about -> about.clause().equals(clause))
                .count();
    }

    @Test
    void idsAreUniqueAndARecordingHasOneMeaning() {
        assertThat(all().stream().map(ConformanceCase::id)).doesNotHaveDuplicates();
        Map<String, List<Recording>> byName = all().stream()
                .flatMap(about -> about.recordings().stream())
                .collect(Collectors.groupingBy(Recording::name));
        byName.forEach((name, recordings) -> {
            Recording first = recordings.get(0);
            assertThat(recordings).as(name).allSatisfy(other -> {
                assertThat(other.seconds()).isEqualTo(first.seconds());
                for (int channel = 0; channel < first.channels().size(); channel++) {
                    // Far into the recording, where two signals of one name would have parted.
                    assertThat(other.samples().get(channel).samples(first.frames() - 1000, 1000))
                            .isEqualTo(first.samples().get(channel).samples(first.frames() - 1000, 1000));
                }
            });
        });
    }

    @Test
    void everyCaseSaysWhereItIsFromAndHowItIsDone() {
        assertThat(all()).allSatisfy(about -> {
            assertThat(about.clause()).isNotBlank();
            assertThat(about.asks()).isNotBlank();
            assertThat(about.how()).isNotBlank();
            assertThat(about.source()).isNotBlank();
            assertThat(about.referenceGrade().origin()).isEqualTo(Limits.Origin.OWN);
            assertThat(about.document().accepts(about.expected())).isTrue();
        });
        assertThat(Suites.all())
                .allSatisfy(suite -> assertThat(suite.notCovered()).isNotEmpty());
    }

    /** AES6 (abstract): 90 % for 60 ms and the fall to 40 % are verified, and nothing else of the pulse table is. */
    @Test
    void whatIsVerifiedAndWhatRestsOnMemoryIsKept() {
        Map<String, ConformanceCase> byId =
                all().stream().collect(Collectors.toMap(ConformanceCase::id, Function.identity()));
        assertThat(find(byId, "iec60386-qp-pulses-60ms").confidence()).isEqualTo(Confidence.VERIFIED);
        assertThat(find(byId, "iec60386-qp-fall-back-100ms").confidence()).isEqualTo(Confidence.VERIFIED);
        assertThat(find(byId, "iec60386-qp-pulses-10ms").confidence()).isEqualTo(Confidence.MEMORY);
        assertThat(find(byId, "iec60386-qp-pulses-60ms").limitsConfidence()).contains(Confidence.MEMORY);
        assertThat(find(byId, "nab-scale").limitsConfidence()).isEmpty();
    }

    private static ConformanceCase find(Map<String, ConformanceCase> byId, String id) {
        return Optional.ofNullable(byId.get(id)).orElseThrow(() -> new AssertionError("no case " + id));
    }

    /** Two equal tones: 0.92 of the peak is exceeded for 5 % of the time (computed; printed to two decimals). */
    @Test
    void twoTonesHaveTheirKnownDistribution() {
        assertThat(TwoTones.exceededFor(0.05) / 2).isCloseTo(0.92, within(0.005));
        // The same of |2 sin a cos b| by counting over a grid of angles; 0.002 is the step of the grid.
        int above = 0;
        double level = TwoTones.exceededFor(0.05);
        for (int i = 0; i < 1000; i++) {
            for (int j = 0; j < 1000; j++) {
                double x = 2 * Math.sin(Math.PI * (i + 0.5) / 1000) * Math.cos(Math.PI * (j + 0.5) / 1000);
                above += Math.abs(x) > level ? 1 : 0;
            }
        }
        assertThat(above / 1e6).isCloseTo(0.05, within(0.002));
        assertThat(TwoTones.AVERAGE_OVER_RMS).isCloseTo(0.9003, within(5e-5)); // (8 / pi^2) pi / (2 sqrt 2)
    }

    @Test
    void limitsMustMakeSense() {
        assertThatThrownBy(() -> new Limits(1, 1, Limits.Origin.OWN)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new Limits(Double.NaN, 1, Limits.Origin.OWN))
                .isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new Limits(Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY, Limits.Origin.DOCUMENT))
                .isInstanceOf(IllegalArgumentException.class);
        Limits limits = new Limits(-1, 3, Limits.Origin.DOCUMENT);
        assertThat(limits.accepts(Double.NaN)).isFalse();
        assertThat(limits.share(0, 1.5)).isEqualTo(0.5);
        assertThat(limits.share(0, -1)).isEqualTo(1);
        assertThat(new Limits(Double.NEGATIVE_INFINITY, 3, Limits.Origin.OWN).share(0, -50))
                .isZero();
        CaseDraft<EqualisationUnderTest> wider = new CaseDraft<EqualisationUnderTest>("id", "clause", "asks")
                .expects(0, "dB", 2)
                .ownLimits(1)
                .narrower(2);
        assertThatThrownBy(() -> wider.by((meter, bench) -> 0))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("not within");
    }
}
