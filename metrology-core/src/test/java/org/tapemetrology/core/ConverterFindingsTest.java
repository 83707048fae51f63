/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.Distribution;
import org.tapemetrology.core.uncertainty.StatedValue;

/** What a check makes of readings that are written down. */
class ConverterFindingsTest {
    private static Reading of(Quantity quantity, double value) {
        return Reading.valid(quantity, value, "m");
    }

    private static Measurement measurement(Reading... readings) {
        return new Measurement(Arrays.asList(readings), List.of());
    }

    private static Reading tone(double hz, double scatter) {
        return of(Quantity.TONE_FREQUENCY, hz).onChannel(1).withTypeA(StandardUncertainty.of(scatter));
    }

    @Test
    void everyFindingHasItsPlace() {
        Measurement loop = measurement(
                tone(1000, 0),
                of(Quantity.FLUTTER_WEIGHTED_RMS, 0.002).onChannel(1),
                of(Quantity.FLUTTER_WEIGHTED_RMS, 0.003).onChannel(2),
                of(Quantity.DISTORTION_THD, 0.02).onChannel(1),
                of(Quantity.DISTORTION_THD, 0.01).onChannel(2),
                of(Quantity.CHANNEL_BALANCE, -0.2).withTypeA(StandardUncertainty.of(0.004)),
                of(Quantity.AZIMUTH_DELAY, 3));
        Measurement silence = measurement(of(Quantity.NOISE_UNWEIGHTED, -95).onChannel(1));
        Converter found = new ConverterCheck(loop).silence(silence).result("loop");
        Converter assumed = Converter.assumed();
        // The worse channel counts.
        assertThat(found.ownFlutter()).isEqualTo(StatedValue.atMost(0.003, "loop-back recording"));
        assertThat(found.distortion()).isEqualTo(StatedValue.atMost(0.02, "loop-back recording"));
        assertThat(found.balance())
                .isEqualTo(new StatedValue(-0.2, Distribution.NORMAL, 0.004, "loop-back recording", false));
        assertThat(found.delay()).isEqualTo(new StatedValue(3, Distribution.NORMAL, 0, "loop-back recording", false));
        assertThat(found.noiseDbfs()).isEqualTo(-95);
        assertThat(found.name()).isEqualTo("loop");
        assertThat(found.clock()).isEqualTo(assumed.clock());
        assertThat(found.clockStability()).isEqualTo(assumed.clockStability());
        assertThat(found.gain()).isEqualTo(assumed.gain());
        assertThat(found.fullScale()).isEqualTo(assumed.fullScale());
        assertThat(found.crosstalkDb()).isEqualTo(assumed.crosstalkDb());
    }

    /** What was not found, or is not valid, stays what was known. */
    @Test
    void whatIsNotFoundStays() {
        Converter known = new ConverterCheck(measurement(
                        tone(1000, 0),
                        of(Quantity.CHANNEL_BALANCE, 1),
                        of(Quantity.AZIMUTH_DELAY, 7),
                        of(Quantity.DISTORTION_THD, 0.5),
                        of(Quantity.FLUTTER_WEIGHTED_RMS, 0.01)))
                .silence(measurement(of(Quantity.NOISE_UNWEIGHTED, -80)))
                .result("first");
        List<Reading> readings = new ArrayList<>(List.of(tone(1000, 0)));
        for (Quantity quantity : List.of(
                Quantity.CHANNEL_BALANCE,
                Quantity.AZIMUTH_DELAY,
                Quantity.DISTORTION_THD,
                Quantity.FLUTTER_WEIGHTED_RMS)) {
            readings.add(Reading.without(quantity, Status.SETTLING, "m"));
        }
        Converter again = new ConverterCheck(new Measurement(readings, List.of()))
                .beside(known)
                .silence(measurement(Reading.without(Quantity.NOISE_UNWEIGHTED, Status.SETTLING, "m")))
                .result("first");
        assertThat(again).isEqualTo(known);
        assertThat(new ConverterCheck(measurement(tone(1000, 0))).beside(known).result("first"))
                .isEqualTo(known);
    }

    /** A clock that is 80 ppm fast reads a tone 80 ppm low; scatter of both recordings and the other's 10 ppm add as squares. */
    @Test
    void aSecondRecorderTellsTheClock() {
        Measurement own = measurement(tone(1000, 0.003));
        Measurement second = measurement(tone(1000.08, 0.004));
        StatedValue clock = new ConverterCheck(own)
                .clockAgainst(own, second, 10)
                .result("c")
                .clock();
        assertThat(clock.value()).isCloseTo(80, within(1e-6));
        // 0.005 Hz in 1000 Hz are 5 ppm; a rectangle of 10 has 10/sqrt(3).
        assertThat(clock.halfWidth()).isCloseTo(Math.sqrt(25 + 100.0 / 3), within(1e-6));
        assertThat(clock.distribution()).isEqualTo(Distribution.NORMAL);
        assertThat(clock.source()).isEqualTo("second recorder, known within 10.0 ppm");
        assertThat(clock.assumed()).isFalse();
        assertThatThrownBy(() -> new ConverterCheck(own).clockAgainst(own, second, -1))
                .hasMessageContaining("withinPpm -1.0");
    }

    @Test
    void anIntervalTellsTheClock() {
        ConverterCheck check = new ConverterCheck(measurement(tone(1000, 0)));
        StatedValue clock =
                check.clockByInterval(600.03, 600, 0.003).result("c").clock();
        assertThat(clock.value()).isCloseTo(50, within(1e-6));
        assertThat(clock.halfWidth()).isCloseTo(5, within(1e-9));
        assertThat(clock.distribution()).isEqualTo(Distribution.RECTANGULAR);
        assertThat(clock.source()).isEqualTo("interval of 600.000 s, known within 0.00300 s");
        assertThatThrownBy(() -> check.clockByInterval(0, 600, 1)).hasMessageContaining("recordedSeconds 0.0");
        assertThatThrownBy(() -> check.clockByInterval(600, 0, 1)).hasMessageContaining("trueSeconds 0.0");
        assertThatThrownBy(() -> check.clockByInterval(600, 600, -1)).hasMessageContaining("withinSeconds -1.0");
    }

    @Test
    void aToneIsNeeded() {
        assertThatThrownBy(() -> new ConverterCheck(measurement()))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("the recording has no tone.frequency");
        Measurement silent = measurement(
                Reading.without(Quantity.TONE_FREQUENCY, Status.NO_CARRIER, "m").onChannel(1));
        assertThatThrownBy(() -> new ConverterCheck(silent))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("the recording has no valid tone.frequency: " + Status.NO_CARRIER.id());
        Measurement good = measurement(tone(1000, 0));
        assertThatThrownBy(() -> new ConverterCheck(good).clockAgainst(good, silent, 1))
                .isInstanceOf(IllegalArgumentException.class);
    }
}
