/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.quantity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What a reading refuses, what its changes keep, how a measurement is looked into, and the words of the machine-readable output. */
class ReadingTest {
    private static final Reading LEVEL = Reading.valid(Quantity.LEVEL, -12.5, "mean power");
    private static final Reading NOTHING = Reading.without(Quantity.LEVEL, Status.NO_CARRIER, "mean power");

    private static Reading reading(OptionalInt channel, double value, Unit unit, Status status, double noiseReach) {
        return new Reading(
                Quantity.LEVEL,
                channel,
                OptionalDouble.of(value),
                unit,
                status,
                Optional.empty(),
                Optional.empty(),
                noiseReach,
                "test",
                OptionalDouble.empty(),
                OptionalDouble.empty());
    }

    @Test
    void aValidReadingHasAValueAndNoOtherHas() {
        assertThat(LEVEL.isValid()).isTrue();
        assertThat(LEVEL.value()).hasValue(-12.5);
        assertThat(LEVEL.unit()).isEqualTo(Unit.DBFS);
        assertThat(LEVEL.method()).isEqualTo("mean power");
        assertThat(LEVEL.channel()).isEmpty();
        assertThat(NOTHING.isValid()).isFalse();
        assertThat(NOTHING.value()).isEmpty();
        assertThat(NOTHING.status()).isEqualTo(Status.NO_CARRIER);
        assertThatThrownBy(() -> reading(OptionalInt.empty(), 1, Unit.DBFS, Status.OVERLOAD, 0))
                .hasMessage("level: status overload does not go with value OptionalDouble[1.0]");
        assertThatThrownBy(() -> Reading.without(Quantity.LEVEL, Status.VALID, "test"))
                .hasMessageContaining("status valid does not go with value OptionalDouble.empty");
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY})
    void aValueIsFinite(double value) {
        assertThatThrownBy(() -> Reading.valid(Quantity.LEVEL, value, "test"))
                .hasMessage("level: value " + value + " is not finite");
        assertThatThrownBy(() -> LEVEL.withNoiseReach(value)).hasMessageContaining("noiseReach " + value);
    }

    @Test
    void unitChannelAndReachAreChecked() {
        assertThat(reading(OptionalInt.of(1), 1, Unit.DECIBEL, Status.VALID, 0).channel())
                .hasValue(1);
        assertThatThrownBy(() -> reading(OptionalInt.of(0), 1, Unit.DBFS, Status.VALID, 0))
                .hasMessage("level: channel 0 is below 1, the first channel");
        assertThatThrownBy(() -> reading(OptionalInt.empty(), 1, Unit.PERCENT, Status.VALID, 0))
                .hasMessage("level is not given in %");
        assertThatThrownBy(() -> reading(OptionalInt.empty(), 1, Unit.DBFS, Status.VALID, -1e-9))
                .hasMessage("level: noiseReach -1.0E-9 is not in [0, infinity)");
        // Decibels stand in for dBFS alone.
        assertThatThrownBy(() -> new Reading(
                        Quantity.SPEED_ERROR,
                        OptionalInt.empty(),
                        OptionalDouble.of(1),
                        Unit.DECIBEL,
                        Status.VALID,
                        Optional.empty(),
                        Optional.empty(),
                        0,
                        "test",
                        OptionalDouble.empty(),
                        OptionalDouble.empty()))
                .hasMessage("speed.error is not given in dB");
    }

    /** Each change keeps what the others made. */
    @Test
    void changesKeepEverythingElse() {
        StandardUncertainty scatter = new StandardUncertainty(0.1, 5);
        Reading all = LEVEL.onChannel(2)
                .atFrequency(1000)
                .atTime(3.5)
                .withTypeA(scatter)
                .withNoiseReach(0.25)
                .withValue(-13);
        assertThat(all)
                .isEqualTo(new Reading(
                        Quantity.LEVEL,
                        OptionalInt.of(2),
                        OptionalDouble.of(-13),
                        Unit.DBFS,
                        Status.VALID,
                        Optional.of(scatter.expanded()),
                        Optional.of(scatter),
                        0.25,
                        "mean power",
                        OptionalDouble.of(1000),
                        OptionalDouble.of(3.5)));
        ExpandedUncertainty known = new ExpandedUncertainty(0.5, 0.95, true);
        Reading whole = all.withUncertainty(known).re(-20);
        assertThat(whole.uncertainty()).contains(known);
        assertThat(whole.typeA()).contains(scatter);
        assertThat(whole.noiseReach()).isEqualTo(0.25);
        assertThat(whole.value()).hasValue(7); // -13 - -20
        assertThat(whole.unit()).isEqualTo(Unit.DECIBEL);
        assertThat(whole.re(-20)).isSameAs(whole); // no level any more
    }

    @Test
    void whatHasNoValueStaysWithoutOne() {
        assertThat(NOTHING.withValue(3)).isEqualTo(NOTHING);
        assertThat(NOTHING.re(-20).value()).isEmpty();
        assertThat(NOTHING.re(-20).unit()).isEqualTo(Unit.DECIBEL);
    }

    @Test
    void aMeasurementIsLookedInto() {
        Reading first = LEVEL.onChannel(1);
        Reading second = LEVEL.onChannel(2).withValue(-3);
        List<Reading> readings = new ArrayList<>(List.of(first, second));
        Measurement measurement = new Measurement(readings, List.of());
        readings.clear(); // it has a list of its own
        assertThat(measurement.find(Quantity.LEVEL)).contains(first);
        assertThat(measurement.find(Quantity.LEVEL, 2)).contains(second);
        assertThat(measurement.find(Quantity.LEVEL, 3)).isEmpty();
        assertThat(measurement.find(Quantity.SPEED_ERROR)).isEmpty();
        assertThat(measurement.find(Quantity.SPEED_ERROR, 1)).isEmpty();
        assertThat(new Measurement(List.of(LEVEL), List.of()).find(Quantity.LEVEL, 0))
                .contains(LEVEL); // 0 for one between channels
        assertThat(measurement.warnsOf(WarningCode.OVERLOAD)).isFalse();
        Warning warning = Warning.during(WarningCode.OVERLOAD, "too loud", 1, 2);
        Measurement warned = measurement.withWarning(warning).withWarning(Warning.of(WarningCode.NOISE, "hiss"));
        assertThat(warned.warnings()).containsExactly(warning, Warning.of(WarningCode.NOISE, "hiss"));
        assertThat(warned.readings()).containsExactly(first, second);
        assertThat(warned.warnsOf(WarningCode.OVERLOAD)).isTrue();
        assertThat(warned.warnsOf(WarningCode.FRINGING)).isFalse();
        assertThat(measurement.warnings()).isEmpty();
    }

    @Test
    void aWarningKnowsItsPlace() {
        Warning warning =
                Warning.during(WarningCode.CARRIER_LOST, "gone", 1.5, 2.5).onChannel(2);
        assertThat(warning.channel()).hasValue(2);
        assertThat(warning.fromSeconds()).hasValue(1.5);
        assertThat(warning.toSeconds()).hasValue(2.5);
        assertThat(warning.message()).isEqualTo("gone");
        assertThat(Warning.of(WarningCode.NOISE, "hiss").channel()).isEmpty();
        assertThat(Warning.of(WarningCode.NOISE, "hiss").fromSeconds()).isEmpty();
    }

    @ParameterizedTest
    @EnumSource
    void aQuantityIsFoundByItsId(Quantity quantity) {
        assertThat(Quantity.ofId(quantity.id())).contains(quantity);
        assertThat(quantity.id()).matches("[a-z]+([.-][a-z]+)*");
        assertThat(quantity.definition()).isNotBlank();
        assertThat(quantity.unit().symbol()).isNotBlank();
    }

    /** The words of the machine-readable output: statuses and some of each other kind. */
    @Test
    void wordsAreThoseOfTheOutput() {
        assertThat(Arrays.stream(Status.values()).map(Status::id))
                .containsExactly(
                        "valid",
                        "settling",
                        "insufficient-data",
                        "no-carrier",
                        "interrupted",
                        "overload",
                        "invalid-input",
                        "ambiguous");
        assertThat(Arrays.stream(WarningCode.values()).map(WarningCode::id))
                .doesNotHaveDuplicates()
                .contains("nominal-assumed", "carrier-lost", "whole-cycle");
        assertThat(Arrays.stream(Unit.values()).map(Unit::symbol))
                .doesNotHaveDuplicates()
                .contains("Hz", "%", "%/min", "dBFS", "dB", "us", "arcmin");
        assertThat(Arrays.stream(Confidence.values()).map(Confidence::id))
                .doesNotHaveDuplicates()
                .contains("memory", "computed", "common-practice");
        assertThat(Quantity.FLUTTER_WEIGHTED_TWO_SIGMA.id()).isEqualTo("flutter.weighted.two-sigma");
        assertThat(Quantity.ofId("flutter")).isEmpty();
        assertThat(Quantity.SPEED_DRIFT.unit()).isEqualTo(Unit.PERCENT_PER_MINUTE);
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY})
    void aPlaceThatIsNotFiniteIsNamed(double place) {
        Reading response = Reading.valid(Quantity.RESPONSE, -1.5, "by hand");
        assertThatThrownBy(() -> response.atFrequency(place))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("response: atFrequencyHz " + place + " is not finite");
        assertThatThrownBy(() -> response.atTime(place))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("response: atSeconds " + place + " is not finite");
        assertThat(response.atFrequency(1000).atTime(0.5).atSeconds()).hasValue(0.5);
    }
}
