/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.OptionalDouble;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

class PeakSearchTest {
    private static PeakSearch search(DoubleUnaryOperator level, double step) {
        PeakSearch search = new PeakSearch(step, 20);
        double place = 0;
        for (OptionalDouble next = OptionalDouble.of(0); next.isPresent(); next = search.next()) {
            place = next.getAsDouble();
            search.found(place, level.applyAsDouble(place));
        }
        return search;
    }

    /** A parabola is found to rounding: the vertex is that of the points. */
    @Test
    void aParabolaIsFound() {
        for (double at : new double[] {-1.3, 0, 0.04, 2}) {
            PeakSearch search = search(x -> -3 * (x - at) * (x - at), 0.3);
            assertThat(search.peak().orElseThrow()).isCloseTo(at, within(1e-9));
        }
    }

    /**
     * A track across the gap, sin(x)/x in dB, with levels that jump: of five points a step apart the vertex scatters by
     * s/(2 c step^2) / sqrt(10) steps and more, 0.05 here; four times that is held.
     */
    @Test
    void aHeadOfUnevenTapeIsFound() {
        for (int seed = 0; seed < 50; seed++) {
            Random random = new Random(seed);
            double at = random.nextDouble(-0.8, 0.8);
            PeakSearch search = search(
                    x -> {
                        double z = 3.5 * (x - at) + 1e-9;
                        return 20 * Math.log10(Math.abs(Math.sin(z) / z)) + 0.15 * random.nextGaussian();
                    },
                    0.2);
            assertThat(search.peak().orElseThrow()).as("seed %d", seed).isCloseTo(at, within(0.2));
        }
    }

    @Test
    void aLevelThatOnlyRisesHasNoPeak() {
        assertThat(search(x -> x, 0.3).peak()).isEmpty();
    }

    /** Levels that are lopsided far from the peak do not move it: the nearest five alone count. */
    @Test
    void theNearestFiveCount() {
        PeakSearch search = new PeakSearch(1, 20);
        for (int place = -8; place <= 4; place++) {
            double off = place - 1.75;
            search.found(place, place < -1 ? -60 : -off * off);
        }
        assertThat(search.peak().orElseThrow()).isCloseTo(1.75, within(1e-9));
    }
}
