/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.tapemetrology.signals.table.FlutterPulseRow.Indication;

class PublishedTablesTest {
    /** IEC 60386, Table I (memory; the reference at 4 Hz verified in the abstract of AES6-1982). */
    @Test
    void flutterWeightingHasItsSeventeenRows() {
        PublishedTable<WeightingRow> table = PublishedTables.flutterWeighting();

        assertThat(table.rows()).hasSize(17);
        assertThat(row(table, 0.1).responseDb()).isEqualTo(-48.0);
        assertThat(row(table, 0.1).tolerance()).isEmpty();
        assertThat(row(table, 0.2).tolerance()).contains(new Tolerance(4, 10));
        assertThat(row(table, 4).responseDb()).isZero();
        assertThat(row(table, 4).confidence()).isEqualTo(Confidence.VERIFIED);
        assertThat(row(table, 20).responseDb()).isEqualTo(-5.9);
        assertThat(row(table, 20).confidence()).isEqualTo(Confidence.MEMORY);
        assertThat(row(table, 200).responseDb()).isEqualTo(-23.0);
        assertThat(table.rows().stream().mapToDouble(WeightingRow::responseDb).max())
                .hasValue(0);
    }

    /** IEC 60386 (60 ms and fall-back verified in the abstract of AES6-1982; the rest memory). */
    @Test
    void flutterPulsesHaveTheirFiveRows() {
        List<FlutterPulseRow> rows = PublishedTables.flutterPulses().rows();

        assertThat(rows).hasSize(5);
        assertThat(rows).extracting(FlutterPulseRow::nominalPercent).containsExactly(21.0, 62.0, 90.0, 100.0, 40.0);
        assertThat(rows.get(2).confidence()).isEqualTo(Confidence.VERIFIED);
        assertThat(rows.get(4).indication()).isEqualTo(Indication.FALL_BACK);
        assertThat(rows)
                .allSatisfy(row -> assertThat(row.nominalPercent()).isBetween(row.lowerPercent(), row.upperPercent()));
    }

    /** ITU-R BS.468-4, Table 1 (verified). */
    @Test
    void noiseWeightingHasItsTwentyOneRows() {
        PublishedTable<WeightingRow> table = PublishedTables.noiseWeighting();

        assertThat(table.rows()).hasSize(21);
        assertThat(row(table, 31.5).responseDb()).isEqualTo(-29.9);
        assertThat(row(table, 6300).responseDb()).isEqualTo(12.2);
        assertThat(row(table, 6300).tolerance()).contains(new Tolerance(0, 0));
        assertThat(row(table, 12_500).responseDb()).isZero();
        assertThat(row(table, 20_000).responseDb()).isEqualTo(-22.2);
        Tolerance last = row(table, 31_500).tolerance().orElseThrow();
        assertThat(last.accepts(-60)).isTrue();
        assertThat(last.accepts(2.9)).isFalse();
    }

    /**
     * Closed form of the network of BS.468-4 (published in several general-purpose libraries); the table is rounded to
     * 0.1 dB, so a correct row is within 0.05 dB and rounding of the reference at 1 kHz.
     */
    @Test
    void noiseWeightingIsThatOfItsNetwork() {
        for (WeightingRow row : PublishedTables.noiseWeighting().rows()) {
            assertThat(row.responseDb()).isCloseTo(network468(row.exactHz()) - network468(1000), within(0.051));
        }
    }

    /** ITU-R BS.468-4, Tables 2 and 3 (second-hand). */
    @Test
    void noiseBurstsHaveTheirRows() {
        List<NoiseBurstRow> single = PublishedTables.noiseSingleBursts().rows();
        List<NoiseBurstRow> repeated = PublishedTables.noiseRepeatedBursts().rows();

        assertThat(single)
                .extracting(NoiseBurstRow::nominalPercent)
                .containsExactly(17.0, 26.6, 40.0, 48.0, 52.0, 59.0, 68.0, 80.0);
        assertThat(single).allSatisfy(row -> assertThat(row.burstsPerSecond()).isEmpty());
        assertThat(repeated).extracting(NoiseBurstRow::nominalPercent).containsExactly(48.0, 77.0, 97.0);
        assertThat(repeated.get(1).burstsPerSecond()).hasValue(10);
        assertThat(Stream.concat(single.stream(), repeated.stream()))
                .allSatisfy(row -> assertThat(row.nominalPercent()).isBetween(row.lowerPercent(), row.upperPercent()));
    }

    /** IEC 61672-1:2013, Table 3 (second-hand) against the formula of its annex E; the table is rounded to 0.1 dB. */
    @Test
    void aWeightingIsThatOfItsFormula() {
        PublishedTable<WeightingRow> table = PublishedTables.aWeighting();

        assertThat(table.rows()).hasSize(34);
        for (WeightingRow row : table.rows()) {
            // 0.05 dB of rounding and 0.001 dB for the six digits of the exact frequencies on the steepest slope.
            assertThat(row.responseDb()).isCloseTo(aWeighting(row.exactHz()) - aWeighting(1000), within(0.052));
            assertThat(row.exactHz()).isCloseTo(row.nominalHz(), within(0.03 * row.nominalHz()));
        }
        assertThat(row(table, 1000).tolerance()).contains(new Tolerance(0.7, 0.7));
        assertThat(row(table, 16_000).tolerance()).contains(new Tolerance(16, 2.5));
        assertThat(row(table, 20_000).tolerance()).contains(new Tolerance(Double.POSITIVE_INFINITY, 3));
    }

    /** IEC 60268-10 (second-hand and memory, as the rows say). */
    @Test
    void programmeMetersHaveTheirRows() {
        assertThat(PublishedTables.programmeMeterTypeI().rows())
                .extracting(ProgrammeBurstRow::indicationDb)
                .containsExactly(-1.0, -2.0, -4.0, -15.0);
        assertThat(PublishedTables.programmeMeterTypeII().rows())
                .extracting(ProgrammeBurstRow::indicationDb)
                .containsExactly(0.0, -2.0, -4.0, -9.0, -17.0);
        assertThat(PublishedTables.programmeMeterReturn().rows())
                .extracting(ReturnRow::seconds)
                .containsExactly(1.7, 2.8);
    }

    /** IEC 60268-17 (second-hand; flatness from memory). */
    @Test
    void volumeIndicatorRisesInThreeTenthsOfASecond() {
        List<ParameterRow> rows = PublishedTables.volumeIndicator().rows();

        assertThat(rows).hasSize(6);
        ParameterRow rise = rows.stream()
                .filter(row -> row.parameter().equals("rise-time"))
                .findFirst()
                .orElseThrow();
        assertThat(rise.value()).isEqualTo(0.3);
        assertThat(rise.unit()).isEqualTo("s");
        assertThat(rise.tolerance()).isEqualTo(Optional.of(new Tolerance(0.03, 0.03)));
    }

    /** IASA TC-04, 5.4.10 (verified), cassettes second-hand; the corner of 50 us is at 3183.1 Hz (computed). */
    @Test
    void timeConstantsGiveTheRecordedFlux() {
        List<TimeConstantRow> rows = PublishedTables.timeConstants().rows();

        assertThat(rows).hasSize(14);
        TimeConstantRow studio = rows.get(2);
        assertThat(studio.speedCmPerSecond()).isEqualTo(38.1);
        assertThat(studio.trebleMicroseconds()).isEqualTo(35);
        assertThat(studio.bassMicroseconds()).isEmpty();
        assertThat(studio.fluxDb(1e6 / (2 * Math.PI * 35))).isCloseTo(-10 * Math.log10(2), within(1e-12));
        TimeConstantRow ferric = rows.get(11);
        TimeConstantRow chrome = rows.get(12);
        assertThat(ferric.bassMicroseconds()).hasValue(3180);
        // Far above both corners the two differ by 20 lg(120/70); at 1 MHz what is left is below 1e-5 dB.
        assertThat(chrome.fluxDb(1e6) - ferric.fluxDb(1e6)).isCloseTo(20 * Math.log10(120.0 / 70), within(1e-4));
        assertThat(ferric.fluxDb(1e-3) - ferric.fluxDb(2e-3)).isCloseTo(20 * Math.log10(2), within(1e-6));
    }

    @Test
    void carriersArePublishedOnes() {
        assertThat(PublishedTables.carriers().rows())
                .extracting(CarrierRow::frequencyHz)
                .containsExactly(3150.0, 3000.0, 12_500.0);
    }

    @ParameterizedTest
    @MethodSource("all")
    void everyTableSaysWhereItComesFrom(PublishedTable<?> table) {
        assertThat(table.standard()).isNotBlank();
        assertThat(table.edition()).isNotBlank();
        assertThat(table.clause()).isNotBlank();
        assertThat(table.unit()).isNotBlank();
        assertThat(table.source()).isNotBlank();
    }

    static Stream<PublishedTable<?>> all() {
        return Stream.of(
                PublishedTables.flutterWeighting(),
                PublishedTables.flutterPulses(),
                PublishedTables.noiseWeighting(),
                PublishedTables.noiseSingleBursts(),
                PublishedTables.noiseRepeatedBursts(),
                PublishedTables.aWeighting(),
                PublishedTables.programmeMeterTypeI(),
                PublishedTables.programmeMeterTypeII(),
                PublishedTables.programmeMeterReturn(),
                PublishedTables.volumeIndicator(),
                PublishedTables.timeConstants(),
                PublishedTables.carriers());
    }

    private static WeightingRow row(PublishedTable<WeightingRow> table, double nominalHz) {
        return table.rows().stream()
                .filter(row -> row.nominalHz() == nominalHz)
                .findFirst()
                .orElseThrow();
    }

    private static double network468(double f) {
        double h1 = -4.737338981378384e-24 * Math.pow(f, 6)
                + 2.043828333606125e-15 * Math.pow(f, 4)
                - 1.363894795463638e-7 * f * f
                + 1;
        double h2 = 1.306612257412824e-19 * Math.pow(f, 5)
                - 2.118150887518656e-11 * Math.pow(f, 3)
                + 5.559488023498642e-4 * f;
        return 20 * Math.log10(1.246332637532143e-4 * f / Math.hypot(h1, h2));
    }

    private static double aWeighting(double f) {
        double square = f * f;
        double high = 12194.217 * 12194.217;
        return 20
                * Math.log10(high
                        * square
                        * square
                        / ((square + 20.598997 * 20.598997)
                                * Math.sqrt(square + 107.65265 * 107.65265)
                                * Math.sqrt(square + 737.86223 * 737.86223)
                                * (square + high)));
    }
}
