/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.loss;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.standard.ReplayEqualisation;

/** Against NumPy and SciPy (src/test/scipy/replay_losses.py), which reach the same figures by other ways. */
class ScipyLossTest {
    private static final double[] FREQUENCIES = {
        63, 125, 250, 315, 500, 1000, 2000, 4000, 6300, 8000, 10000, 12500, 14000, 16000
    };

    private static List<String[]> rows(String name) throws IOException {
        try (InputStream in = Objects.requireNonNull(ScipyLossTest.class.getResourceAsStream(name), name)) {
            return new String(in.readAllBytes(), StandardCharsets.US_ASCII)
                    .lines()
                    .filter(line -> !line.startsWith("#"))
                    .map(line -> line.split(",", -1))
                    .toList();
        }
    }

    @Test
    void lossesAndCurvesAgree() throws IOException {
        List<String[]> rows = rows("losses-scipy.csv");
        assertThat(rows).hasSize(17 * FREQUENCIES.length);
        for (String[] row : rows) {
            double frequencyHz = Double.parseDouble(row[2]);
            double wavelength = ReplayLoss.wavelengthMicrometres(frequencyHz, 4.76);
            double computed = switch (row[0]) {
                case "spacing" -> ReplayLoss.spacingDb(Double.parseDouble(row[1]), wavelength);
                case "gap" -> ReplayLoss.effectiveGapDb(Double.parseDouble(row[1]), wavelength);
                case "thickness" -> ReplayLoss.thicknessDb(Double.parseDouble(row[1]), wavelength);
                case "azimuth" -> ReplayLoss.azimuthDb(Double.parseDouble(row[1]), 0.6, wavelength);
                default -> curve(row[1]).fluxLevelDb(frequencyHz);
            };
            // The script integrates thickness and azimuth numerically, to some 1e-6 dB.
            assertThat(computed).as(String.join(" ", row)).isCloseTo(Double.parseDouble(row[3]), within(2e-6));
        }
    }

    private static ReplayEqualisation curve(String constants) {
        int plus = constants.indexOf('+');
        double bass = Double.parseDouble(constants.substring(0, plus));
        double treble = Double.parseDouble(constants.substring(plus + 1));
        return bass == 0 ? ReplayEqualisation.trebleOnly(treble) : ReplayEqualisation.of(bass, treble);
    }

    @Test
    void fitsAgreeInSizeErrorResidualAndCriterion() throws IOException {
        LossFit fit = LossFit.atSpeed(4.76).trackWidth(0.6).equalisation(ReplayEqualisation.of(3180, 120));
        LossFindings findings = fit.fit(new double[0], new double[0]);
        int compared = 0;
        for (String[] row : rows("loss-fit-scipy.csv")) {
            if (row.length == FREQUENCIES.length + 1) {
                double[] levels = new double[FREQUENCIES.length];
                for (int i = 0; i < levels.length; i++) {
                    levels[i] = Double.parseDouble(row[i + 1]);
                }
                findings = fit.fit(FREQUENCIES, levels);
                continue;
            }
            LossExplanation single = findings.ranked().stream()
                    .filter(explanation -> explanation.parameters().size() == 1
                            && explanation.parameters().get(0).cause().label().equals(row[1]))
                    .findFirst()
                    .orElseThrow(() -> new AssertionError(String.join(" ", row)));
            LossParameter parameter = single.parameters().get(0);
            double size = Double.parseDouble(row[4]);
            double error = Double.parseDouble(row[5]);
            // Both stop within a small part of the standard error of the minimum; SciPy's derivatives are one-sided.
            assertThat(parameter.value()).as(String.join(" ", row)).isCloseTo(size, within(2e-3 * error + 1e-6));
            assertThat(parameter.standardError()).as(String.join(" ", row)).isCloseTo(error, within(2e-3 * error));
            assertThat(single.offsetDb()).isCloseTo(Double.parseDouble(row[2]), within(1e-4));
            assertThat(single.offsetStandardErrorDb()).isCloseTo(Double.parseDouble(row[3]), within(1e-4));
            assertThat(single.residualDb())
                    .isCloseTo(Math.sqrt(Double.parseDouble(row[6]) / (FREQUENCIES.length - 2)), within(1e-5));
            assertThat(single.criterion()).isCloseTo(Double.parseDouble(row[7]), within(1e-3));
            compared++;
        }
        assertThat(compared).isEqualTo(25);
    }
}
