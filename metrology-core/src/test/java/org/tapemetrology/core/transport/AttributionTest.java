/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.transport;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.transport.ObservedFamily.Trend;

class AttributionTest {
    private static final double SPEED = 47.625;

    /** A cassette transport whose sizes are drawn from the ranges of the trade (common practice, no source). */
    private static Transport random(Random random) {
        return Transport.builder(SPEED)
                .capstan("capstan", 1.9 + 1.1 * random.nextDouble())
                .roller("pinch roller", 10 + 3 * random.nextDouble())
                .shaft("motor", 25 + 25 * random.nextDouble())
                .belt("main belt", 150 + 150 * random.nextDouble(), 500 + 300 * random.nextDouble())
                .wheel("idler", "capstan", 4, 20 + 20 * random.nextDouble())
                .pack("take-up pack", 11, 25.2)
                .guide("guide", 50 + 50 * random.nextDouble())
                .build();
    }

    /** Whether another part, at up to its third harmonic, is as near to a rate as geometry can tell. */
    private static boolean alone(Transport transport, Part part, double hz) {
        for (Part other : transport.parts()) {
            for (int n = 1; n <= 3 && !other.equals(part); n++) {
                double tolerance = 3 * Math.hypot(other.relativeUncertainty(), part.relativeUncertainty()) * hz;
                if (hz > n * other.lowestHz() - tolerance && hz < n * other.highestHz() + tolerance) {
                    return false;
                }
            }
        }
        return true;
    }

    /**
     * One faulty part in a thousand transports: its true rate is off its nominal one by the uncertainty of its kind, and the
     * line is known to 0.2 mHz, the Cramer-Rao bound of a line 20 dB above the noise in 60 s. It comes first in 95 of 100;
     * where another part has nearly the same rate, both are left open: the true one keeps at least a tenth in as many.
     */
    @Test
    void theRightPartComesFirst() {
        Random random = new Random(20261125);
        int alone = 0;
        int right = 0;
        int shared = 0;
        int open = 0;
        for (int trial = 0; trial < 1000; trial++) {
            Transport transport = random(random);
            Part faulty = transport.parts().get(random.nextInt(transport.parts().size()));
            double nominal = faulty.lowestHz() * Math.pow(faulty.highestHz() / faulty.lowestHz(), random.nextDouble());
            double hz = nominal * (1 + faulty.relativeUncertainty() * random.nextGaussian());
            Attribution attribution = Attribution.of(ObservedFamily.alone(hz, 2e-4), transport, 1);
            double sum = attribution.unexplained();
            for (Attribution.PartProbability each : attribution.parts()) {
                sum += each.probability();
            }
            assertThat(sum).as("probabilities").isCloseTo(1, within(0.05));
            if (alone(transport, faulty, hz)) {
                alone++;
                right += attribution.parts().isEmpty()
                                || !attribution.parts().get(0).part().equals(faulty.name())
                        ? 0
                        : 1;
            } else {
                shared++;
                right += !attribution.parts().isEmpty()
                                && attribution.parts().get(0).part().equals(faulty.name())
                        ? 1
                        : 0;
                open += attribution.parts().stream()
                                .anyMatch(each -> each.part().equals(faulty.name()) && each.probability() > 0.1)
                        ? 1
                        : 0;
            }
        }
        assertThat(alone).isGreaterThan(600);
        assertThat(right).as("of 1000").isGreaterThanOrEqualTo(950);
        assertThat(shared).isGreaterThan(200);
        assertThat(open).as("of %d", shared).isGreaterThanOrEqualTo((int) Math.ceil(0.95 * shared));
    }

    @Test
    void twoPartsOfOneRateAreLeftOpen() {
        Transport transport = Transport.builder(SPEED)
                .roller("left roller", 12)
                .roller("right roller", 12)
                .capstan("capstan", 2)
                .build();
        double hz = SPEED / (Math.PI * 12);
        Attribution attribution = Attribution.of(ObservedFamily.alone(hz, 1e-3), transport, 1);
        assertThat(attribution.parts().get(0).probability())
                .isCloseTo(attribution.parts().get(1).probability(), within(1e-9))
                .isBetween(0.4, 0.5);
    }

    @Test
    void ratesScaleWithTheSpeedOfTheTape() {
        Transport transport = Transport.builder(SPEED)
                .capstan("capstan", 2)
                .roller("roller", 1.9)
                .build();
        double hz = 1.05 * SPEED / (Math.PI * 2);
        Attribution fast = Attribution.of(ObservedFamily.alone(hz, 1e-3), transport, 1.05);
        assertThat(fast.parts().get(0).part()).isEqualTo("capstan");
        Attribution slow = Attribution.of(ObservedFamily.alone(hz, 1e-3), transport, 1);
        assertThat(slow.parts().get(0).part()).isEqualTo("roller");
    }

    @Test
    void whatNoPartExplainsIsSaid() {
        Transport transport = Transport.builder(SPEED).capstan("capstan", 2).build();
        Attribution attribution = Attribution.of(ObservedFamily.alone(4.4, 1e-3), transport, 1);
        assertThat(attribution.unexplained()).isGreaterThan(0.99);
        assertThat(attribution.parts()).isEmpty();
    }

    /** The second harmonic of the capstan is known as such. */
    @Test
    void harmonicsOfAPartAreItsOwn() {
        Transport transport = Transport.builder(SPEED)
                .capstan("capstan", 2)
                .roller("roller", 12)
                .build();
        double hz = 2 * SPEED / (Math.PI * 2);
        Attribution.PartProbability first = Attribution.of(
                        new ObservedFamily(hz, 1e-3, List.of(1, 2), Optional.empty()), transport, 1)
                .parts()
                .get(0);
        assertThat(first.part()).isEqualTo("capstan");
        assertThat(first.harmonic()).isEqualTo(2);
    }

    /**
     * A roller with the rate that a pack has in the middle of the tape: what moves by 2 pi t f^2 / v is the pack, what
     * stands still is the roller (kinematics; t = 18 um).
     */
    @Test
    void aRateThatMovesAlongTheTapeIsThatOfAPack() {
        double radius = 17;
        Transport transport = Transport.builder(SPEED)
                .pack("take-up pack", 11, 25.2)
                .roller("big roller", 2 * radius)
                .build();
        double hz = SPEED / (2 * Math.PI * radius);
        double perSecond = 2 * Math.PI * 0.018 * hz * hz / SPEED;
        ObservedFamily line = ObservedFamily.alone(hz, 2e-4);
        Attribution moving = Attribution.of(line.withTrend(new Trend(-perSecond, 5e-5)), transport, 1);
        assertThat(moving.parts().get(0).part()).isEqualTo("take-up pack");
        assertThat(moving.parts().get(0).probability()).isGreaterThan(0.9);
        Attribution still = Attribution.of(line.withTrend(new Trend(0, 5e-5)), transport, 1);
        assertThat(still.parts().get(0).part()).isEqualTo("big roller");
    }

    /** Weights before the observation: nine tenths for the part, its n-th harmonic 1/n^2 of the sum of six; a tenth for none. */
    private static final double FUNDAMENTAL = 0.9 / (1 + 1 / 4.0 + 1 / 9.0 + 1 / 16.0 + 1 / 25.0 + 1 / 36.0);

    /** Of none of the parts: anywhere from 0.05 Hz to 20 kHz alike on a logarithmic scale. */
    private static double none(double hz) {
        return 0.1 / (hz * Math.log(20_000 / 0.05));
    }

    private static void assertProbability(Transport transport, ObservedFamily family, double ratio, double density) {
        Attribution attribution = Attribution.of(family, transport, ratio);
        double part = FUNDAMENTAL * density;
        double expected = part / (part + none(family.fundamentalHz()));
        // Other harmonics are more than twenty standard deviations away.
        assertThat(attribution.parts().get(0).probability()).isCloseTo(expected, within(1e-9));
        assertThat(attribution.parts().get(0).harmonic()).isEqualTo(1);
        assertThat(attribution.unexplained()).isCloseTo(1 - expected, within(1e-9));
    }

    /** Bayes' rule by hand: a normal density about the rate of a capstan, 0.5 % of it and the line's own uncertainty. */
    @Test
    void probabilitiesAreThoseOfBayesRule() {
        Transport transport = Transport.builder(SPEED).capstan("capstan", 2).build();
        double rate = SPEED / (Math.PI * 2);
        double spread = Math.hypot(0.005 * rate, 0.03);
        for (double off : new double[] {-2, 0, 1.5}) {
            double density = Math.exp(-off * off / 2) / Math.sqrt(2 * Math.PI) / spread;
            assertProbability(transport, ObservedFamily.alone(rate + off * spread, 0.03), 1, density);
        }
    }

    /** A vibrating length of tape has a band of frequencies with blurred ends, and keeps it when the tape runs faster. */
    @Test
    void aGuideKeepsItsBandAtAnySpeed() {
        Transport transport = Transport.builder(SPEED).guide("guide", 100).build();
        double inBand = 1 / Math.log(10_000 / 7500.0); // divided by the frequency
        assertProbability(transport, ObservedFamily.alone(8000, 1), 1.2, inBand / 8000);
        double below = Math.hypot(0.02 * 7500, 1);
        double above = Math.hypot(0.02 * 10_000, 1);
        assertProbability(transport, ObservedFamily.alone(7500 - below, 1), 1, inBand / 7500 * Math.exp(-0.5));
        assertProbability(transport, ObservedFamily.alone(10_000 + above, 1), 1, inBand / 10_000 * Math.exp(-0.5));
    }

    /** Beyond 20 kHz and far from every part there is nothing to weigh: it is unexplained. */
    @Test
    void whatIsFarFromEverythingIsUnexplained() {
        Transport transport = Transport.builder(SPEED).capstan("capstan", 2).build();
        Attribution attribution = Attribution.of(ObservedFamily.alone(30_000, 1), transport, 1);
        assertThat(attribution.parts()).isEmpty();
        assertThat(attribution.unexplained()).isEqualTo(1);
    }

    @Test
    void whatCannotBeObservedIsRefused() {
        assertThatThrownBy(() -> ObservedFamily.alone(0, 1)).hasMessageContaining("fundamentalHz 0.0");
        assertThatThrownBy(() -> ObservedFamily.alone(1, 0)).hasMessageContaining("standardUncertaintyHz 0.0");
        assertThatThrownBy(() -> new ObservedFamily(1, 1, List.of(), Optional.empty()))
                .hasMessage("a family has no component");
        assertThatThrownBy(() -> new Trend(Double.NaN, 1)).hasMessageContaining("perSecond NaN");
        assertThatThrownBy(() -> new Trend(0, 0)).hasMessageContaining("standardUncertainty 0.0");
        Transport transport = Transport.builder(SPEED).capstan("capstan", 2).build();
        assertThatThrownBy(() -> Attribution.of(ObservedFamily.alone(1, 1), transport, 0))
                .hasMessageContaining("speedRatio 0.0");
    }
}
