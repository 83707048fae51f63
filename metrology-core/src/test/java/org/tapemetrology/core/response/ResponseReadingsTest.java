/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.response.ResponseMeter.ToneLevel;

/** What readings are made of levels, what meters refuse, and what they say of too little and of overload. */
class ResponseReadingsTest {
    /** Powers of 4 and 1 are 6.02 dB; the reference has no uncertainty of itself. */
    @Test
    void readingsAreReTheReference() {
        List<Reading> readings = ResponseMeter.relative(
                List.of(
                        new ToneLevel(315, 1, Status.VALID, 1e-4, 10),
                        new ToneLevel(1000, 4, Status.VALID, 4e-4, 20),
                        ToneLevel.without(8000, Status.NO_CARRIER),
                        new ToneLevel(2000, 0.5, Status.VALID)),
                315,
                2,
                "m");
        assertThat(readings.get(0).value()).hasValue(0);
        assertThat(readings.get(0).typeA()).isEmpty();
        assertThat(readings.get(1).value().orElseThrow()).isCloseTo(6.0206, within(1e-4));
        // 10/ln 10 times the root of the sum of variances, with Welch and Satterthwaite's degrees of freedom.
        StandardUncertainty known = readings.get(1).typeA().orElseThrow();
        assertThat(known.value()).isCloseTo(10 / Math.log(10) * Math.sqrt(5e-4), within(1e-12));
        assertThat(known.degreesOfFreedom()).isCloseTo(25e-8 / (1e-8 / 10 + 16e-8 / 20), within(1e-9));
        assertThat(readings.get(2).status()).isEqualTo(Status.NO_CARRIER);
        assertThat(readings.get(3).typeA()).isEmpty(); // its scatter is not known
        assertThat(readings)
                .allMatch(r -> r.channel().orElseThrow() == 2 && r.method().equals("m"));
        assertThat(readings)
                .extracting(r -> r.atFrequencyHz().orElseThrow())
                .containsExactly(315.0, 1000.0, 8000.0, 2000.0);
        List<Reading> without = ResponseMeter.relative(
                List.of(ToneLevel.without(315, Status.OVERLOAD), new ToneLevel(1000, 4, Status.VALID)), 315, 1, "m");
        assertThat(without).extracting(Reading::status).containsOnly(Status.OVERLOAD);
    }

    @Test
    void whatIsKnownExactlyHasNoUncertainty() {
        ToneLevel exact = new ToneLevel(315, 1, Status.VALID, 0, 5);
        assertThat(exact.uncertaintyRe(new ToneLevel(1000, 1, Status.VALID, 0, 5))
                        .orElseThrow()
                        .value())
                .isZero();
        assertThat(exact.uncertaintyRe(new ToneLevel(1000, 1, Status.VALID))).isEmpty();
        assertThat(new ToneLevel(1000, 1, Status.VALID).uncertaintyRe(exact)).isEmpty();
    }

    @Test
    void badSettingsAreNamed() {
        assertThatThrownBy(() -> ResponseMeter.requireSampleRate(7999)).hasMessageContaining("sampleRateHz 7999");
        assertThat(ResponseMeter.requireSampleRate(768_000)).isEqualTo(768_000);
        assertThatThrownBy(() -> ResponseMeter.requireChannel(0)).hasMessage("channel 0 is below 1, the first channel");
        assertThat(ResponseMeter.requireChannel(1)).isEqualTo(1);
        assertThat(ResponseMeter.requireRising(List.of(20.0, 22.0, 21_600.0), 1.1, 48_000))
                .containsExactly(20, 22, 21_600);
        // 1.1 times 200 is 220.00000000000003 in binary numbers.
        assertThat(ResponseMeter.requireRising(List.of(200.0, 220.0), 1.1, 48_000))
                .containsExactly(200, 220);
        assertThatThrownBy(() -> ResponseMeter.requireRising(List.of(200.0, 219.99), 1.1, 48_000))
                .hasMessageContaining("frequency 1 of 219.99 Hz");
        assertThatThrownBy(() -> ResponseMeter.requireRising(List.of(19.9), 1.1, 48_000))
                .hasMessageContaining("frequency 0");
        assertThatThrownBy(() -> ResponseMeter.requireRising(List.of(100.0, 109.0), 1.1, 48_000))
                .hasMessage("frequency 1 of 109.0 Hz is not at least 1.1 times the one below, 100.0 Hz");
        assertThatThrownBy(() -> ResponseMeter.requireRising(List.of(21_601.0), 1.1, 48_000))
                .hasMessageContaining("frequency 0");
        assertThatThrownBy(() -> new MultitoneResponse(48_000, 1, 1000, List.of(1000.0, 2000.0), List.of(0.0)))
                .hasMessage("1 sent levels do not go with 2 frequencies");
        assertThatThrownBy(() -> new MultitoneResponse(48_000, 1, 500, List.of(1000.0, 2000.0), List.of(0.0, 0.0)))
                .hasMessage("referenceHz 500.0 is none of the frequencies that were sent");
        assertThatThrownBy(() -> new SteppedToneResponse(48_000, 1, 1000, ToneStep.each(0.8, 1000, 2000)))
                .hasMessageContaining("dwellSeconds 0.8");
        assertThatThrownBy(() -> new SteppedToneResponse(48_000, 1, 999, ToneStep.each(2, 1000, 2000)))
                .hasMessage("referenceHz 999.0 is none of the frequencies that were sent");
        assertThatThrownBy(() -> new NoiseResponse(48_000, 1, 333, NoiseResponse.Spectrum.PINK))
                .hasMessage("referenceHz 333.0 is none of the frequencies that were sent");
        assertThatThrownBy(() -> new NoiseResponse(8000, 1, 4000, NoiseResponse.Spectrum.PINK))
                .hasMessageContaining("referenceHz 4000.0");
        assertThat(new NoiseResponse(8000, 1, 3150, NoiseResponse.Spectrum.PINK).referenceHz())
                .isEqualTo(3150);
        assertThat(new NoiseResponse(8000, 1, 25, NoiseResponse.Spectrum.PINK).referenceHz())
                .isEqualTo(25);
        assertThatThrownBy(() -> new ToneStep(0, 1)).hasMessageContaining("frequencyHz");
        assertThatThrownBy(() -> new ToneStep(1000, 0)).hasMessageContaining("dwellSeconds");
        assertThat(ToneStep.each(2, 1000, 500)).containsExactly(new ToneStep(1000, 2), new ToneStep(500, 2));
    }

    /** Against the sum that defines it: a Hann window, both signs of the frequency, over the mean square of the window. */
    @Test
    void aSpectrumIsThatOfItsDefinition() {
        int size = 16;
        double[] x = white(1, 1);
        double[] power = new double[size / 2 + 1];
        new FrameSpectrum(size).power(x, 5, power);
        double squares = 0;
        for (int i = 0; i < size; i++) {
            squares += Math.pow(Math.sin(Math.PI * (i + 0.5) / size), 4);
        }
        for (int k = 1; k < size / 2; k++) {
            double re = 0;
            double im = 0;
            for (int i = 0; i < size; i++) {
                double windowed = Math.pow(Math.sin(Math.PI * (i + 0.5) / size), 2) * x[5 + i];
                re += windowed * Math.cos(2 * Math.PI * k * i / size);
                im += windowed * Math.sin(2 * Math.PI * k * i / size);
            }
            assertThat(power[k]).isCloseTo(2 * (re * re + im * im) / (size * squares), within(1e-13));
        }
        assertThat(FrameSpectrum.sizeFor(0.5, 8000)).isEqualTo(4096);
        assertThat(FrameSpectrum.sizeFor(0.512, 8000)).isEqualTo(4096);
        assertThat(FrameSpectrum.sizeFor(0.5121, 8000)).isEqualTo(8192);
        double[] lines = {1, 2, 4, 8};
        assertThat(FrameSpectrum.sum(lines, -5, 9)).isEqualTo(15);
        assertThat(FrameSpectrum.sum(lines, 1, 2)).isEqualTo(6);
        assertThat(FrameSpectrum.sum(lines, 2, 1)).isZero();
    }

    private static double[] white(double seconds, double rms) {
        Random random = new Random(9);
        double[] x = new double[(int) (seconds * 8000)];
        for (int i = 0; i < x.length; i++) {
            x[i] = rms * random.nextGaussian();
        }
        return x;
    }

    /**
     * The statistical part of a third octave: 4.343 dB/sqrt(0.947 B T), B the width by IEC 61260, of band and reference together.
     * T goes to the middle of the last frame of 2.05 s.
     */
    @Test
    void noiseStatesItsStatisticalPart() {
        NoiseResponse meter = new NoiseResponse(8000, 1, 1000, NoiseResponse.Spectrum.WHITE);
        double[] x = white(9, 0.1);
        meter.accept(x, 0, x.length);
        List<Reading> readings = meter.readings();
        assertThat(readings.get(readings.size() - 1).atFrequencyHz()).hasValue(3150); // 4 kHz ends above half the rate
        assertThat(readings).hasSize(22);
        double frame = 16_384 / 8000.0;
        int frames = (int) ((9 - frame) / (frame / 2)) + 1;
        double seconds = (frames + 1) * frame / 2;
        for (Reading reading : readings) {
            double hertz = reading.atFrequencyHz().orElseThrow();
            assertThat(reading.method()).isEqualTo("third-octave noise, bands of IEC 61260");
            if (hertz == 1000) {
                assertThat(reading.value()).hasValue(0);
                assertThat(reading.typeA()).isEmpty();
                continue;
            }
            double exact = 1000 * Math.pow(10, Math.round(10 * Math.log10(hertz / 1000)) / 10.0);
            double relative = 0;
            for (double middle : new double[] {exact, 1000}) {
                double width = middle * (Math.pow(10, 0.05) - Math.pow(10, -0.05));
                relative += 1 / (18.0 / 19 * width * seconds);
            }
            double stated = reading.typeA().orElseThrow().value();
            assertThat(stated).isCloseTo(10 / Math.log(10) * Math.sqrt(relative), within(1e-9));
            // White noise is flat after the division by the widths: within four of what is stated.
            assertThat(reading.value().orElseThrow()).as("%s Hz", hertz).isCloseTo(0, within(4 * stated));
        }
    }

    /** A line at the edge of a band counts by the part of it that lies inside; the rest is the neighbour's. */
    @Test
    void aLineAtAnEdgeIsShared() {
        double line = 8000.0 / 16_384;
        for (double middle : new double[] {100, 1000}) {
            double edge = middle * Math.pow(10, 0.05) / line;
            double[] power = new double[8193];
            power[(int) Math.round(edge)] = 3;
            NoiseResponse meter = new NoiseResponse(8000, 1, 1000, NoiseResponse.Spectrum.PINK);
            for (int i = 0; i < 3; i++) {
                meter.add(power, false);
            }
            double below = edge - (Math.round(edge) - 0.5);
            List<ToneLevel> levels = meter.levels();
            int band = middle == 100 ? 6 : 16;
            assertThat(levels.get(band).frequencyHz()).isEqualTo(middle);
            assertThat(levels.get(band).power()).isCloseTo(9 * below, within(1e-9));
            assertThat(levels.get(band + 1).power()).isCloseTo(9 * (1 - below), within(1e-9));
            assertThat(levels.get(band - 1).status()).isEqualTo(Status.NO_CARRIER);
            assertThat(levels.get(band + 2).status()).isEqualTo(Status.NO_CARRIER);
        }
    }

    @Test
    void pinkNoiseIsNotDividedByTheWidths() {
        NoiseResponse meter = new NoiseResponse(8000, 1, 1000, NoiseResponse.Spectrum.PINK);
        double[] x = white(9, 0.1);
        meter.accept(x, 0, x.length);
        // White noise rises by the width: a decade of frequency is 10 dB.
        Reading low = meter.readings().stream()
                .filter(r -> r.atFrequencyHz().orElseThrow() == 100)
                .findFirst()
                .orElseThrow();
        assertThat(low.value().orElseThrow())
                .isCloseTo(-10, within(4 * low.typeA().orElseThrow().value()));
    }

    @Test
    void tooLittleSilenceAndOverloadHaveTheirStatus() {
        NoiseResponse meter = new NoiseResponse(8000, 1, 1000, NoiseResponse.Spectrum.PINK);
        double[] x = white(10, 0.1);
        int three = 2 * 16_384;
        meter.accept(x, 0, three - 1);
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.INSUFFICIENT_DATA);
        meter.accept(x, three - 1, 1);
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.VALID);
        meter.reset();
        meter.accept(new double[80_000], 0, 80_000);
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.NO_CARRIER);
        meter.reset();
        x[20_000] = 1;
        x[20_001] = -1;
        meter.accept(x, 0, x.length);
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.VALID);
        meter.reset();
        x[20_002] = 1; // three in a row
        meter.accept(x, 0, x.length);
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.OVERLOAD);
        meter.reset();
        x[20_001] = Double.NaN;
        meter.accept(x, 0, x.length);
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.INVALID_INPUT);
        assertThat(meter.readings()).extracting(Reading::quantity).containsOnly(Quantity.RESPONSE);
    }

    /** One channel of several, and floats, give what the same samples give as doubles. */
    @Test
    void channelsAreTakenOutOfInterleavedSamples() {
        float[] mono = new float[50_000];
        float[] three = new float[3 * mono.length + 2];
        double[] plain = new double[mono.length];
        double[] x = white(7, 0.1);
        for (int i = 0; i < mono.length; i++) {
            mono[i] = (float) x[i];
            plain[i] = mono[i];
            three[2 + 3 * i] = mono[i];
        }
        NoiseResponse expected = new NoiseResponse(8000, 1, 1000, NoiseResponse.Spectrum.PINK);
        expected.accept(plain, 0, plain.length);
        NoiseResponse floats = new NoiseResponse(8000, 1, 1000, NoiseResponse.Spectrum.PINK);
        floats.accept(mono, 0, mono.length);
        assertThat(floats.readings()).isEqualTo(expected.readings());
        NoiseResponse interleaved = new NoiseResponse(8000, 1, 1000, NoiseResponse.Spectrum.PINK);
        interleaved.acceptInterleaved(three, 2, mono.length, 3);
        assertThat(interleaved.readings()).isEqualTo(expected.readings());
    }

    private static double[] tones(double seconds, double ratio, double... hertzAndAmplitudes) {
        double[] x = white(seconds, 1e-4);
        for (int i = 0; i < x.length; i++) {
            for (int n = 0; n < hertzAndAmplitudes.length; n += 2) {
                x[i] += hertzAndAmplitudes[n + 1]
                        * Math.sin(2 * Math.PI * ratio * hertzAndAmplitudes[n] * i / 8000 + n);
            }
        }
        return x;
    }

    /** Levels in dBFS by their amplitudes, responses less what was sent; hiss of -77 dBFS moves them by some 0.01 dB. */
    @Test
    void aMultitoneIsReadAsItWasSent() {
        double[] x = tones(30, 1.02, 300, 0.1, 1000, 0.2, 2500, 0.05);
        MultitoneResponse meter = new MultitoneResponse(
                8000, 2, 1000, List.of(300.0, 1000.0, 2500.0, 3400.0), List.of(0.0, 6.0, 0.0, 0.0));
        assertThat(meter.speedRatio()).isEmpty();
        assertThat(meter.readings()).extracting(Reading::status).containsOnly(Status.INSUFFICIENT_DATA);
        meter.accept(x, 0, x.length);
        assertThat(meter.speedRatio().orElseThrow()).isCloseTo(1.02, within(0.0006));
        double[] wanted = {-20, 20 * Math.log10(0.2), 20 * Math.log10(0.05)};
        for (int i = 0; i < 3; i++) {
            Reading level = meter.levelReadings().get(i);
            assertThat(level.quantity()).isEqualTo(Quantity.LEVEL);
            assertThat(level.channel()).hasValue(2);
            assertThat(level.value().orElseThrow()).isCloseTo(wanted[i], within(0.02));
            double response = wanted[i] - wanted[1] + (i == 1 ? 0 : 6);
            assertThat(meter.readings().get(i).value().orElseThrow()).isCloseTo(response, within(0.03));
        }
        assertThat(meter.levelReadings().get(3).status()).isEqualTo(Status.NO_CARRIER);
        assertThat(meter.readings().get(3).status()).isEqualTo(Status.NO_CARRIER);
        // The scatter of the ratio to the reference is that of the hiss: next to nothing, but known.
        assertThat(meter.readings().get(0).typeA().orElseThrow().value()).isBetween(0.0, 0.01);
    }
}
