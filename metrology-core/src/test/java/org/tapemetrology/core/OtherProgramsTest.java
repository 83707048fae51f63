/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.params.provider.Arguments.arguments;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Status;

/**
 * Recordings made by two general-purpose programs, sox and ffmpeg, from laws that their manuals state. Both must be
 * installed: without them these tests fail.
 *
 * <p>Flutter is read within 2 %: the weighting is within 0.19 dB (2.2 %) of the table at any row and 0 dB at 4 Hz, where
 * these recordings have it, so that a correct meter is far inside and a wrong factor outside.
 */
@Timeout(120)
class OtherProgramsTest {
    private static final double FLUTTER = 0.02;
    /**
     * Where nothing modulates, what is read is the rounding of the file. That of 16 bits, q^2/12 spread over half the
     * sampling rate, makes the phase of a tone of amplitude 0.5 noisy by 2.6e-14 rad^2/Hz, which up to 270 Hz is a
     * deviation of 0.4 mHz, 1.4e-5 %. Without dither it gathers in lines: seven times as much is allowed.
     */
    private static final double NO_FLUTTER_PERCENT = 0.0001;

    @TempDir
    private Path folder;

    static Stream<Arguments> ffmpegFormats() {
        return Stream.of(
                arguments("pcm_s16le", 48_000, 0.0),
                arguments("pcm_s24le", 44_100, 0.0),
                arguments("pcm_f32le", 48_000, 0.0),
                arguments("pcm_s24le", 48_000, 0.01),
                arguments("pcm_s16le", 44_100, 0.01));
    }

    /**
     * A sine of peak deviation d at 4 Hz: IEC 60386 reads d by the quasi-peak method (definition of the figure), 0.997 d
     * by two-sigma (95th percentile of a rectified sine), d/sqrt 2 by RMS.
     */
    @ParameterizedTest
    @MethodSource("ffmpegFormats")
    void frequencyModulationByFfmpeg(String codec, int rateHz, double speedError) throws Exception {
        double f = 3150 * (1 + speedError);
        double index = 0.001 * f / 4;
        Path wav = folder.resolve("a.wav");
        run(
                "ffmpeg",
                "-nostdin",
                "-loglevel",
                "error",
                "-f",
                "lavfi",
                "-i",
                "aevalsrc=0.5*sin(2*PI*" + f + "*t-" + index + "*cos(2*PI*4*t)):s=" + rateHz + ":d=45",
                "-c:a",
                codec,
                wav.toString());
        Measurement measurement = RecordingMeter.measure(wav);

        near(measurement, Quantity.FLUTTER_WEIGHTED_QUASI_PEAK, 0.1);
        near(measurement, Quantity.FLUTTER_WEIGHTED_TWO_SIGMA, 0.1 * Math.sin(0.95 * Math.PI / 2));
        near(measurement, Quantity.FLUTTER_WEIGHTED_RMS, 0.1 / Math.sqrt(2));
        near(measurement, Quantity.FLUTTER_WEIGHTED_AVERAGE, 0.1 / Math.sqrt(2));
        near(measurement, Quantity.FLUTTER_UNWEIGHTED_RMS, 0.1 / Math.sqrt(2));
        near(measurement, Quantity.FLUTTER_UNWEIGHTED_PEAK, 0.1);
        // 0.1 % over at most half a period of 4 Hz that the span of 45 s may leave over: 2 ppm.
        assertThat(value(measurement, Quantity.SPEED_ERROR)).isCloseTo(100 * speedError, within(0.0005));
        // A fundamental of peak 0.5 is 6.02 dB below a full-scale sine; pass-band ripple is below 0.001 dB.
        assertThat(value(measurement, Quantity.LEVEL)).isCloseTo(-6.0206, within(0.01));
    }

    static Stream<Arguments> soxFormats() {
        return Stream.of(
                arguments("signed-integer", 16, 44_100),
                arguments("signed-integer", 24, 48_000),
                arguments("floating-point", 32, 96_000));
    }

    @ParameterizedTest
    @MethodSource("soxFormats")
    void aPlainToneOfSoxHasNoFlutter(String encoding, int bits, int rateHz) throws Exception {
        Measurement measurement =
                RecordingMeter.measure(sox(encoding, bits, rateHz, "synth", "45", "sine", "3000", "vol", "0.5"));

        // The frequency of the program is exact to rounding; the meter's rests on 45 s of phase.
        assertThat(value(measurement, Quantity.TONE_FREQUENCY)).isCloseTo(3000, within(0.0001));
        for (Quantity quantity : List.of(
                Quantity.FLUTTER_WEIGHTED_QUASI_PEAK,
                Quantity.FLUTTER_WEIGHTED_RMS,
                Quantity.FLUTTER_WEIGHTED_TWO_SIGMA,
                Quantity.FLUTTER_UNWEIGHTED_RMS,
                Quantity.WOW_RMS)) {
            assertThat(value(measurement, quantity)).as(quantity.id()).isBetween(0.0, NO_FLUTTER_PERCENT);
        }
    }

    /** "Linear: the tone will change by a fixed number of hertz per second" (manual of sox, effect synth, ':'). */
    @ParameterizedTest
    @MethodSource("soxFormats")
    void aLinearSweepOfSoxIsDrift(String encoding, int bits, int rateHz) throws Exception {
        Measurement measurement =
                RecordingMeter.measure(sox(encoding, bits, rateHz, "synth", "65", "sine", "3147:3153.5", "vol", "0.5"));

        double mean = 3150.25;
        // Least squares over the whole of a straight line gives its slope; 0.2 % is for the ends of the span.
        near(measurement, Quantity.SPEED_DRIFT, 100 * 6 / mean, 0.002);
        assertThat(value(measurement, Quantity.SPEED_ERROR)).isCloseTo(100 * (mean / 3150 - 1), within(0.0005));
        // 0.1 Hz per second; means over six times 10 s, of which the first and the last are 50 s apart.
        near(measurement, Quantity.SPEED_RANGE, 100 * 5 / mean, 0.005);
    }

    /** "factor is ... the ratio of the new speed to the old speed" (manual of sox, effect speed): a resampled tone. */
    @ParameterizedTest
    @MethodSource("soxFormats")
    void aRecordingSpedUpBySoxRunsFast(String encoding, int bits, int rateHz) throws Exception {
        Path wav = sox(encoding, bits, rateHz, "synth", "45", "sine", "3150", "vol", "0.5", "speed", "1.01");
        Measurement measurement = RecordingMeter.measure(wav);

        // The program rounds the ratio of its rates to whole hertz at most: 1 Hz in 44100 is 0.0023 %.
        assertThat(value(measurement, Quantity.SPEED_ERROR)).isCloseTo(1, within(0.0025));
        assertThat(value(measurement, Quantity.FLUTTER_WEIGHTED_RMS)).isBetween(0.0, NO_FLUTTER_PERCENT);
    }

    /**
     * Effect tremolo of sox: low-frequency amplitude modulation. It is no speed deviation: what flutter reads of 40 %
     * at 4 Hz is below a hundredth of the tightest limit in use, 0.05 %.
     */
    @Test
    void amplitudeModulationBySoxIsNoFlutter() throws Exception {
        Path wav = sox("signed-integer", 24, 48_000, "synth", "45", "sine", "3150", "vol", "0.5", "tremolo", "4", "40");
        Measurement measurement = RecordingMeter.measure(wav);

        assertThat(value(measurement, Quantity.FLUTTER_WEIGHTED_RMS)).isBetween(0.0, 0.0005);
        assertThat(value(measurement, Quantity.LEVEL_FLUCTUATION)).isGreaterThan(1);
    }

    /** Both channels of a file are read, each its own tone. */
    @Test
    void eachChannelOfSoxReadsItsOwnTone() throws Exception {
        Path wav = folder.resolve("two.wav");
        run(
                "sox",
                "-D",
                "-n",
                "-r",
                "48000",
                "-c",
                "2",
                "-b",
                "24",
                wav.toString(),
                "synth",
                "20",
                "sine",
                "3150",
                "sine",
                "3165.75",
                "vol",
                "0.5");
        Measurement measurement = RecordingMeter.measure(wav);

        assertThat(measurement
                        .find(Quantity.SPEED_ERROR, 1)
                        .orElseThrow()
                        .value()
                        .orElseThrow())
                .isCloseTo(0, within(0.0001));
        assertThat(measurement
                        .find(Quantity.SPEED_ERROR, 2)
                        .orElseThrow()
                        .value()
                        .orElseThrow())
                .isCloseTo(0.5, within(0.0001));
    }

    /** Negative control: noise of the program is no tone, and no flutter figure of it is valid. */
    @Test
    void noiseOfSoxGivesNoFlutter() throws Exception {
        Measurement measurement =
                RecordingMeter.measure(sox("signed-integer", 16, 48_000, "synth", "20", "whitenoise", "vol", "0.3"));

        assertThat(measurement.readings())
                .filteredOn(reading -> reading.quantity().id().startsWith("flutter"))
                .allSatisfy(reading -> assertThat(reading.status()).isNotEqualTo(Status.VALID));
        assertThat(measurement.find(Quantity.FLUTTER_WEIGHTED_RMS).orElseThrow().status())
                .isEqualTo(Status.NO_CARRIER);
    }

    private Path sox(String encoding, int bits, int rateHz, String... effects) throws Exception {
        Path wav = folder.resolve("a.wav");
        List<String> command = new ArrayList<>(List.of("sox", "-D", "-n", "-r", "" + rateHz, "-c", "1"));
        command.addAll(List.of("-e", encoding, "-b", "" + bits, wav.toString()));
        command.addAll(List.of(effects));
        run(command.toArray(String[]::new));
        return wav;
    }

    private static void near(Measurement measurement, Quantity quantity, double expected) {
        near(measurement, quantity, expected, FLUTTER);
    }

    private static void near(Measurement measurement, Quantity quantity, double expected, double share) {
        assertThat(value(measurement, quantity)).as(quantity.id()).isCloseTo(expected, within(share * expected));
    }

    private static double value(Measurement measurement, Quantity quantity) {
        return measurement.find(quantity).orElseThrow().value().orElseThrow(() -> new AssertionError(measurement));
    }

    private void run(String... command) throws IOException, InterruptedException {
        Path errors = folder.resolve("standard-error");
        Process process = new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(errors.toFile())
                .start();
        assertThat(process.waitFor())
                .as("%s: %s", List.of(command), Files.readString(errors))
                .isZero();
    }
}
