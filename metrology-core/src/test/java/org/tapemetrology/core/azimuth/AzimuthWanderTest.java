/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.loss.TrackGeometry;
import org.tapemetrology.core.quantity.Quantity;

/** A tape that wanders past the head, with wow and flutter of 0.3 % common to both channels. */
class AzimuthWanderTest {
    private static final double TURN = 2 * Math.PI;
    private static final double RATE = 48_000;
    private static final double SECONDS = 8;
    private static final double MEAN = -21;
    /** The 95 % range of a sine of peak 1. */
    private static final double RANGE_OF_SINE = 2 * Math.sin(0.475 * Math.PI);

    /** Wow at 0.6 Hz and flutter at 4 Hz and 23 Hz: peaks of 0.1 %, 0.15 % and 0.05 %. */
    private static double tape(double t) {
        double passed = t;
        double[][] parts = {{0.6, 0.001}, {4, 0.0015}, {23, 0.0005}};
        for (double[] part : parts) {
            passed -= part[1] / (TURN * part[0]) * Math.cos(TURN * part[0] * t);
        }
        return passed;
    }

    private static DoubleUnaryOperator signal(String kind) {
        return switch (kind) {
            case "multitone" -> sines(24, i -> 50 * Math.pow(2, i / 3.0));
            case "noise" -> {
                Random random = new Random(5);
                double[] hertz = random.doubles(120, Math.log(60), Math.log(15_000))
                        .map(Math::exp)
                        .toArray();
                yield sines(hertz.length, i -> hertz[(int) i]);
            }
            case "sweep" -> new SweptTone(30, 16_000, SECONDS, 0.1)::at;
            default -> {
                double hertz = Double.parseDouble(kind);
                yield t -> 0.1 * Math.sin(TURN * hertz * t);
            }
        };
    }

    private static DoubleUnaryOperator sines(int count, DoubleUnaryOperator hertz) {
        double[] rad = new double[count];
        for (int i = 0; i < count; i++) {
            rad[i] = TURN * hertz.applyAsDouble(i);
        }
        return t -> {
            double sum = 0;
            for (int i = 0; i < count; i++) {
                sum += Math.sin(rad[i] * t + 2.1 * i * i);
            }
            return 0.5 / count * sum;
        };
    }

    private static Replay replay(String kind, DoubleUnaryOperator delay) {
        Replay clean = Replay.wandering(signal(kind), AzimuthWanderTest::tape, delay, RATE, SECONDS);
        double noise = 0.01 * clean.firstRms();
        return clean.withNoise(noise, noise, new Random(17));
    }

    /**
     * Required: wander within 10 %, mean unbiased. The mean of six periods is within 1 % of the wander, since the frames at
     * the ends count a little less; of a sweep, whose early frames noise blurs, within the statistical uncertainty.
     */
    @ParameterizedTest
    @CsvSource({
        "multitone, 25, 0.75",
        "multitone, 2, 0.75",
        "multitone, 11, 2.5",
        "noise, 25, 0.75",
        "noise, 2, 2.5",
        "10000, 25, 0.75",
        "10000, 2, 2.5",
        "1000, 11, 2.5",
        "sweep, 25, 0.75",
        "sweep, 2, 2.5"
    })
    void aSineOfWanderIsFoundAndTheMeanIsUnbiased(String kind, double peakToPeak, double hertz) {
        AzimuthMeter meter = replay(kind, t -> MEAN + peakToPeak / 2 * Math.sin(TURN * hertz * t))
                .measured();
        double truth = peakToPeak / 2 * RANGE_OF_SINE;
        assertThat(Replay.value(meter, Quantity.AZIMUTH_WANDER)).isCloseTo(truth, within(0.1 * truth));
        double halfWidth = Replay.find(meter, Quantity.AZIMUTH_DELAY)
                .uncertainty()
                .orElseThrow()
                .halfWidth();
        double allowed = kind.equals("sweep") ? halfWidth : 0.01 * peakToPeak;
        assertThat(Replay.delay(meter)).isCloseTo(MEAN, within(allowed));
        // The wander is part of the uncertainty: six periods are no more than some tens of independent values.
        assertThat(halfWidth).isBetween(0.01 * peakToPeak, peakToPeak / 2);
    }

    /** A wander that stays long on one side: the mean of the phase is not the phase of the mean, but it is read. */
    @Test
    void aSkewedWanderLeavesTheMeanUnbiased() {
        DoubleUnaryOperator skewed = t -> {
            double s = 0.5 + 0.5 * Math.sin(TURN * 0.75 * t);
            return MEAN + 25 * (s * s * s * s - 35.0 / 128); // the mean of the fourth power is 35/128
        };
        AzimuthMeter meter = replay("noise", skewed).measured();
        assertThat(Replay.delay(meter)).isCloseTo(MEAN, within(0.25));
    }

    /** Negative control: flutter common to both channels is no wander. Noise 40 dB down leaves a tenth of 0.5 us. */
    @ParameterizedTest
    @CsvSource({"multitone", "noise", "10000"})
    void flutterIsNoWander(String kind) {
        AzimuthMeter meter = replay(kind, t -> MEAN).measured();
        assertThat(Replay.value(meter, Quantity.AZIMUTH_WANDER)).isLessThan(0.05);
        assertThat(Replay.delay(meter)).isCloseTo(MEAN, within(0.01));
    }

    /**
     * The typical wander of slit tape, 600 urad peak to peak ("Azimuth and interchannel time displacement error", abstract,
     * verified), is 11.3 us on a cassette by the geometry, s tan(alpha)/v.
     */
    @Test
    void theTypicalWanderOfATapeOnACassette() {
        double microseconds = 0.9 * 600e-6 / 47.6 * 1e6;
        AzimuthMeter meter = Replay.wandering(
                        signal("10000"),
                        AzimuthWanderTest::tape,
                        t -> microseconds / 2 * Math.sin(TURN * 0.5 * t),
                        RATE,
                        SECONDS)
                .measured(AzimuthMeter.builder().tracks(TrackGeometry.CASSETTE_STEREO, 4.76));
        assertThat(Replay.value(meter, Quantity.AZIMUTH_WANDER))
                .isCloseTo(11.34 / 2 * RANGE_OF_SINE, within(0.05 * microseconds));
        assertThat(Replay.value(meter, Quantity.AZIMUTH_ANGLE)).isCloseTo(0, within(0.02));
    }
}
