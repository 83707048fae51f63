/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.damage;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.table.PublishedTables;
import org.tapemetrology.signals.table.WeightingRow;

/** What is said to be true of a tone's flutter, against numbers. */
class ToneTruthTest {
    private static final double SECONDS = 10;
    private static final int STEPS = 4000;

    private static WeightingRow row(double hz) {
        return PublishedTables.flutterWeighting().rows().stream()
                .filter(row -> Math.abs(row.exactHz() / hz - 1) < 0.01)
                .findFirst()
                .orElseThrow();
    }

    /**
     * The average, of a sine its RMS: lines whose rates are small multiples of one rate keep their phases to each other, and their
     * average depends on them; of 10, 20 and 40 Hz it may be 0.80 of the RMS. Others pass all phases.
     */
    @ParameterizedTest
    @ValueSource(strings = {"10 20 40", "2 4 20", "4 20", "0.8 4", "10 63", "4 63"})
    void anAverageIsWithinWhatIsTrueOfAnyPhases(String rates) {
        Random random = new Random(2);
        for (int trial = 0; trial < 200; trial++) {
            List<Line> lines = new ArrayList<>();
            for (String rate : rates.split(" ", -1)) {
                lines.add(new Line(
                        row(Double.parseDouble(rate)), 0.001 * (0.2 + random.nextDouble()), 6.3 * random.nextDouble()));
            }
            Truths truths = new Truths();
            new ToneTruth(FmTone.builder(3150).build(), lines, 0, SECONDS).flutter(truths);
            double sum = 0;
            for (int i = 0; i < STEPS; i++) {
                double deviation = 0;
                for (Line line : lines) {
                    deviation += line.peakWithin(2, 0.5, 200)
                            * Math.cos(2 * Math.PI * line.rateHz() * SECONDS * i / STEPS + line.phase());
                }
                sum += Math.abs(deviation);
            }
            double average = 100 * Math.PI / Math.sqrt(8) * sum / STEPS;
            Truth truth = truths.of("flutter.unweighted.average");
            assertThat(average).as("trial %d", trial).isBetween(truth.low(), truth.high());
        }
    }
}
