/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;

/** The delay of two waves. */
class ReadersTest {
    private static Measurement of(Reading... readings) {
        return new Measurement(List.of(readings), List.of());
    }

    private static Measurement delay(double microseconds) {
        return of(Reading.valid(Quantity.AZIMUTH_DELAY, microseconds, "formula"));
    }

    /** A delay of the long wave to within half a period of the short one tells which of its cycles it is. */
    @ParameterizedTest
    @CsvSource({
        "10, 12, 12",
        "95, -3, 97",
        "-240, 30, -270",
        "149, 0, 100",
        "-151, 0, -200",
    })
    void theLongWaveTellsTheCycle(double coarse, double fine, double delay) {
        assertThat(Readers.delay(List.of(delay(coarse), delay(fine)), 100)
                        .value()
                        .orElseThrow())
                .isCloseTo(delay, within(1e-9));
    }
}
