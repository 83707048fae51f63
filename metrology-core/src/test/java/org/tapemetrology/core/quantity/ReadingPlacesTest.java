/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.quantity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ReadingPlacesTest {
    private static final Reading READING = Reading.valid(Quantity.RESPONSE, -1.5, "by hand");

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY})
    void aPlaceThatIsNotFiniteIsNamed(double place) {
        assertThatThrownBy(() -> READING.atFrequency(place))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("response: atFrequencyHz " + place + " is not finite");
        assertThatThrownBy(() -> READING.atTime(place))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("response: atSeconds " + place + " is not finite");
        assertThat(READING.atFrequency(1000).atTime(0.5).atSeconds()).hasValue(0.5);
    }
}
