/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.loss.TrackGeometry;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.WarningCode;

/** Short recordings at 8 kHz: frames of 512 samples, of which a new one comes every 256. */
class AzimuthReadingsTest {
    private static final double RATE = 8000;
    private static final int SECOND = 8000;
    /** A sample in us. */
    private static final double SAMPLE = 125;

    private static double[] noise(int length, long seed) {
        Random random = new Random(seed);
        return IntStream.range(0, length)
                .mapToDouble(i -> 0.1 * random.nextGaussian())
                .toArray();
    }

    /** Channel 2 a whole number of samples later. */
    private static Replay later(double[] samples, int by) {
        double[] first = new double[samples.length];
        double[] second = new double[samples.length];
        System.arraycopy(samples, 0, first, Math.max(0, -by), samples.length - Math.max(0, -by));
        System.arraycopy(samples, 0, second, Math.max(0, by), samples.length - Math.max(0, by));
        return new Replay(RATE, first, second);
    }

    private static double halfWidth(AzimuthMeter meter, Quantity quantity) {
        return Replay.find(meter, quantity).uncertainty().orElseThrow().halfWidth();
    }

    /** Noise of which a frame shares all but a sample or two with the other channel is read to some 0.1 us. */
    @ParameterizedTest
    @ValueSource(ints = {0, 1, 2, -2})
    void wholeSamplesAreRead(int by) {
        AzimuthMeter meter = later(noise(3 * SECOND, 1), by).measured();
        assertThat(Replay.delay(meter)).isCloseTo(by * SAMPLE, within(0.5));
        assertThat(Replay.value(meter, Quantity.CHANNEL_POLARITY)).isEqualTo(1);
        assertThat(meter.warnings()).isEmpty();
        assertThat(meter.hasRunningDelay()).isFalse();
        AzimuthMeter inverted =
                later(noise(3 * SECOND, 1), by).withSecondTimes(-2).measured();
        assertThat(Replay.delay(inverted)).isCloseTo(by * SAMPLE, within(0.5));
        assertThat(Replay.value(inverted, Quantity.CHANNEL_POLARITY)).isEqualTo(-1);
        assertThat(Replay.codes(inverted)).containsExactly(WarningCode.OPPOSITE_POLARITY);
    }

    /** Four times the noise, four times the half-width: it is that of the mean over frames. */
    @Test
    void theUncertaintyGrowsWithTheNoise() {
        double[] halfWidths = new double[2];
        for (int i = 0; i < 2; i++) {
            double rms = 0.01 * (1 + 3 * i);
            AzimuthMeter meter = later(noise(3 * SECOND, 1), 0)
                    .withNoise(rms, rms, new Random(2))
                    .measured();
            halfWidths[i] = halfWidth(meter, Quantity.AZIMUTH_DELAY);
            assertThat(Replay.delay(meter)).isCloseTo(0, within(2 * halfWidths[i]));
        }
        // The noise of white noise up to 3.84 kHz: the Cramer-Rao bound is sqrt(2 n/s)/(w_rms sqrt(N)), N the samples.
        double bound = Math.sqrt(2) * 0.1 / (2 * Math.PI * 3840 / Math.sqrt(3)) / Math.sqrt(3 * 0.96 * SECOND) * 1e6;
        assertThat(halfWidths[0]).isBetween(1.96 * bound, 2.2 * 1.96 * bound);
        assertThat(halfWidths[1] / halfWidths[0]).isCloseTo(4, within(0.8));
    }

    /** One second is needed, and two for the wander. */
    @Test
    void readingsComeAfterASecondAndTheWanderAfterTwo() {
        double[] samples = noise(2 * SECOND, 3);
        AzimuthMeter meter = AzimuthMeter.builder().sampleRateHz(RATE).build();
        meter.accept(samples, samples, 0, SECOND - 1);
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.INSUFFICIENT_DATA);
        meter.accept(samples, samples, SECOND - 1, 1);
        assertThat(Replay.delay(meter)).isCloseTo(0, within(1e-9));
        assertThat(Replay.find(meter, Quantity.AZIMUTH_WANDER).status()).isEqualTo(Status.INSUFFICIENT_DATA);
        meter.accept(samples, samples, SECOND, SECOND - 1);
        assertThat(Replay.find(meter, Quantity.AZIMUTH_WANDER).status()).isEqualTo(Status.INSUFFICIENT_DATA);
        meter.accept(samples, samples, 2 * SECOND - 1, 1);
        assertThat(Replay.value(meter, Quantity.AZIMUTH_WANDER)).isLessThan(0.0101);
    }

    /** A delay that is 0 and 10 us in turns of a second is as wide as that. Its first second counts as much as every other. */
    @Test
    void aDelayThatChangesIsItsWander() {
        Spectral signal = Spectral.noise(RATE, 6, Spectral.band(100, 3500, 0), new Random(4));
        double[] first = Arrays.copyOf(signal.samples(0, f -> 1), 6 * SECOND);
        double[] second = Arrays.copyOf(signal.samples(10e-6, f -> 1), 6 * SECOND);
        for (int i = 0; i < second.length; i++) {
            second[i] = i / SECOND % 2 == 0 ? first[i] : second[i];
        }
        AzimuthMeter meter = new Replay(RATE, first, second).measured();
        double wander = Replay.value(meter, Quantity.AZIMUTH_WANDER);
        assertThat(wander).isCloseTo(10, within(0.1));
        // 0.965 of it over the root of the seconds, of which there are six: t of 6 degrees is 2.447 (tables, from
        // memory).
        double scatter = 0.965 * wander / Math.sqrt(6);
        assertThat(halfWidth(meter, Quantity.AZIMUTH_WANDER)).isCloseTo(2.447 * scatter, within(5e-4 * scatter));
        // Three seconds of each, and five frames that have a part of both.
        assertThat(Replay.delay(meter)).isCloseTo(5, within(0.2));
    }

    /** The angle is atan(v t/s), its half-width that of the delay through it; the loss goes with its steeper side. */
    @Test
    void angleAndLossFollowFromTheDelay() {
        TrackGeometry tracks = TrackGeometry.CASSETTE_STEREO;
        AzimuthMeter meter = later(noise(2 * SECOND, 5), 1)
                .withNoise(0.01, 0.01, new Random(6))
                .measured(AzimuthMeter.builder().tracks(tracks, 4.76).levelLossAtHz(1000, 2000));
        assertThat(meter.readings())
                .extracting(Reading::quantity)
                .containsExactly(
                        Quantity.AZIMUTH_DELAY,
                        Quantity.AZIMUTH_WANDER,
                        Quantity.AZIMUTH_ANGLE,
                        Quantity.AZIMUTH_LEVEL_LOSS,
                        Quantity.AZIMUTH_LEVEL_LOSS,
                        Quantity.CHANNEL_POLARITY);
        double delay = Replay.delay(meter);
        double half = halfWidth(meter, Quantity.AZIMUTH_DELAY);
        double angle = Replay.value(meter, Quantity.AZIMUTH_ANGLE);
        // 4.76 cm/s times 125 us over 0.9 mm is a tangent of 0.0066: 22.7 minutes.
        assertThat(angle).isCloseTo(Math.toDegrees(Math.atan(4.76e-2 * delay * 1e-6 / 0.9e-3)) * 60, within(1e-9));
        double perMicrosecond = angle / delay;
        double halfAngle = halfWidth(meter, Quantity.AZIMUTH_ANGLE);
        assertThat(halfAngle).isCloseTo(half * perMicrosecond, within(1e-3 * halfAngle));
        List<Reading> losses = meter.readings().subList(3, 5);
        for (int i = 0; i < 2; i++) {
            double hertz = 1000.0 * (i + 1);
            assertThat(losses.get(i).atFrequencyHz()).hasValue(hertz);
            double loss = losses.get(i).value().orElseThrow();
            assertThat(loss).isCloseTo(loss(angle, hertz), within(1e-9));
            double more = loss(angle + halfAngle, hertz) - loss;
            assertThat(losses.get(i).uncertainty().orElseThrow().halfWidth()).isCloseTo(more, within(1e-9));
        }
    }

    /** {@code -20 lg(sin(x)/x)}, {@code x = pi w f tan(alpha)/v}, of a track of 0.6 mm at 4.76 cm/s. */
    private static double loss(double minutes, double hertz) {
        double x = Math.PI * 0.6e-3 * hertz * Math.tan(Math.toRadians(minutes / 60)) / 4.76e-2;
        return -20 * Math.log10(Math.abs(Math.sin(x) / x));
    }

    /** Beyond 600 minutes, or where the sine is 0, there is no level to speak of. */
    @Test
    void anAngleThatNoHeadHasHasNoLoss() {
        // 38.1 cm/s times 375 us over 0.9 mm: 542 minutes; times 500 us: 719.
        for (int samples = 3; samples <= 4; samples++) {
            AzimuthMeter meter = later(noise(2 * SECOND, 7), samples)
                    .measured(AzimuthMeter.builder()
                            .coarseDelayMicroseconds(500)
                            .tracks(TrackGeometry.CASSETTE_STEREO, 38.1)
                            .levelLossAtHz(500));
            double angle = Replay.value(meter, Quantity.AZIMUTH_ANGLE);
            assertThat(angle > 600).isEqualTo(samples == 4);
            assertThat(Replay.find(meter, Quantity.AZIMUTH_LEVEL_LOSS).status())
                    .isEqualTo(samples == 4 ? Status.AMBIGUOUS : Status.VALID);
        }
    }

    /** A tone of 2 kHz is known up to cycles of 500 us; of 250 Hz a cycle, 4 ms, is beyond what is looked for, and only the polarity is not told. */
    @Test
    void aToneIsWarnedOf() {
        AzimuthMeter meter = tone(2000, 60).measured();
        assertThat(Replay.delay(meter)).isCloseTo(60, within(1e-2));
        assertThat(meter.warnings()).hasSize(1);
        assertThat(meter.warnings().get(0).message())
                .isEqualTo(
                        "the delay is known up to whole cycles of 500.000 us; if one channel is inverted it is half a"
                                + " cycle away");
        assertThat(Replay.find(meter, Quantity.CHANNEL_POLARITY).status()).isEqualTo(Status.AMBIGUOUS);
        AzimuthMeter coarse = tone(2000, 60).measured(AzimuthMeter.builder().coarseDelayMicroseconds(620));
        assertThat(Replay.delay(coarse)).isCloseTo(560, within(1e-2));
        assertThat(coarse.warnings()).isEmpty();
    }

    private static Replay tone(double hertz, double microseconds) {
        double[] first = new double[2 * SECOND];
        double[] second = new double[2 * SECOND];
        for (int i = 0; i < first.length; i++) {
            first[i] = 0.1 * Math.sin(2 * Math.PI * hertz * i / RATE);
            second[i] = 0.1 * Math.sin(2 * Math.PI * hertz * (i / RATE - 1e-6 * microseconds));
        }
        return new Replay(RATE, first, second);
    }

    /** What both have in common has to reach beyond 240 Hz. */
    @ParameterizedTest
    @CsvSource({"150, AMBIGUOUS", "300, VALID"})
    void humHasNoDelay(double hertz, Status status) {
        assertThat(Replay.find(tone(hertz, 0).measured(), Quantity.AZIMUTH_DELAY)
                        .status())
                .isEqualTo(status);
    }

    /** 30 dB apart, a channel carries the other's crosstalk. */
    @ParameterizedTest
    @CsvSource({"0.0321, VALID", "0.0311, NO_CARRIER", "31.1, VALID", "32.1, NO_CARRIER"})
    void channelsThatDifferByThirtyDecibelsHaveNone(double gain, Status status) {
        double[] quiet = Arrays.stream(noise(SECOND, 8)).map(x -> 0.05 * x).toArray();
        AzimuthMeter meter = later(quiet, 0).withSecondTimes(gain).measured();
        assertThat(Replay.find(meter, Quantity.AZIMUTH_DELAY).status()).isEqualTo(status);
    }

    /** Three samples in a row at full scale, 14 bits and a half of it, are too much; across two frames as well. */
    @Test
    void overloadIsTold() {
        double full = 1 - 1.0 / (1 << 14);
        for (int channel = 1; channel <= 2; channel++) {
            for (int at : new int[] {100, 511, 510, 767}) {
                for (double level : new double[] {full, -full, 0.9999 * full}) {
                    double[][] both = {noise(1100, 9), noise(1100, 9)};
                    both[channel - 1][at] = level;
                    both[channel - 1][at + 1] = level;
                    assertThat(warned(both)).isEmpty();
                    both[channel - 1][at + 3] = level;
                    assertThat(warned(both)).isEmpty();
                    both[channel - 1][at + 2] = level;
                    int expected = Math.abs(level) < full ? 0 : 1;
                    assertThat(warned(both)).hasSize(expected);
                    if (expected > 0) {
                        assertThat(warned(both)).containsExactly(channel);
                    }
                }
            }
        }
    }

    private static List<Integer> warned(double[][] both) {
        return new Replay(RATE, both[0], both[1])
                .measured().warnings().stream()
                        .filter(w -> w.code() == WarningCode.OVERLOAD)
                        .map(w -> w.channel().orElseThrow())
                        .toList();
    }

    @Test
    void aResetForgetsEverything() {
        AzimuthMeter meter = AzimuthMeter.builder().sampleRateHz(RATE).running().build();
        double[] before = noise(3 * SECOND, 10);
        before[200] = 1;
        before[201] = 1;
        before[202] = 1;
        before[before.length - 2] = -1;
        before[before.length - 1] = -1;
        Replay first = later(before, 2);
        meter.accept(first.first(), first.second(), 0, before.length);
        assertThat(meter.hasRunningDelay()).isTrue();
        assertThat(meter.runningDelaySum() / meter.runningDelayCount()).isCloseTo(2 * SAMPLE, within(3.0));
        assertThat(Replay.codes(meter)).contains(WarningCode.OVERLOAD);
        meter.reset();
        assertThat(meter.warnings()).isEmpty();
        assertThat(meter.hasRunningDelay()).isFalse();
        assertThat(meter.runningDelaySum()).isZero();
        assertThat(meter.runningDelayCount()).isZero();
        Replay second = later(noise(3 * SECOND, 11), -1);
        second.first()[0] = 1;
        meter.accept(second.first(), second.second(), 0, 3 * SECOND);
        assertThat(meter.readings()).isEqualTo(second.measured().readings());
        assertThat(meter.warnings()).isEmpty();
        assertThat(meter.runningDelaySum() / meter.runningDelayCount()).isCloseTo(-SAMPLE, within(3.0));
        second.first()[SECOND] = Double.NaN;
        AzimuthMeter damaged = second.measured(AzimuthMeter.builder().running());
        assertThat(damaged.hasRunningDelay()).isFalse();
        assertThat(damaged.warnings().get(0).message()).isEqualTo("a sample is no finite number");
    }

    /** After a change of the delay by another cycle the frames of the last second are followed about the new one. */
    @Test
    void anotherDelayIsFollowedAnew() {
        double[] samples = noise(12 * SECOND, 12);
        double[] second = new double[samples.length];
        for (int i = 4; i < samples.length; i++) {
            second[i] = i < SECOND * 3 / 2 ? samples[i - 2] : samples[i];
        }
        AzimuthMeter meter = new Replay(RATE, samples, second).measured();
        // Of 12 s one and a half have 250 us; most of the phase sum is at 0, and what is followed since is exact.
        assertThat(Replay.delay(meter)).isCloseTo(0, within(1.0));
    }
}
