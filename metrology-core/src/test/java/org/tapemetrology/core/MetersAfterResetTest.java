/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.tapemetrology.core.flutter.ToneMeter;
import org.tapemetrology.core.level.DigitalLevel;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.separation.ErasureMeter;
import org.tapemetrology.core.separation.PrintThroughMeter;
import org.tapemetrology.core.separation.RecordedTone;
import org.tapemetrology.core.separation.RecordedToneMeter;
import org.tapemetrology.core.separation.SeparationMeter;
import org.tapemetrology.core.tone.DistortionMeter;
import org.tapemetrology.core.tone.TwoToneDistortionMeter;

/** Nothing of what a meter heard before a reset is in its readings afterwards, bit by bit. */
class MetersAfterResetTest {
    private static final int RATE = 44_100;

    /** A meter of one or two channels as a test drives it. */
    private record Driven(Feed feed, Supplier<? extends List<?>> readings, Runnable reset) {}

    @FunctionalInterface
    private interface Feed {
        void accept(double[] first, double[] second);
    }

    static Stream<Arguments> meters() {
        return Stream.of(
                meter("separation", 8, () -> {
                    SeparationMeter meter = new SeparationMeter(RATE);
                    return new Driven((a, b) -> meter.accept(a, b, 0, a.length), meter::readings, meter::reset);
                }),
                meter("recorded tone", 6, () -> {
                    RecordedToneMeter meter = new RecordedToneMeter(RATE, 1000);
                    return new Driven((a, b) -> meter.accept(a, 0, a.length), meter::readings, meter::reset);
                }),
                meter("erasure", 8, () -> {
                    ErasureMeter meter = new ErasureMeter(RATE, new RecordedTone(DigitalLevel.ofSine(0.5), 1000), 1);
                    return new Driven(
                            (a, b) -> meter.accept(b, 0, b.length), () -> List.of(meter.reading()), meter::reset);
                }),
                meter("print-through", 8, () -> {
                    PrintThroughMeter meter = new PrintThroughMeter(RATE, 1000);
                    return new Driven((a, b) -> meter.accept(a, 0, a.length), meter::readings, meter::reset);
                }),
                meter("distortion", 3, () -> {
                    DistortionMeter meter = new DistortionMeter(RATE);
                    return new Driven((a, b) -> meter.accept(a, 0, a.length), meter::readings, meter::reset);
                }),
                meter("distortion by two tones", 3, () -> {
                    TwoToneDistortionMeter meter = new TwoToneDistortionMeter(RATE);
                    return new Driven((a, b) -> meter.accept(a, 0, a.length), meter::readings, meter::reset);
                }),
                meter("tone", 9, () -> {
                    ToneMeter meter = ToneMeter.builder(RATE).nominalHz(1000).build();
                    return new Driven((a, b) -> meter.accept(a, 0, a.length), () -> all(meter.reading()), meter::reset);
                }),
                meter("recording", 9, () -> {
                    RecordingMeter meter = recordingMeter();
                    return new Driven(
                            (a, b) -> meter.accept(interleaved(a, b), 0, a.length),
                            () -> all(meter.reading()),
                            meter::reset);
                }),
                meter("published", 9, () -> {
                    PublishedMeter meter = new PublishedMeter(recordingMeter(), RATE);
                    return new Driven(
                            (a, b) -> meter.accept(interleaved(a, b), 0, a.length),
                            () -> {
                                meter.publish();
                                return all(meter.latest().orElseThrow().measurement());
                            },
                            meter::reset);
                }));
    }

    private static RecordingMeter recordingMeter() {
        return RecordingMeter.builder(RATE, 2).nominalHz(1000).build();
    }

    private static float[] interleaved(double[] first, double[] second) {
        float[] both = new float[2 * first.length];
        for (int i = 0; i < first.length; i++) {
            both[2 * i] = (float) first[i];
            both[2 * i + 1] = (float) second[i];
        }
        return both;
    }

    /** Readings and warnings. */
    private static List<Object> all(Measurement measurement) {
        List<Object> all = new ArrayList<>(measurement.readings());
        all.addAll(measurement.warnings());
        return all;
    }

    private static Arguments meter(String name, double seconds, Supplier<Driven> made) {
        return Arguments.of(name, seconds, made);
    }

    /** A tone with its third harmonic, a second tone, and noise. */
    private static double[] tone(double seconds, double hz, double amplitude, double third, double other, int seed) {
        Random random = new Random(seed);
        double[] y = new double[(int) (seconds * RATE)];
        for (int i = 0; i < y.length; i++) {
            double angle = 2 * Math.PI * hz * i / RATE;
            y[i] = amplitude * (Math.sin(angle) + third * Math.sin(3 * angle))
                    + other * Math.sin(2 * Math.PI * 7000.0 * i / RATE)
                    + 1e-3 * amplitude * random.nextGaussian();
        }
        return y;
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("meters")
    void readsAsANewOne(String name, double seconds, Supplier<Driven> made) {
        double other = name.endsWith("two tones") ? 0.1 : 0;
        double hz = name.endsWith("two tones") ? 250 : 1000;
        double[] first = tone(seconds, hz, 0.5, 0.01, other, 1);
        double[] second = tone(seconds, hz, 0.005, 0, 0, 2);
        Driven fresh = made.get();
        fresh.feed().accept(first, second);

        Driven used = made.get();
        double[] louder = tone(seconds * 0.83, 1.04 * hz, 0.7, 0.04, 1.3 * other, 3);
        double[] crosstalk = tone(seconds * 0.83, 1.04 * hz, 0.05, 0, 0, 4);
        used.feed().accept(louder, crosstalk);
        used.feed().accept(new double[2 * RATE], new double[2 * RATE]);
        used.feed().accept(louder, crosstalk);
        used.feed().accept(new double[] {0.1, Double.NaN}, new double[] {0.2, Double.NaN});
        used.reset().run();
        assertThat(used.readings().get()).isEqualTo(made.get().readings().get());
        used.feed().accept(first, second);

        assertThat(used.readings().get()).isEqualTo(fresh.readings().get());
        if (!name.equals("print-through")) { // of which this recording has none
            assertThat(fresh.readings().get()).anyMatch(each -> each instanceof Reading reading && reading.isValid());
        }
    }
}
