/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.AllocatedBytes;
import org.tapemetrology.core.loss.TrackGeometry;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.signals.Mix;
import org.tapemetrology.signals.PinkNoise;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.Sine;
import org.tapemetrology.signals.WhiteNoise;

class AzimuthMeterTest {
    private static final int RATE = 48_000;

    /** ISO 266 third octaves from 40 Hz to 16 kHz, nominal (second-hand). */
    private static final double[] THIRD_OCTAVES = {
        40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150, 4000,
        5000, 6300, 8000, 10_000, 12_500, 16_000
    };

    private static Signal multitone() {
        List<Signal> tones = Arrays.stream(THIRD_OCTAVES)
                .mapToObj(f -> (Signal) new Sine(f, 0.03, f * f))
                .toList();
        return new Mix(tones);
    }

    private static Spectral noise(long seed) {
        return Spectral.noise(RATE, 1, Spectral.band(20, 20_000, 0), new Random(seed));
    }

    /** Signals of 1 s of which the delay is told without doubt. */
    private static Replay replay(String kind, double rate, double delay) {
        return switch (kind) {
            case "multitone" -> Replay.of(multitone(), rate, 1, delay);
            case "sweep" -> Replay.of(new SweptTone(20, 18_000, 1, 0.1), rate, 1, delay);
            case "white noise" ->
                Replay.of(Spectral.noise(rate, 1, Spectral.band(20, 20_000, 0), new Random(1)), rate, 1, delay);
            case "pink noise" ->
                Replay.of(Spectral.noise(rate, 1, Spectral.band(20, 20_000, -3.01), new Random(2)), rate, 1, delay);
            default -> throw new IllegalArgumentException(kind);
        };
    }

    /**
     * The bound of Cramer and Rao for the delay between two noisy replays of one waveform, in us for noise of RMS 1: each channel's noise
     * gives {@code s^2/sum(x'^2)}. For a tone it is that of its phase (computed), twice.
     */
    private static double bound(String kind, double rate) {
        double step = 0.01;
        double[] later = replay(kind, rate, step).second();
        double[] earlier = replay(kind, rate, -step).second();
        double sum = 0;
        for (int i = 0; i < later.length; i++) {
            double slope = (earlier[i] - later[i]) / (2 * step);
            sum += slope * slope;
        }
        return Math.sqrt(2 / sum);
    }

    /**
     * Required is 0.01 us or three times the bound for 1 s, whichever is larger, with independent noise 40 dB down.
     * Without noise 1e-3 us: a sweep passes the ends of the window, where terms of third order in the delay are left.
     */
    @ParameterizedTest
    @CsvSource({
        "multitone, 44100", "sweep, 44100", "white noise, 44100", "pink noise, 44100",
        "multitone, 48000", "sweep, 48000", "white noise, 48000", "pink noise, 48000",
        "multitone, 96000", "sweep, 96000", "white noise, 96000", "pink noise, 96000"
    })
    void delaysToAQuarterOfAMillisecondAreFoundNearTheBound(String kind, double rate) {
        Random random = new Random(40);
        double boundForUnitNoise = bound(kind, rate);
        for (double delay : new double[] {0, 0.37, -1, 12.3, -45.6, 101.1, -177, 250, -250}) {
            Replay clean = replay(kind, rate, delay);
            double rms = 0.01 * clean.firstRms();
            double required = Math.max(0.01, 3 * boundForUnitNoise * rms);
            AzimuthMeter meter = clean.withNoise(rms, rms, random).measured();
            assertThat(Replay.delay(meter)).as("%s us", delay).isCloseTo(delay, within(required));
            assertThat(Replay.value(meter, Quantity.CHANNEL_POLARITY)).isEqualTo(1);
            assertThat(meter.warnings()).isEmpty();
            assertThat(Replay.delay(clean.measured())).as("%s us, clean", delay).isCloseTo(delay, within(1e-3));
        }
    }

    /** The interval of 95 % holds the truth in 100 trials at least 90 times: four trials are two standard deviations. */
    @Test
    void theUncertaintyHoldsWhatItPromises() {
        int inside = 0;
        double widest = 0;
        for (int i = 0; i < 100; i++) {
            Random random = new Random(i);
            Replay clean = Replay.of(noise(i), RATE, 1, 20);
            Reading read = Replay.find(clean.withNoise(0.003, 0.003, random).measured(), Quantity.AZIMUTH_DELAY);
            double halfWidth = read.uncertainty().orElseThrow().halfWidth();
            inside += Math.abs(read.value().orElseThrow() - 20) <= halfWidth ? 1 : 0;
            widest = Math.max(widest, halfWidth);
        }
        assertThat(inside).isBetween(90, 100);
        // Noise 30 dB down: the bound is 0.003 us, and no interval is ten times as wide.
        assertThat(widest).isLessThan(0.03);
    }

    @ParameterizedTest
    @ValueSource(doubles = {315, 1000, 3150, 6300, 10_000, 16_000})
    void aToneGivesTheDelayNearestToZeroAndItsPeriod(double hertz) {
        double period = 1e6 / hertz;
        for (double delay : new double[] {0, 7.7, -0.45 * period, 0.45 * period}) {
            double wanted = Math.max(-250, Math.min(250, delay));
            for (double cycles : new double[] {0, 1, -3}) {
                AzimuthMeter meter = Replay.of(new Sine(hertz, 0.1, 1), RATE, 1, wanted + cycles * period)
                        .measured();
                // The image of the tone at negative frequency is 100 dB down at 315 Hz: 1e-5 rad are 5e-3 us there.
                assertThat(Replay.delay(meter)).isCloseTo(wanted, within(5e-3));
                assertThat(Replay.codes(meter)).containsExactly(WarningCode.WHOLE_CYCLE);
                assertThat(meter.warnings().get(0).message()).contains(String.format("cycles of %.3f us", period));
                assertThat(Replay.find(meter, Quantity.CHANNEL_POLARITY).status())
                        .isEqualTo(Status.AMBIGUOUS);
            }
        }
    }

    @Test
    void aRecordingOfALowerFrequencyRemovesTheWholeCycles() {
        AzimuthMeter low = Replay.of(new Sine(1000, 0.1), RATE, 1, 233).measured();
        Replay high = Replay.of(new Sine(10_000, 0.1), RATE, 1, 233);
        assertThat(Replay.delay(high.measured())).isCloseTo(33, within(1e-3));
        AzimuthMeter both = high.measured(
                AzimuthMeter.builder().coarseDelayMicroseconds(Replay.delay(low) + 40)); // under half a cycle
        assertThat(Replay.delay(both)).isCloseTo(233, within(1e-3));
        assertThat(both.warnings()).isEmpty();
    }

    /** Tones at multiples of 3 kHz repeat after 333.3 us; a band of a 48th octave cannot tell its cycles. */
    @Test
    void aBandThatCannotTellWholeCyclesSaysSo() {
        Signal periodic = new Mix(List.of(new Sine(3000, 0.1), new Sine(6000, 0.1), new Sine(9000, 0.1)));
        AzimuthMeter meter = Replay.of(periodic, RATE, 1, -50).measured();
        assertThat(Replay.delay(meter)).isCloseTo(-50, within(1e-3));
        assertThat(meter.warnings().get(0).message()).contains("333.333 us");
        assertThat(Replay.value(meter, Quantity.CHANNEL_POLARITY)).isEqualTo(1);

        Spectral narrow = Spectral.noise(RATE, 1, Spectral.band(9928, 10_072, 0), new Random(1));
        AzimuthMeter doubtful = Replay.of(narrow, RATE, 1, 30).measured();
        assertThat(Replay.codes(doubtful)).containsExactly(WarningCode.WHOLE_CYCLE);
        assertThat(Replay.delay(doubtful)).isCloseTo(30, within(0.01));

        Spectral third = Spectral.noise(RATE, 1, Spectral.band(8913, 11_220, 0), new Random(1));
        AzimuthMeter told = Replay.of(third, RATE, 1, 230).measured();
        assertThat(Replay.delay(told)).isCloseTo(230, within(0.01));
    }

    /** As reference recordings have it: one tone after the other, and a high one 20 dB below the low one. */
    @Test
    void lowTonesTellTheCycleOfHighOnes() {
        double[] hertz = {315, 1000, 3150, 10_000};
        Signal steps = t -> 0.1 * Math.sin(2 * Math.PI * hertz[Math.max(0, Math.min(3, (int) t))] * t);
        AzimuthMeter meter = Replay.of(steps, RATE, 4, 211)
                .withNoise(1e-3, 1e-3, new Random(4))
                .measured();
        assertThat(Replay.delay(meter)).isCloseTo(211, within(0.02)); // the bound for the last second is 0.002 us
        assertThat(meter.warnings()).isEmpty();

        Signal two = new Mix(List.of(new Sine(315, 0.1), new Sine(10_000, 0.01)));
        AzimuthMeter both = Replay.of(two, RATE, 2, -211)
                .withNoise(1e-4, 1e-4, new Random(5))
                .measured();
        assertThat(Replay.delay(both)).isCloseTo(-211, within(0.02));
        assertThat(both.warnings()).isEmpty();
    }

    /** Hum 40 dB down, whatever its phase between the channels, tells neither the cycles of a tone nor the polarity. */
    @ParameterizedTest
    @ValueSource(doubles = {0, 90, 180, 270})
    void humTellsNothingOfATone(double degrees) {
        Replay tone = Replay.of(new Sine(10_000, 0.1), RATE, 2, 30);
        double[] a = tone.first();
        double[] b = tone.second();
        for (int i = 0; i < a.length; i++) {
            double angle = 2 * Math.PI * 50 * i / RATE;
            a[i] += 0.001 * Math.sin(angle);
            b[i] += 0.001 * Math.sin(angle + Math.toRadians(degrees));
        }
        AzimuthMeter meter =
                new Replay(RATE, a, b).withNoise(1e-4, 1e-4, new Random(6)).measured();
        // A delay counts by frequency squared: the hum has 1/40000 of the tone's say at equal weight.
        assertThat(Replay.delay(meter)).isCloseTo(30, within(0.02));
        assertThat(Replay.codes(meter)).containsExactly(WarningCode.WHOLE_CYCLE);
        assertThat(Replay.find(meter, Quantity.CHANNEL_POLARITY).status()).isEqualTo(Status.AMBIGUOUS);

        double[] hum = new double[a.length];
        for (int i = 0; i < a.length; i++) {
            hum[i] = 0.005 * Math.sin(2 * Math.PI * 50 * i / RATE);
        }
        assertThat(Replay.find(
                                new Replay(RATE, hum, hum)
                                        .withNoise(0.1, 0.1, new Random(7))
                                        .measured(),
                                Quantity.AZIMUTH_DELAY)
                        .status())
                .as("hum alone in common")
                .isEqualTo(Status.AMBIGUOUS);
    }

    @ParameterizedTest
    @ValueSource(strings = {"multitone", "sweep", "white noise", "pink noise"})
    void anInvertedChannelIsFoundAndDoesNotMoveTheDelay(String kind) {
        AzimuthMeter meter = replay(kind, RATE, -63).withSecondTimes(-0.5).measured();
        assertThat(Replay.delay(meter)).isCloseTo(-63, within(1e-3));
        assertThat(Replay.value(meter, Quantity.CHANNEL_POLARITY)).isEqualTo(-1);
        assertThat(Replay.codes(meter)).containsExactly(WarningCode.OPPOSITE_POLARITY);
    }

    /**
     * "Azimuth in a Magnetic Tape Recorder" (verified): 300 urad at 10 kHz, edge tracks of 2 mm on 6.3 mm tape, is 45
     * degrees at 95 mm/s and 22 degrees at 190 mm/s. The figures are printed in whole degrees, and the second is 22.5.
     */
    @ParameterizedTest
    @CsvSource({"9.5, 45", "9.5, -45", "19, 22", "19, -22"})
    void thePublishedPhaseReadsAsThreeHundredMicroradians(double speed, double degrees) {
        Sine tone = new Sine(10_000, 0.1);
        Replay replay = Replay.of(tone, RATE, 1, degrees / 360 * 100);
        AzimuthMeter meter = replay.measured(AzimuthMeter.builder().tracks(TrackGeometry.TWO_TRACK_NAB, speed));
        double microradians = Math.toRadians(Replay.value(meter, Quantity.AZIMUTH_ANGLE) / 60) * 1e6;
        assertThat(microradians).isCloseTo(Math.signum(degrees) * 300, within(300 * 0.52 / Math.abs(degrees)));
        assertThat(Replay.find(meter, Quantity.AZIMUTH_ANGLE).uncertainty()).isPresent();
    }

    /**
     * Level that the angle costs at 10 kHz, {@code 20 lg(sin(x)/x)} (formula from memory, table computed), from the delay
     * that one minute makes (computed, from the geometry). Both are rounded: half a digit of the loss, and twice half a
     * digit of the delay, which the loss follows by its square.
     */
    @ParameterizedTest
    @CsvSource({
        "cassette, 4.76, 5.500, 1, 0.019",
        "cassette, 4.76, 5.500, 5, 0.486",
        "cassette, 4.76, 5.500, 10, 2.014",
        "quarter, 9.525, 10.383, 3, 0.120",
        "quarter, 9.525, 10.383, 10, 1.376",
        "quarter, 19.05, 5.192, 15, 0.763",
        "edge, 19.05, 6.566, 6, 0.485",
        "edge, 38.1, 3.283, 10, 0.336",
        "stereo, 38.1, 2.672, 15, 1.467"
    })
    void whatTheAngleCostsIsTheTable(String key, double speed, double perMinute, double minutes, double loss) {
        TrackGeometry tracks = Objects.requireNonNull(
                switch (key) {
                    case "cassette" -> TrackGeometry.CASSETTE_STEREO;
                    case "quarter" -> TrackGeometry.QUARTER_TRACK;
                    case "edge" -> TrackGeometry.TWO_TRACK_EDGE;
                    default -> TrackGeometry.STEREO_2_75;
                });
        AzimuthMeter meter = Replay.of(noise(7), RATE, 1, perMinute * minutes)
                .measured(AzimuthMeter.builder().tracks(tracks, speed).levelLossAtHz(1000, 10_000));
        assertThat(Replay.value(meter, Quantity.AZIMUTH_ANGLE))
                .isCloseTo(minutes, within(minutes * 0.0006 / perMinute));
        List<Reading> losses = meter.readings().stream()
                .filter(r -> r.quantity() == Quantity.AZIMUTH_LEVEL_LOSS)
                .toList();
        assertThat(losses).hasSize(2);
        assertThat(losses.get(0).atFrequencyHz()).hasValue(1000);
        assertThat(losses.get(1).value().orElseThrow())
                .isCloseTo(loss, within(0.00051 + 2 * loss * 0.0006 / perMinute))
                .isGreaterThan(losses.get(0).value().orElseThrow());
    }

    @Test
    void angleAndLossNeedTheTracks() {
        AzimuthMeter meter = Replay.of(noise(1), RATE, 1, 1).measured();
        assertThat(meter.readings())
                .extracting(Reading::quantity)
                .containsExactly(Quantity.AZIMUTH_DELAY, Quantity.AZIMUTH_WANDER, Quantity.CHANNEL_POLARITY);
        // A second is too short for a range.
        assertThat(Replay.find(meter, Quantity.AZIMUTH_WANDER).status()).isEqualTo(Status.INSUFFICIENT_DATA);
    }

    @Test
    void monoHasNoDelay() {
        AzimuthMeter meter = Replay.of(noise(3), RATE, 1, 0).measured();
        assertThat(Replay.delay(meter)).isCloseTo(0, within(1e-9)); // rounding alone
        assertThat(Replay.value(meter, Quantity.CHANNEL_POLARITY)).isEqualTo(1);
    }

    /** A tone that swells by more than half in one channel alone is less coherent than the hum of both, which has no delay. */
    @Test
    void steadyHumDoesNotOutweighAToneThatIsNot() {
        Replay tone = Replay.of(new Sine(2987, 0.1), RATE, 4, 41.4);
        double[] a = tone.first();
        double[] b = tone.second();
        for (int i = 0; i < a.length; i++) {
            b[i] *= 1 + 0.6 * Math.sin(2 * Math.PI * 1.23 * i / RATE);
            double hum = 0.0012 * Math.sin(2 * Math.PI * 50.08 * i / RATE);
            a[i] += hum;
            b[i] += hum;
        }
        // 1 us is what counts as an error that is not told; with the hum's full say it was 22 us off.
        assertThat(Replay.delay(new Replay(RATE, a, b).measured())).isCloseTo(41.4, within(1.0));
    }

    /** Pink noise that swells and stops as music does, hum of no delay 40 dB down, constant input, silence before it. */
    @Test
    void programmeWithPausesHumAndOffsetIsReadAsWell() {
        Spectral pink = Spectral.noise(RATE, 5, Spectral.band(60, 12_000, -4), new Random(8));
        Replay steady = Replay.of(pink, RATE, 5, 87.5);
        double[] a = new double[6 * RATE];
        double[] b = new double[6 * RATE];
        for (int i = 0; i < 5 * RATE; i++) {
            double t = i / (double) RATE;
            double swell = Math.max(0, Math.sin(2 * Math.PI * 0.9 * t)) + 0.05;
            a[RATE + i] = swell * steady.first()[i];
            b[RATE + i] = swell * steady.second()[i];
        }
        for (int i = RATE; i < a.length; i++) {
            double hum = 0.001 * Math.sin(2 * Math.PI * 50 * i / RATE) + 0.01;
            a[i] += hum;
            b[i] += hum;
        }
        AzimuthMeter meter =
                new Replay(RATE, a, b).withNoise(1e-4, 1e-4, new Random(2)).measured();
        // Noise 60 dB down on the average and 40 dB above 5 kHz; the swell itself is not delayed: 2e-4 of what it
        // changes.
        assertThat(Replay.delay(meter)).isCloseTo(87.5, within(0.02));
        assertThat(Replay.value(meter, Quantity.CHANNEL_POLARITY)).isEqualTo(1);
    }

    @Test
    void whatHasNoDelaySaysWhy() {
        double[] noise = Arrays.copyOf(noise(1).samples(0, f -> 1), RATE);
        double[] other = Arrays.copyOf(noise(2).samples(0, f -> 1), RATE);
        double[] silent = new double[RATE];
        assertAll(new Replay(RATE, noise, other), Status.AMBIGUOUS);
        assertAll(Replay.of(new WhiteNoise(1, 0.1, RATE), RATE, 30, 1e6), Status.AMBIGUOUS);
        assertAll(new Replay(RATE, silent, silent), Status.NO_CARRIER);
        assertAll(new Replay(RATE, noise, silent), Status.NO_CARRIER);
        assertAll(new Replay(RATE, silent, noise), Status.NO_CARRIER);
        assertAll(new Replay(RATE, noise, noise).withSecondTimes(0.03), Status.NO_CARRIER);
        assertThat(Replay.delay(
                        new Replay(RATE, noise, noise).withSecondTimes(0.04).measured()))
                .isCloseTo(0, within(1e-9));
        Signal low = new Sine(1000, 0.1);
        Signal high = new Sine(1100, 0.1);
        assertAll(
                new Replay(
                        RATE,
                        Replay.of(low, RATE, 1, 0).first(),
                        Replay.of(high, RATE, 1, 0).first()),
                Status.AMBIGUOUS);
        assertAll(
                new Replay(RATE, Arrays.copyOf(noise, RATE - 1), Arrays.copyOf(noise, RATE - 1)),
                Status.INSUFFICIENT_DATA);
        double[] half = noise.clone();
        Arrays.fill(half, 0, RATE / 2, 0);
        assertAll(new Replay(RATE, half, half), Status.INSUFFICIENT_DATA);
        double[] damaged = noise.clone();
        damaged[RATE - 1] = Double.NaN;
        assertAll(new Replay(RATE, noise, damaged), Status.INVALID_INPUT);
        assertThat(Replay.codes(new Replay(RATE, damaged, noise).measured()))
                .containsExactly(WarningCode.INVALID_SAMPLE);
        // A delay beyond what is looked for: half of the noise's power is new to the other channel, and no peak is
        // near.
        assertAll(Replay.of(noise(4), RATE, 1, 900), Status.AMBIGUOUS);
    }

    private static void assertAll(Replay replay, Status status) {
        AzimuthMeter meter = replay.measured(AzimuthMeter.builder().tracks(TrackGeometry.CASSETTE_STEREO, 4.76));
        assertThat(meter.readings()).hasSize(5).allMatch(r -> r.status() == status, status.id());
    }

    @Test
    void clippingIsAWarningAndLeavesTheDelay() {
        Signal tone = new PinkNoise(5, 0.1, RATE);
        double[] a = Replay.of(tone, RATE, 1, 0).first();
        // One channel in ten samples: distortion some 25 dB down that the other has not.
        Replay clipped = new Replay(RATE, clip(a, 6), clip(a, 2));
        AzimuthMeter meter = clipped.measured();
        assertThat(Replay.codes(meter)).containsExactly(WarningCode.OVERLOAD);
        assertThat(meter.warnings().get(0).channel()).hasValue(1);
        assertThat(Replay.delay(meter)).isCloseTo(0, within(0.05));
    }

    private static double[] clip(double[] samples, double gain) {
        return Arrays.stream(samples)
                .map(x -> Math.max(-1, Math.min(1, gain * x)))
                .toArray();
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 7, 480, 4096, 1 << 20})
    void readingsAreBitIdenticalForAnyBlock(int block) {
        Replay replay = Replay.of(multitone(), 44_100, 2.7, 31).withNoise(1e-3, 2e-3, new Random(6));
        AzimuthMeter meter = AzimuthMeter.builder().sampleRateHz(44_100).build();
        int length = replay.first().length;
        for (int i = 0; i < length; i += block) {
            meter.accept(replay.first(), replay.second(), i, Math.min(block, length - i));
        }
        List<Reading> readings = meter.readings();
        assertThat(readings).isEqualTo(replay.measured().readings()).isEqualTo(meter.readings());

        float[] interleaved = new float[3 * length];
        double[] first = new double[length];
        double[] second = new double[length];
        for (int i = 0; i < length; i++) {
            interleaved[3 * i + 1] = (float) replay.first()[i];
            interleaved[3 * i + 2] = (float) replay.second()[i];
            first[i] = interleaved[3 * i + 1];
            second[i] = interleaved[3 * i + 2];
        }
        meter.reset();
        assertThat(meter.readings()).allMatch(r -> r.status() == Status.INSUFFICIENT_DATA);
        for (int i = 0; i < length; i += block) {
            meter.accept(interleaved, 3 * i + 1, 3, Math.min(block, length - i));
        }
        assertThat(meter.readings())
                .isEqualTo(new Replay(44_100, first, second).measured().readings());
    }

    @Test
    void aBlockAllocatesNothing() {
        int block = 480;
        int round = 2 * RATE / block;
        Replay replay = Replay.of(Spectral.noise(RATE, 10, Spectral.band(20, 20_000, 0), new Random(1)), RATE, 10, 12)
                .withNoise(1e-3, 1e-3, new Random(2));
        AzimuthMeter meter = AzimuthMeter.builder().sampleRateHz(RATE).build();
        long allocated = AllocatedBytes.leastOf(5, number -> {
            for (int i = 0; i < round; i++) {
                meter.accept(replay.first(), replay.second(), (number * round + i) * block, block);
            }
        });
        assertThat(allocated).isZero();
        assertThat(Replay.delay(meter)).isCloseTo(12, within(0.01));
    }

    @Test
    void aWrongSettingSaysWhatIsAllowed() {
        AzimuthMeter.Builder builder = AzimuthMeter.builder();
        assertThatThrownBy(builder::build)
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining("sampleRateHz");
        assertThatThrownBy(() -> builder.sampleRateHz(7999))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("7999.0")
                .hasMessageContaining("8000");
        assertThatThrownBy(() -> builder.tracks(TrackGeometry.FULL_TRACK, 38.1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("full track");
        assertThatThrownBy(() -> builder.tracks(TrackGeometry.CASSETTE_STEREO, 0))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("speedCmPerSecond 0.0");
        assertThatThrownBy(() -> builder.coarseDelayMicroseconds(Double.NaN))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("NaN");
        assertThatThrownBy(() -> builder.levelLossAtHz(1000, -1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("-1.0");
    }

    @ParameterizedTest
    @ValueSource(doubles = {8000, 192_000})
    void theOutermostSamplingRatesServe(double rate) {
        Spectral signal = Spectral.noise(rate, 1, Spectral.band(50, 3500, 0), new Random(9));
        AzimuthMeter meter = Replay.of(signal, rate, 1, -150)
                .withNoise(1e-3, 1e-3, new Random(3))
                .measured();
        // The bound at 8 kHz and 40 dB is 0.013 us.
        assertThat(Replay.delay(meter)).isCloseTo(-150, within(0.04));
    }
}
