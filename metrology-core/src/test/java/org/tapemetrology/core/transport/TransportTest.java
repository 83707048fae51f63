/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.transport;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TransportTest {
    private static final double CASSETTE = 47.625;

    /** Kinematics, v/(pi d); rates to the printed digit. */
    @ParameterizedTest
    @CsvSource({
        "47.625, 1.9, 7.98",
        "47.625, 2.0, 7.58",
        "47.625, 2.4, 6.32",
        "47.625, 2.5, 6.06",
        "47.625, 3.0, 5.05",
        "47.625, 10, 1.52",
        "47.625, 11, 1.38",
        "47.625, 12, 1.26",
        "47.625, 13, 1.17",
        "190.5, 6.35, 9.55",
        "190.5, 10, 6.06",
        "381, 10, 12.13",
        "381, 12.7, 9.55"
    })
    void whatTheTapeTurns(double speed, double diameter, double hz) {
        Part part = Transport.builder(speed)
                .capstan("capstan", diameter)
                .build()
                .parts()
                .get(0);
        assertThat(part.lowestHz()).isEqualTo(part.highestHz()).isCloseTo(hz, within(0.005));
    }

    /** v/(2 pi r) of the hub and the full pack, to the printed digit. */
    @Test
    void aPackHasABandOfRates() {
        Part pack = Transport.builder(CASSETTE)
                .pack("take-up", 11, 25.2)
                .build()
                .parts()
                .get(0);
        assertThat(pack.highestHz()).isCloseTo(0.689, within(0.0005));
        assertThat(pack.lowestHz()).isCloseTo(0.301, within(0.0005));
    }

    /** n c/(2 L) for c = 1500 m/s to 2000 m/s: 100 mm have 7.5 kHz to 10 kHz. */
    @Test
    void aFreeLengthVibrates() {
        Part guide =
                Transport.builder(CASSETTE).guide("guide", 100).build().parts().get(0);
        assertThat(guide.lowestHz()).isCloseTo(7500, within(1e-9));
        assertThat(guide.highestHz()).isCloseTo(10_000, within(1e-9));
    }

    /** A motor of 2000 turns a minute, 10 mm on 60 mm; a belt of 210 mm over the pulley of 6 mm; gears of 20 on 50 teeth. */
    @Test
    void ratesFollowThroughPulleysBeltsAndGears() {
        Transport transport = Transport.builder(CASSETTE)
                .shaft("motor", 2000 / 60.0)
                .wheel("flywheel", "motor", 10, 60)
                .beltOver("belt", 210, "motor", 6)
                .wheel("gear", "flywheel", 20, 50)
                .belt("long belt", 210, 630)
                .build();
        assertThat(transport.parts())
                .extracting(Part::lowestHz)
                .satisfiesExactly(
                        motor -> assertThat(motor).isCloseTo(33.3333, within(1e-4)),
                        flywheel -> assertThat(flywheel).isCloseTo(5.5556, within(1e-4)),
                        belt -> assertThat(belt).isCloseTo(33.3333 * Math.PI * 6 / 210, within(1e-4)),
                        gear -> assertThat(gear).isCloseTo(2.2222, within(1e-4)),
                        belt -> assertThat(belt).isCloseTo(3, within(1e-9)));
    }

    @Test
    void wrongDescriptionsAreRefused() {
        Transport.Builder builder = Transport.builder(CASSETTE).capstan("capstan", 2);
        assertThatThrownBy(() -> builder.capstan("capstan", 2)).hasMessageContaining("capstan already");
        assertThatThrownBy(() -> builder.roller("roller", 0)).hasMessageContaining("diameterMillimetres 0.0");
        assertThatThrownBy(() -> builder.wheel("wheel", "motor", 1, 2)).hasMessageContaining("drivenBy motor");
        assertThatThrownBy(() -> builder.beltOver("belt", 10, "capstan", 6)).hasMessageContaining("lengthMillimetres");
        assertThatThrownBy(() -> builder.pack("pack", 25, 11)).hasMessageContaining("fullRadiusMillimetres");
        assertThatThrownBy(() -> Transport.builder(0)).hasMessageContaining("tapeSpeed");
        assertThatThrownBy(() -> Transport.builder(47).build()).isInstanceOf(IllegalStateException.class);
    }

    @Test
    void aMeasuredPartTakesThePlaceOfItsNamesake() {
        Transport transport = Transport.builder(CASSETTE)
                .capstan("capstan", 2)
                .roller("roller", 10)
                .withUncertainty(0.03)
                .build();
        assertThat(transport.tapeSpeedMillimetresPerSecond()).isEqualTo(CASSETTE);
        assertThat(transport.parts()).extracting(Part::relativeUncertainty).containsExactly(0.005, 0.03);
        Part measured = new Part("capstan", PartKind.CAPSTAN, 7.6, 7.6, 0.001);
        Transport better = transport.with(measured);
        assertThat(better.parts()).containsExactly(measured, transport.parts().get(1));
        assertThat(better.tapeSpeedMillimetresPerSecond()).isEqualTo(CASSETTE);
        Part other = new Part("flywheel", PartKind.WHEEL, 7.6, 7.6, 0.001);
        assertThatThrownBy(() -> transport.with(other)).hasMessage("there is no part flywheel");
        assertThat(transport
                        .with(new Part("roller", PartKind.ROLLER, 1, 1, 0.01))
                        .parts())
                .hasSize(2);
        assertThatThrownBy(() -> Transport.builder(CASSETTE).withUncertainty(0.1))
                .hasMessage("no part was described yet");
    }

    @Test
    void partsAreChecked() {
        assertThatThrownBy(() -> new Part(" ", PartKind.SHAFT, 1, 1, 0.1)).hasMessageContaining("blank");
        assertThatThrownBy(() -> new Part("motor", PartKind.SHAFT, 0, 1, 0.1))
                .hasMessageContaining("lowest rate of motor 0.0");
        assertThatThrownBy(() -> new Part("motor", PartKind.SHAFT, 2, 1, 0.1))
                .hasMessageContaining("highest rate of motor 1.0");
        assertThatThrownBy(() -> new Part("motor", PartKind.SHAFT, 1, 1, 0.6))
                .hasMessageContaining("relative uncertainty of motor 0.6");
        double round = Math.PI * 6;
        Transport.Builder builder = Transport.builder(CASSETTE).shaft("motor", 30);
        assertThatThrownBy(() -> builder.beltOver("belt", round, "motor", 6)).hasMessageContaining("not above the way");
        assertThatThrownBy(() -> builder.belt("belt", 210, 0)).hasMessageContaining("speedMillimetresPerSecond 0.0");
        assertThatThrownBy(() -> builder.belt("belt", 0, 1)).hasMessageContaining("lengthMillimetres 0.0");
        assertThatThrownBy(() -> builder.wheel("wheel", "motor", 0, 1)).hasMessageContaining("driverSize 0.0");
        assertThatThrownBy(() -> builder.shaft("shaft", -1)).hasMessageContaining("ratePerSecond -1.0");
        assertThatThrownBy(() -> builder.guide("guide", 0)).hasMessageContaining("freeLengthMillimetres 0.0");
    }

    @Test
    void kindsHaveTheirWords() {
        assertThat(PartKind.values())
                .extracting(PartKind::id)
                .containsExactly("capstan", "roller", "shaft", "wheel", "belt", "pack", "guide");
        assertThat(PartKind.values()).extracting(PartKind::relativeUncertainty).allMatch(u -> u > 0 && u < 0.05);
    }
}
