/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.quantity.Confidence;

class ReplayEqualisationTest {
    private static final double[] FREQUENCIES = {
        31.5, 63, 125, 250, 315, 500, 1000, 2000, 4000, 6300, 8000, 10000, 12500, 16000, 20000
    };

    /** Half of the last printed digit, and the rounding of the arithmetic. */
    private static final double PRINTED = 0.005 + 1e-9;

    private static ReplayEqualisation curve(String constants) {
        String[] parts = constants.split("\\+", -1);
        return parts.length == 2
                ? ReplayEqualisation.of(Double.parseDouble(parts[0]), Double.parseDouble(parts[1]))
                : ReplayEqualisation.trebleOnly(Double.parseDouble(parts[0]));
    }

    private static double[] printed(String row) {
        String[] cells = row.trim().split("\\s+", -1);
        double[] values = new double[cells.length];
        for (int i = 0; i < cells.length; i++) {
            values[i] = Double.parseDouble(cells[i]);
        }
        assertThat(values).hasSameSizeAs(FREQUENCIES);
        return values;
    }

    /** The table of recorded flux by the formula of IEC 60094-1:1981 clause 15 (computed: the printed table was not seen). */
    @ParameterizedTest
    @CsvSource({
        "3180+120, +5.47 +2.12 +0.61 +0.02 -0.13 -0.53 -1.94 -5.15 -10.04 -13.72 -15.73 -17.62 -19.53 -21.66 -23.59",
        "3180+70, +5.47 +2.12 +0.63 +0.12 +0.03 -0.16 -0.76 -2.49 -6.12 -9.38 -11.26 -13.08 -14.95 -17.03 -18.94",
        "3180+90, +5.47 +2.12 +0.62 +0.08 -0.03 -0.29 -1.19 -3.57 -7.86 -11.36 -13.32 -15.18 -17.07 -19.18 -21.10",
        "3180+50, +5.47 +2.12 +0.64 +0.14 +0.07 -0.06 -0.40 -1.44 -4.11 -6.92 -8.64 -10.36 -12.15 -14.19 -16.07",
        "70, 0.00 0.00 -0.01 -0.05 -0.08 -0.21 -0.77 -2.49 -6.12 -9.38 -11.26 -13.08 -14.95 -17.03 -18.94",
        "35, 0.00 0.00 0.00 -0.01 -0.02 -0.05 -0.21 -0.77 -2.49 -4.65 -6.12 -7.66 -9.32 -11.26 -13.08",
        "17.5, 0.00 0.00 0.00 0.00 -0.01 -0.01 -0.05 -0.21 -0.77 -1.70 -2.49 -3.44 -4.61 -6.12 -7.66"
    })
    void recordedFluxIsThePrintedTable(String constants, String row) {
        double[] expected = printed(row);
        for (int i = 0; i < FREQUENCIES.length; i++) {
            assertThat(curve(constants).fluxLevelDb(FREQUENCIES[i]))
                    .as("%s us at %s Hz", constants, FREQUENCIES[i])
                    .isCloseTo(expected[i], within(PRINTED));
        }
    }

    @ParameterizedTest
    @CsvSource({
        "315, 3180+120, +5.60 +2.25 +0.74 +0.15 0 -0.40 -1.81 -5.02 -9.91 -13.59 -15.60 -17.49 -19.40 -21.53 -23.46",
        "315, 3180+70, +5.44 +2.10 +0.61 +0.09 0 -0.19 -0.78 -2.51 -6.15 -9.41 -11.29 -13.11 -14.97 -17.06 -18.97",
        "315, 3180+90, +5.50 +2.15 +0.65 +0.11 0 -0.26 -1.17 -3.55 -7.84 -11.34 -13.29 -15.15 -17.05 -19.16 -21.08",
        "1000, 3180+120, +7.41 +4.06 +2.55 +1.96 +1.81 +1.41 0 -3.20 -8.10 -11.78 -13.78 -15.68 -17.59 -19.72 -21.64",
        "1000, 3180+70, +6.23 +2.88 +1.39 +0.88 +0.78 +0.60 0 -1.73 -5.36 -8.63 -10.51 -12.33 -14.19 -16.28 -18.18",
        "1000, 3180+90, +6.66 +3.31 +1.82 +1.28 +1.17 +0.90 0 -2.38 -6.67 -10.17 -12.12 -13.99 -15.88 -17.99 -19.91",
        "1000, 3180+50, +5.87 +2.52 +1.04 +0.54 +0.46 +0.34 0 -1.04 -3.72 -6.52 -8.24 -9.96 -11.76 -13.80 -15.67",
        "1000, 70, +0.77 +0.76 +0.75 +0.72 +0.69 +0.56 0 -1.72 -5.35 -8.62 -10.50 -12.32 -14.18 -16.27 -18.17",
        "1000, 35, +0.20 +0.20 +0.20 +0.19 +0.18 +0.15 0 -0.56 -2.28 -4.45 -5.92 -7.46 -9.12 -11.06 -12.88",
        "1000, 17.5, +0.05 +0.05 +0.05 +0.05 +0.05 +0.04 0 -0.15 -0.72 -1.65 -2.44 -3.39 -4.56 -6.07 -7.61"
    })
    void relativeFluxIsThePrintedTable(double referenceHz, String constants, String row) {
        double[] expected = printed(row);
        for (int i = 0; i < FREQUENCIES.length; i++) {
            assertThat(curve(constants).fluxLevelDb(FREQUENCIES[i], referenceHz))
                    .as("%s us at %s Hz re %s Hz", constants, FREQUENCIES[i], referenceHz)
                    .isCloseTo(expected[i], within(PRINTED));
        }
    }

    /** Computed from the formula; the limit is 20 lg(120/70). */
    @ParameterizedTest
    @CsvSource({"1000, 1.19", "2000, 2.66", "4000, 3.92", "6300, 4.34", "10000, 4.54", "16000, 4.62", "1e7, 4.68"})
    void aRecordingFor70MicrosecondsIsTooBrightWhenReplayedFor120(double frequencyHz, double expected) {
        ReplayEqualisation chrome = Iec60094Edition1981.CASSETTE_TYPE_II_III_IV.curve();
        ReplayEqualisation ferric = Iec60094Edition1981.CASSETTE_TYPE_I.curve();
        assertThat(chrome.replayedByDb(ferric, frequencyHz)).isCloseTo(expected, within(PRINTED));
        assertThat(ferric.replayedByDb(chrome, frequencyHz)).isCloseTo(-expected, within(PRINTED));
    }

    /** Computed; three printed digits. */
    @Test
    void theOldReferenceFrequenciesLieBelow315HertzOnTheFerricCurve() {
        ReplayEqualisation ferric = Iec60094Edition1981.CASSETTE_TYPE_I.curve();
        assertThat(ferric.fluxLevelDb(315)).isCloseTo(-0.130, within(0.0005));
        assertThat(ferric.fluxLevelDb(333)).isCloseTo(-0.168, within(0.0005));
        assertThat(ferric.fluxLevelDb(400)).isCloseTo(-0.311, within(0.0005));
    }

    /** Computed, 1/(2 pi t), to the printed digit. */
    @ParameterizedTest
    @CsvSource({
        "3180, 50.05, 0.005",
        "120, 1326.3, 0.05",
        "90, 1768.4, 0.05",
        "70, 2273.6, 0.05",
        "50, 3183.1, 0.05",
        "35, 4547.3, 0.05",
        "17.5, 9094.6, 0.05"
    })
    void cornerFrequenciesAreThePrintedOnes(double microseconds, double hertz, double halfDigit) {
        assertThat(ReplayEqualisation.cornerHz(microseconds)).isCloseTo(hertz, within(halfDigit));
    }

    @Test
    void theReplayAmplifierUndoesFluxCurveAndHead() {
        ReplayEqualisation curve = ReplayEqualisation.of(3180, 90);
        for (double frequencyHz : FREQUENCIES) {
            double head = 20 * Math.log10(frequencyHz / 1000);
            assertThat(curve.fluxLevelDb(frequencyHz, 1000) + head + curve.replayGainDb(frequencyHz, 1000))
                    .as("flat at %s Hz", frequencyHz)
                    .isCloseTo(0, within(1e-12)); // rounding of sums of some tens of dB
        }
    }

    /** IASA-TC 04, 5.4.10 table 1 (verified down to 9.5 cm/s). */
    @Test
    void everyRowNamesItsSourceAndIsPublishedOnce() {
        assertThat(Iec60094Edition1981.rows())
                .hasSize(8)
                .doesNotHaveDuplicates()
                .allSatisfy(row -> assertThat(row.source()).isNotBlank());
        assertThat(Iec60094Edition1981.REEL_9_IEC2.curve()).isEqualTo(ReplayEqualisation.of(3180, 90));
        assertThat(EarlierReplayEqualisations.rows()).hasSize(6).doesNotHaveDuplicates();
        assertThat(EarlierReplayEqualisations.CASSETTE_DIN.confidence()).isEqualTo(Confidence.MEMORY);
        assertThat(Iec60094Edition1981.CASSETTE_TYPE_I.confidence()).isEqualTo(Confidence.SECOND_HAND);
    }

    @Test
    void badInputIsNamed() {
        assertThatThrownBy(() -> ReplayEqualisation.trebleOnly(0))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("trebleMicroseconds 0.0 is not in (0, infinity)");
        assertThatThrownBy(() -> ReplayEqualisation.of(Double.NaN, 50))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("bassMicroseconds NaN");
        assertThatThrownBy(() -> ReplayEqualisation.trebleOnly(50).fluxLevelDb(-1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("frequencyHz -1.0");
    }

    /** Relative to a reference frequency a wrong setting is nothing there: the difference of two rows of the test above. */
    @Test
    void aWrongSettingIsNothingAtItsReference() {
        ReplayEqualisation recorded = ReplayEqualisation.of(3180, 70);
        ReplayEqualisation replay = ReplayEqualisation.of(3180, 120);
        assertThat(recorded.replayedByDb(replay, 315, 315)).isZero();
        assertThat(recorded.replayedByDb(replay, 10_000, 315))
                .isCloseTo(recorded.replayedByDb(replay, 10_000) - recorded.replayedByDb(replay, 315), within(1e-12))
                .isGreaterThan(4);
    }
}
