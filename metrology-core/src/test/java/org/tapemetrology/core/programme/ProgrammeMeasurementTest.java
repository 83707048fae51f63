/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.AllocatedBytes;
import org.tapemetrology.core.level.ConverterFullScale;
import org.tapemetrology.core.level.DigitalLevel;
import org.tapemetrology.core.loss.TrackGeometry;
import org.tapemetrology.core.quantity.Confidence;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Unit;
import org.tapemetrology.core.quantity.WarningCode;

/** Recognition and readings of a programme that an invented machine replays, whose faults are known. */
class ProgrammeMeasurementTest {
    private static final int RATE_HZ = 48_000;

    private static Step step(String name, StepSignal signal, Step.Side side, double seconds) {
        return new Step(name, signal, side, seconds);
    }

    private static Programme programme() {
        return new Programme(
                "all kinds",
                List.of(
                        step("reference", new StepSignal.Tone(1000, -10), Step.Side.BOTH, 4),
                        step("pause", new StepSignal.Pause(), Step.Side.BOTH, 8),
                        step("left", new StepSignal.Tone(1000, -10), Step.Side.LEFT, 6),
                        step("right", new StepSignal.Tone(1000, -10), Step.Side.RIGHT, 6),
                        step("315", new StepSignal.Tone(315, -20), Step.Side.BOTH, 3),
                        step("1k", new StepSignal.Tone(1000, -20), Step.Side.BOTH, 3),
                        step("8k", new StepSignal.Tone(8000, -20), Step.Side.BOTH, 3),
                        step("gap", new StepSignal.Pause(), Step.Side.BOTH, 2),
                        step("sweep", new StepSignal.Sweep(40, 16_000, -20), Step.Side.BOTH, 15),
                        step("noise", new StepSignal.Noise(true, 20, 20_000, -20), Step.Side.BOTH, 8)),
                OptionalDouble.empty());
    }

    private static ReplayedProgramme replay() {
        ReplayedProgramme replay = new ReplayedProgramme(programme(), RATE_HZ, 5);
        replay.ratio = 1.03;
        replay.leadSeconds = 1.3;
        replay.tailSeconds = 1;
        replay.gain = 0.5;
        replay.balance = 0.9;
        replay.crosstalk = 0.01;
        replay.hiss = 1e-4;
        replay.hum = 1e-3;
        return replay;
    }

    private static ProgrammeMeasurement.Result measured(ReplayedProgramme replay) throws IOException {
        float[] samples = replay.play().interleaved();
        return ProgrammeMeasurement.builder(programme(), RATE_HZ, 2)
                .build()
                .measure(sink -> sink.accept(samples, 0, samples.length / 2));
    }

    private static double value(ProgrammeMeasurement.Result result, String step, Quantity quantity, int channel) {
        return result.find(step)
                .orElseThrow()
                .find(quantity, channel)
                .orElseThrow()
                .value()
                .orElseThrow();
    }

    @Test
    void everyStepIsFoundAndMeasured() throws IOException {
        ProgrammeMeasurement.Result result = measured(replay());
        assertThat(result.recognition().missing()).isEmpty();
        assertThat(result.recognition().warnings()).isEmpty();
        assertThat(result.steps()).hasSize(10);
        // Half is -6.021 dB, and the crosstalk of 0.01 of the same tone adds 0.086 dB; hiss and hum of -60 dB and less
        // move it by less than 0.01 dB.
        assertThat(value(result, "reference", Quantity.LEVEL, 1)).isCloseTo(-15.934, within(0.02));
        assertThat(value(result, "reference", Quantity.SPEED_ERROR, 1)).isCloseTo(3, within(0.01));
        // 20 lg 0.9
        assertThat(result.find("reference")
                        .orElseThrow()
                        .find(Quantity.CHANNEL_BALANCE)
                        .orElseThrow()
                        .value()
                        .orElseThrow())
                .isCloseTo(-0.915, within(0.02));
        // Crosstalk of 0.01 into a channel that is 0.915 dB lower, at 30 dB above the hiss: 40.9 dB within half a
        // decibel.
        assertThat(value(result, "left", Quantity.SEPARATION, 2)).isCloseTo(40.9, within(0.5));
        assertThat(value(result, "right", Quantity.SEPARATION, 1)).isCloseTo(39.1, within(0.5));
        assertThat(value(result, "8k", Quantity.RESPONSE, 2)).isCloseTo(0, within(0.02));
        assertThat(value(result, "1k", Quantity.RESPONSE, 2)).isZero();
        // Hum of -60 dBFS with its harmonics outweighs the hiss of -77 dBFS: 10 lg(1 + 0.25 + 0.16) = 1.5 dB.
        assertThat(value(result, "pause", Quantity.NOISE_UNWEIGHTED, 1)).isCloseTo(-58.4, within(0.4));
        assertThat(result.find("sweep").orElseThrow().readings())
                .anyMatch(r -> r.quantity() == Quantity.RESPONSE && r.isValid());
        assertThat(result.find("noise").orElseThrow().readings())
                .anyMatch(r -> r.quantity() == Quantity.RESPONSE && r.isValid());
    }

    @Test
    void whatIsMissingIsNamed() throws IOException {
        ReplayedProgramme replay = replay();
        replay.from = 13;
        replay.to = 40;
        ProgrammeMeasurement.Result result = measured(replay);
        assertThat(result.recognition().missing()).contains("reference", "pause", "noise");
        assertThat(result.recognition().warnings())
                .anyMatch(w -> w.code() == WarningCode.STEP_MISSING
                        && w.message().contains("reference")
                        && w.message().contains("begins after it"))
                .anyMatch(w ->
                        w.code() == WarningCode.STEP_CUT_SHORT && w.message().contains("left"));
    }

    @Test
    void swappedChannelsAreTold() throws IOException {
        ReplayedProgramme replay = replay();
        replay.swapped = true;
        ProgrammeMeasurement.Result result = measured(replay);
        assertThat(result.recognition().swapped()).isTrue();
        assertThat(result.recognition().warnings()).anyMatch(w -> w.code() == WarningCode.CHANNELS_SWAPPED);
    }

    @Test
    void anotherTapeIsNotNamed() {
        ProgrammeRecogniser recogniser = new ProgrammeRecogniser(programme(), RATE_HZ, 1);
        double[] samples = new double[60 * RATE_HZ];
        for (int i = 0; i < samples.length; i++) {
            samples[i] = 0.3 * Math.sin(2 * Math.PI * 440 * Math.pow(2, i / RATE_HZ % 12 / 12.0) * i / RATE_HZ);
        }
        recogniser.accept(samples, 0, samples.length);
        assertThat(recogniser.recognition().found()).isEmpty();
        assertThat(recogniser.recognition().warnings())
                .anyMatch(w -> w.message().contains("another tape"));
    }

    @Test
    void anyBlockSizeRecognisesTheSame() {
        ReplayedProgramme replay = replay();
        replay.to = 20;
        float[] samples = replay.play().interleaved();
        List<Recognition> recognitions = new ArrayList<>();
        for (int block : new int[] {1, 7, 480, 4096, samples.length}) {
            ProgrammeRecogniser recogniser = new ProgrammeRecogniser(programme(), RATE_HZ, 2);
            for (int at = 0; at < samples.length / 2; at += block) {
                recogniser.accept(samples, 2 * at, 2, Math.min(block, samples.length / 2 - at));
            }
            recognitions.add(recogniser.recognition());
        }
        assertThat(recognitions.get(0).found()).isNotEmpty();
        assertThat(recognitions).containsOnly(recognitions.get(0));
    }

    @Test
    void wrongProgrammesAreRefusedWithTheValue() {
        Step tone = step("a", new StepSignal.Tone(1000, -10), Step.Side.BOTH, 2);
        assertThatThrownBy(() -> new Programme("x", List.of(tone, tone), OptionalDouble.empty()))
                .hasMessageContaining("name a of step 1");
        assertThatThrownBy(() -> new StepSignal.Tone(5, -10)).hasMessageContaining("frequencyHz 5.0");
        assertThatThrownBy(() -> step("a", new StepSignal.Pause(), Step.Side.BOTH, 0.5))
                .hasMessageContaining("seconds 0.5");
    }

    private static ProgrammeMeasurement.Result measured(ProgrammeMeasurement measurement, float[] samples, int block)
            throws IOException {
        return measurement.measure(sink -> {
            for (int at = 0; at < samples.length / 2; at += block) {
                sink.accept(samples, 2 * at, Math.min(block, samples.length / 2 - at));
            }
        });
    }

    /** What is known of machine and converter reaches the meters of every step. */
    @Test
    void levelsVoltagesAndAnglesAreGivenWhereTheyAreKnown() throws IOException {
        ReplayedProgramme replay = replay();
        replay.delaySeconds = 1e-4;
        replay.to = 30;
        float[] samples = replay.play().interleaved();
        ProgrammeMeasurement measurement = ProgrammeMeasurement.builder(programme(), RATE_HZ, 2)
                .mainsHz(50)
                .fullScale(ConverterFullScale.ofVolts(Math.sqrt(0.6)))
                .referenceLevel(new DigitalLevel(-10))
                .tracks(TrackGeometry.pair("a pair", 0.6, 0.9, "this test", Confidence.MEMORY), 4.76)
                .build();
        ProgrammeMeasurement.Result result = measured(measurement, samples, 4096);
        double level = value(result, "reference", Quantity.LEVEL, 1);
        // Sums of the same decibels; 0 dBu is the voltage of 1 mW in 600 ohms, the root of 0.6 V.
        assertThat(value(result, "reference", Quantity.LEVEL_RE_REFERENCE, 1)).isCloseTo(level + 10, within(1e-9));
        assertThat(value(result, "reference", Quantity.LEVEL_VOLTAGE, 1)).isCloseTo(level, within(1e-9));
        Reading angle = result.find("reference")
                .orElseThrow()
                .find(Quantity.AZIMUTH_ANGLE)
                .orElseThrow();
        // 100 us (5 samples are 104.2 us) at 47.6 mm/s over 0.9 mm: atan(0.00496/0.9) is 18.9'.
        assertThat(angle.value().orElseThrow()).isCloseTo(18.9, within(0.2));
        Reading noise = result.find("pause")
                .orElseThrow()
                .find(Quantity.NOISE_UNWEIGHTED, 1)
                .orElseThrow();
        assertThat(noise.unit()).isEqualTo(Unit.DECIBEL);
        Reading balance = result.find("reference")
                .orElseThrow()
                .find(Quantity.CHANNEL_BALANCE)
                .orElseThrow();
        // Hiss 55 dB down in either channel: far below a hundredth of a decibel over 3.6 s.
        assertThat(balance.typeA().orElseThrow().value()).isBetween(0.0, 0.01);
        assertThat(measured(measurement, samples, 7)).isEqualTo(result);
    }

    /** A block within a step allocates nothing; a step that ends is kept. */
    @Test
    void aBlockOfAStepAllocatesNothing() {
        int block = 480;
        int round = 10 * RATE_HZ / block;
        ProgrammeRecogniser recogniser = new ProgrammeRecogniser(programme(), RATE_HZ, 2);
        float[] samples = new float[2 * block];
        long[] at = {0};
        long allocated = AllocatedBytes.leastOf(4, rounds -> {
            for (int n = 0; n < round; n++) {
                for (int i = 0; i < block; i++) {
                    samples[2 * i] = (float) (0.3 * Math.sin(2 * Math.PI * 1000 * at[0]++ / RATE_HZ));
                    samples[2 * i + 1] = samples[2 * i];
                }
                recogniser.accept(samples, 0, 2, block);
            }
        });
        assertThat(allocated).isZero();
        assertThat(at[0]).isEqualTo(4L * round * block);
    }
}
