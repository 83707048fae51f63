/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.quantity.ExpandedUncertainty;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/** Two digits of the uncertainty and as many of the value: JCGM 100:2008, 7.2.6. */
class WordsTest {
    @ParameterizedTest
    @CsvSource({
        "SPEED_ERROR, 2.00312, 0.0561, +2.003 ± 0.056 %",
        "SPEED_ERROR, -0.00001, 0.056, 0.000 ± 0.056 %",
        "TONE_FREQUENCY, 3150.04, 12.3, 3150 ± 12 Hz",
        "AZIMUTH_DELAY, -40.04, 4.76, −40.0 ± 4.8 µs",
        "FLUTTER_WEIGHTED_QUASI_PEAK, 0.1001, 0.012, 0.100 ± 0.012 %",
        "FLUTTER_WEIGHTED_QUASI_PEAK, 0.1001234, 0, 0.1001 %"
    })
    void asManyDigitsAsTheUncertaintyBears(Quantity quantity, double value, double halfWidth, String text) {
        Reading reading = Reading.valid(quantity, value, "test");
        Reading known = halfWidth > 0 ? reading.withUncertainty(new ExpandedUncertainty(halfWidth, 0.95)) : reading;
        assertThat(Words.value(known).replace('\u00a0', ' ')).isEqualTo(text);
    }

    @Test
    void whatHasNoValueHasItsStatus() {
        assertThat(Words.value(Reading.without(Quantity.SPEED_DRIFT, Status.INSUFFICIENT_DATA, "test")))
                .isEqualTo("insufficient-data");
    }

    /** Nothing measured is certain. */
    @ParameterizedTest
    @CsvSource({"1, > 99.9 %", "0, < 0.1 %", "0.9995, > 99.9 %", "0.5, 50 %", "0.993, 99.3 %", "0.004, 0.4 %"})
    void probabilitiesAreNeverRound(double probability, String text) {
        assertThat(Words.percent(probability).replace('\u00a0', ' ')).isEqualTo(text);
    }

    @Test
    void limitsAreInWords() {
        OptionalDouble none = OptionalDouble.empty();
        assertThat(Words.bounds(OptionalDouble.of(-1), OptionalDouble.of(1.5), "dB"))
                .isEqualTo("\u22121 to 1.5\u00a0dB");
        assertThat(Words.bounds(none, OptionalDouble.of(0.18), "%")).isEqualTo("at most 0.18\u00a0%");
        assertThat(Words.bounds(OptionalDouble.of(30), none, "dB")).isEqualTo("at least 30\u00a0dB");
    }
}
