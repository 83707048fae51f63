/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Confidence;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/** DIN 45500 sheet 4 (second-hand): 5 dB from 250 Hz to 6.3 kHz, 7 dB outside, 40 Hz to 12.5 kHz. */
class ResponseFieldTest {
    private static final double[] FREQUENCIES = {40, 63, 125, 250, 500, 1000, 2000, 4000, 6300, 10000, 12500, 16000};

    private static List<Reading> response(double... levels) {
        List<Reading> readings = new ArrayList<>();
        for (int i = 0; i < levels.length; i++) {
            readings.add(Reading.valid(Quantity.RESPONSE, levels[i], "test").atFrequency(FREQUENCIES[i]));
        }
        return readings;
    }

    @Test
    void aWidthIsCountedFromTheHighestLevelAndNotFromTheReference() {
        ResponseField.Check inside =
                Din45500Sheet4.RESPONSE.check(response(-5, -5, -5, -3, 0, 0, 0, 2, -3, -5, -5, -20));
        assertThat(inside.isInside()).isTrue();
        assertThat(inside.points()).hasSize(11); // 16 kHz lies outside the field

        ResponseField.Check outside =
                Din45500Sheet4.RESPONSE.check(response(-5, -5, -5, -3, 0, 0, 0, 2.5, -3, -5, -5, -20));
        assertThat(outside.isInside()).isFalse();
        assertThat(outside.outside())
                .extracting(ResponseField.Point::frequencyHz)
                .containsExactly(40.0, 63.0, 125.0, 250.0, 6300.0, 10000.0, 12500.0);
    }

    @Test
    void whereBandsMeetTheNarrowerHolds() {
        ResponseField.Check check =
                Din45500Sheet4.RESPONSE.check(response(-6, -6, -6, -5.5, 0, 0, 0, 0, -5.5, -6, -6, 0));
        assertThat(check.outside()).extracting(ResponseField.Point::frequencyHz).containsExactly(250.0, 6300.0);
        assertThat(check.outside())
                .allSatisfy(point -> assertThat(point.marginDb()).isEqualTo(-0.5));
    }

    @Test
    void aResponseThatDoesNotReachBothEndsDecidesNothing() {
        assertThat(Din45500Sheet4.RESPONSE
                        .check(response(0, 0, 0, 0, 0, 0, 0, 0, 0, 0))
                        .status())
                .isEqualTo(Status.INSUFFICIENT_DATA);
        List<Reading> gap = response(0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0);
        gap.set(5, Reading.without(Quantity.RESPONSE, Status.NO_CARRIER, "test").atFrequency(1000));
        assertThat(Din45500Sheet4.RESPONSE.check(gap).status()).isEqualTo(Status.INSUFFICIENT_DATA);
        assertThat(Din45500Sheet4.RESPONSE.check(List.of()).isInside()).isFalse();
    }

    @Test
    void otherReadingsAndMixedChannelsAreRefused() {
        assertThatThrownBy(() -> Din45500Sheet4.RESPONSE.check(List.of(Reading.valid(Quantity.LEVEL, 0, "test"))))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("level");
        List<Reading> mixed = response(0, 0);
        mixed.set(0, mixed.get(0).onChannel(1));
        assertThatThrownBy(() -> Din45500Sheet4.RESPONSE.check(mixed))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("mixed");
    }

    private static ResponseField field(double... fromToWidth) {
        List<ResponseField.Band> bands = new ArrayList<>();
        for (int i = 0; i < fromToWidth.length; i += 3) {
            bands.add(new ResponseField.Band(fromToWidth[i], fromToWidth[i + 1], fromToWidth[i + 2]));
        }
        return new ResponseField(bands, "by hand", Confidence.MEMORY);
    }

    private static List<Reading> flat(double... frequencies) {
        return Arrays.stream(frequencies)
                .mapToObj(f -> Reading.valid(Quantity.RESPONSE, 0, "test").atFrequency(f))
                .toList();
    }

    private static Status status(double... frequencies) {
        return field(101, 1000, 3, 1000, 8080, 5).check(flat(frequencies)).status();
    }

    /** A test frequency may miss an edge by a hundredth, and be 2.83 times, one and a half octaves, above the one below. */
    @Test
    void aResponseReachesFromEdgeToEdgeInSteps() {
        assertThat(status(100, 283, 800, 2200, 6000, 8000)).isEqualTo(Status.VALID);
        assertThat(status(102, 283, 800, 2200, 6000, 8000)).isEqualTo(Status.VALID); // 101 times 1.01 is 102.01
        assertThat(status(102.1, 283, 800, 2200, 6000, 8000)).isEqualTo(Status.INSUFFICIENT_DATA);
        assertThat(status(100, 284, 800, 2200, 6000, 8000)).isEqualTo(Status.INSUFFICIENT_DATA);
        assertThat(status(100, 283, 800, 2200, 6000, 7990)).isEqualTo(Status.INSUFFICIENT_DATA);
    }

    @Test
    void pointsWithinAHundredthOfAnEdgeBelongToTheField() {
        ResponseField field = field(101, 1000, 3, 1000, 8000, 5);
        assertThat(field.check(flat(99.9, 100, 8080, 8081)).points())
                .extracting(ResponseField.Point::frequencyHz)
                .containsExactly(100.0, 8080.0);
    }

    @Test
    void bandsFollowOneAnother() {
        assertThatThrownBy(() -> field()).hasMessageContaining("at least one");
        assertThatThrownBy(() -> field(100, 1000, 3, 1001, 8000, 5))
                .hasMessageContaining("band 1 begins at 1001.0 Hz, not at 1000.0 Hz");
        assertThatThrownBy(() -> field(100, 1000, 3, 1000, 8000, 5, 7000, 9000, 5))
                .hasMessageContaining("band 2 begins at 7000.0 Hz, not at 8000.0 Hz");
        for (double to : new double[] {100, Double.POSITIVE_INFINITY, Double.NaN}) {
            assertThatThrownBy(() -> field(100, to, 3)).hasMessageContaining("toHz " + to);
        }
        assertThatThrownBy(() -> field(0, 100, 3)).hasMessageContaining("fromHz 0.0");
        assertThatThrownBy(() -> field(10, 100, 0)).hasMessageContaining("widthDb 0.0");
    }
}
