/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.flutter.ToneMeter;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.signals.Dropout;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.Quantiser;
import org.tapemetrology.signals.SampledSignal;

/**
 * However a recording is cut into blocks, the whole measurement is the same to the last bit. Equality of the records
 * compares every value, status, warning and moment exactly.
 */
class BlockSizeTest {
    private static final int[] BLOCKS = {1, 7, 480, 4096, Integer.MAX_VALUE};
    private static final int SECONDS = 42;
    private static final Map<Integer, float[]> LEFT = new ConcurrentHashMap<>();
    private static final Map<Integer, float[]> STEREO = new ConcurrentHashMap<>();

    @ParameterizedTest
    @ValueSource(ints = {44_100, 48_000})
    void anyBlockSizeAndBothDoorsReadTheSame(int rateHz) {
        float[] samples = left(rateHz);
        double[] doubles = new double[samples.length];
        for (int i = 0; i < samples.length; i++) {
            doubles[i] = samples[i];
        }
        List<Measurement> measurements = new ArrayList<>();
        for (int block : BLOCKS) {
            ToneMeter floats = ToneMeter.builder(rateHz).build();
            ToneMeter others = ToneMeter.builder(rateHz).build();
            for (int at = 0; at < samples.length; ) {
                int length = Math.min(block, samples.length - at);
                floats.accept(samples, at, length);
                others.accept(doubles, at, length);
                at += length;
            }
            measurements.add(floats.reading());
            measurements.add(others.reading());
        }
        assertMeasured(measurements.get(0));
        assertThat(measurements).hasSize(2 * BLOCKS.length).containsOnly(measurements.get(0));
    }

    /**
     * A tone that is lost and comes back in the middle of a block, ends, begins anew at another frequency, and at last a
     * sample that is none: every decision is made of the same samples, whatever came with them.
     */
    @Test
    void aDamagedRecordingReadsTheSameInAnyBlocks() {
        int rateHz = 16_000;
        float[] samples = recording(rateHz, 0.001, 12);
        int end = 25 * rateHz;
        Arrays.fill(samples, (int) (9.013 * rateHz), (int) (9.307 * rateHz), 0f); // a gap
        Arrays.fill(samples, (int) (14.777 * rateHz), (int) (17.111 * rateHz), 0f); // the end of a stretch
        for (int i = (int) (17.111 * rateHz); i < end; i++) {
            samples[i] = (float) (0.3 * Math.sin(2 * Math.PI * 3010 * i / rateHz)); // the beginning of another
        }
        List<Measurement> measurements = new ArrayList<>();
        List<Measurement> spoilt = new ArrayList<>();
        for (int block : new int[] {1, 160, 640, 641, 1280, 1999, 4096, end}) {
            ToneMeter meter = ToneMeter.builder(rateHz).build();
            for (int at = 0; at < end; at += block) {
                meter.accept(samples, at, Math.min(block, end - at));
            }
            measurements.add(meter.reading());
            float[] bad = Arrays.copyOf(samples, end);
            bad[(int) (22.22 * rateHz)] = Float.NaN;
            ToneMeter another = ToneMeter.builder(rateHz).build();
            for (int at = 0; at < end; at += block) {
                another.accept(bad, at, Math.min(block, end - at));
            }
            spoilt.add(another.reading());
        }
        assertThat(measurements.get(0).warnings()).isNotEmpty();
        assertThat(measurements).containsOnly(measurements.get(0));
        assertThat(spoilt).containsOnly(spoilt.get(0));
        assertThat(spoilt.get(0)).isNotEqualTo(measurements.get(0));
    }

    @ParameterizedTest
    @ValueSource(ints = {44_100, 48_000})
    void anyBlockSizeOfInterleavedSamplesReadsTheSame(int rateHz) {
        float[] interleaved = stereo(rateHz);
        List<Measurement> measurements = new ArrayList<>();
        for (int block : BLOCKS) {
            RecordingMeter meter = RecordingMeter.builder(rateHz, 2).build();
            push(meter, interleaved, block);
            measurements.add(meter.reading());
        }
        assertMeasured(measurements.get(0));
        assertThat(measurements).hasSize(BLOCKS.length).containsOnly(measurements.get(0));
        assertThat(measurements
                        .get(0)
                        .find(Quantity.FLUTTER_WEIGHTED_RMS, 1)
                        .orElseThrow()
                        .value())
                .as("the channels differ, so that neither is read twice")
                .isNotEqualTo(measurements
                        .get(0)
                        .find(Quantity.FLUTTER_WEIGHTED_RMS, 2)
                        .orElseThrow()
                        .value());
    }

    /** A channel of an interleaved recording reads as the same samples alone. */
    @ParameterizedTest
    @ValueSource(ints = {44_100, 48_000})
    void aChannelReadsAsTheSameSamplesAlone(int rateHz) {
        RecordingMeter both = RecordingMeter.builder(rateHz, 2).build();
        push(both, stereo(rateHz), 480);
        RecordingMeter alone = RecordingMeter.builder(rateHz, 1).build();
        push(alone, left(rateHz), 4096);

        assertThat(both.reading().readings().stream()
                        .filter(reading -> reading.channel().orElse(0) == 1)
                        .toList())
                .isEqualTo(alone.reading().readings())
                .isNotEmpty();
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 480, Integer.MAX_VALUE})
    void aMeterThatWasResetReadsAsANewOne(int block) {
        float[] interleaved = stereo(48_000);
        RecordingMeter fresh = RecordingMeter.builder(48_000, 2).build();
        push(fresh, interleaved, block);

        RecordingMeter used = RecordingMeter.builder(48_000, 2).build();
        float[] other = interleaved.clone();
        for (int i = 0; i < other.length; i++) {
            other[i] *= 1.7f; // clips the figures of nothing, but leaves other states, levels and overloads behind
        }
        other[other.length - 3] = Float.NaN;
        used.accept(other, 0, other.length / 2);
        used.accept(interleaved, 0, 333); // a chunk that is not full
        used.reset();
        assertThat(used.reading())
                .isEqualTo(RecordingMeter.builder(48_000, 2).build().reading());
        push(used, interleaved, block);

        assertMeasured(fresh.reading());
        assertThat(used.reading()).isEqualTo(fresh.reading());
    }

    /** Blocks of 10 ms between readings: no multiple of what any stage works in. */
    private static final int ASKED_EVERY = 7;

    @ParameterizedTest
    @ValueSource(ints = {44_100, 48_000})
    void askingForAReadingChangesNothing(int rateHz) {
        float[] interleaved = stereo(rateHz);
        RecordingMeter silent = RecordingMeter.builder(rateHz, 2).build();
        push(silent, interleaved, 480);
        RecordingMeter asked = RecordingMeter.builder(rateHz, 2).build();
        for (int at = 0; at < interleaved.length; at += 2 * 480) {
            asked.accept(interleaved, at, Math.min(480, (interleaved.length - at) / 2));
            if (at % (2 * 480 * ASKED_EVERY) == 0) {
                assertThat(asked.reading()).isEqualTo(asked.reading());
            }
            asked.runningQuasiPeakPercent(1);
        }
        assertMeasured(silent.reading());
        assertThat(asked.reading()).isEqualTo(silent.reading());
    }

    private static void assertMeasured(Measurement measurement) {
        assertThat(measurement.warnsOf(WarningCode.CARRIER_LOST))
                .as("the dropout was met")
                .isTrue();
        assertThat(measurement
                        .find(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK)
                        .orElseThrow()
                        .isValid())
                .isTrue();
        assertThat(measurement.find(Quantity.SPEED_DRIFT).orElseThrow().isValid())
                .isTrue();
    }

    private static void push(RecordingMeter meter, float[] interleaved, int block) {
        int channels = meter.channels();
        int all = interleaved.length / channels;
        for (int at = 0; at < all; ) {
            int frames = Math.min(block, all - at);
            meter.accept(interleaved, at * channels, frames);
            at += frames;
        }
    }

    /** The same recording for every test at a rate; no meter changes what it is given. */
    private static float[] stereo(int rateHz) {
        return STEREO.computeIfAbsent(rateHz, BlockSizeTest::makeStereo);
    }

    private static float[] makeStereo(int rateHz) {
        float[] left = left(rateHz);
        float[] right = recording(rateHz, 0.0014, 31);
        float[] interleaved = new float[2 * left.length];
        for (int i = 0; i < left.length; i++) {
            interleaved[2 * i] = left[i];
            interleaved[2 * i + 1] = right[i];
        }
        return interleaved;
    }

    private static float[] left(int rateHz) {
        return LEFT.computeIfAbsent(rateHz, rate -> recording(rate, 0.001, 12));
    }

    /** A tone with flutter and a dropout of 30 ms; 16-bit, so that a float holds each sample exactly. */
    private static float[] recording(int rateHz, double deviation, double dropoutSeconds) {
        FmTone tone = FmTone.builder(3150)
                .amplitude(0.5)
                .speedError(0.004)
                .sine(4, deviation)
                .sine(17, deviation / 3)
                .build();
        float[] samples = new float[SECONDS * rateHz + 5]; // no multiple of any block
        SampledSignal.of(tone.withDropouts(new Dropout(dropoutSeconds, 0.03, 60, 0.002)), rateHz)
                .quantised(Quantiser.dithered(16, 9))
                .fill(0, samples, 0, samples.length);
        return samples;
    }
}
