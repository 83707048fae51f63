/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Means over cells against plain means of the same values. */
class CellMeansTest {
    @ParameterizedTest
    @ValueSource(ints = {1, 3, 200, 1001})
    void areThePlainMeansInWhateverBlocks(int block) {
        double[] deviation = new Random(1).doubles(1001, -1, 1).toArray();
        double[] power = new Random(2).doubles(1001).toArray();
        CellMeans means = new CellMeans(0.00106, 4000);
        assertThat(means.cellLength()).isEqualTo(4);
        List<double[]> cells = new ArrayList<>();
        for (int at = 0; at < deviation.length; at += block) {
            int length = Math.min(block, deviation.length - at);
            means.accept(deviation, power, at, length, (d, p) -> cells.add(new double[] {d, p}));
        }
        assertThat(cells).hasSize(250);
        assertThat(means.filled()).isEqualTo(1);
        for (int c = 0; c < cells.size(); c++) {
            double d = 0;
            double p = 0;
            for (int i = 4 * c; i < 4 * c + 4; i++) {
                d += deviation[i] / 4;
                p += power[i] / 4;
            }
            // Rounding of four numbers below 1.
            assertThat(cells.get(c)[0]).isCloseTo(d, within(1e-15));
            assertThat(cells.get(c)[1]).isCloseTo(p, within(1e-15));
        }
        means.drop();
        means.accept(deviation, power, 0, 4, (d, p) -> cells.add(new double[] {d, p}));
        assertThat(cells.get(250)).isEqualTo(cells.get(0));
    }
}
