/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.params.provider.Arguments.arguments;

import java.util.Arrays;
import java.util.stream.Stream;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.transform.DftNormalization;
import org.apache.commons.math3.transform.FastFourierTransformer;
import org.apache.commons.math3.transform.TransformType;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.Quantiser;
import org.tapemetrology.signals.RandomDeviation;
import org.tapemetrology.signals.SampledSignal;

/**
 * The same recordings measured in another way that shares no code with the meter: analytic signal and weighting in the
 * frequency domain (FFT of Commons Math), percentile by sorting. No decimation, no recursive filter, no histogram.
 */
class IndependentPathTest {
    private static final int RATE = 48_000;
    private static final int LENGTH = 1 << 21;
    private static final int EDGE = RATE / 20;

    /** Poles and zeros in Hz of the weighting, fitted to IEC 60386:1972, Table I (rows from memory). */
    private static final Complex[] ZEROS = {
        Complex.ZERO, Complex.ZERO, Complex.ZERO, new Complex(-4.9024), new Complex(-91.6101)
    };

    private static final Complex[] POLES = {
        new Complex(-0.3066, 0.2939),
        new Complex(-0.3066, -0.2939),
        new Complex(-2.0549),
        new Complex(-3.2472),
        new Complex(-12.4342),
        new Complex(-116.8960)
    };

    /**
     * The two paths leave out different shares of the first and last 50 ms: on 40 s of random deviation that moves an
     * RMS by up to 0.25 % and a percentile by as much again. Any fault of a curve, an edge or a scale is larger.
     */
    private static final double TOLERANCE = 0.005;

    static Stream<Arguments> recordings() {
        return Stream.of(
                arguments(
                        "two rates",
                        FmTone.builder(3150).amplitude(0.5).sine(4, 0.001).sine(21, 0.0015, 1)),
                arguments(
                        "random",
                        FmTone.builder(3150).amplitude(0.5).deviation(RandomDeviation.falling(5, 0.4, 190, 0.001))),
                arguments(
                        "flat random, 3000 Hz",
                        FmTone.builder(3000).amplitude(0.5).deviation(RandomDeviation.flat(6, 0.5, 180, 0.002))),
                arguments(
                        "7 % slow",
                        FmTone.builder(3150)
                                .amplitude(0.5)
                                .speedError(-0.07)
                                .sine(1.6, 0.001)
                                .sine(9, 0.0007, 2)));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("recordings")
    void readsAsAPathInTheFrequencyDomain(String name, FmTone.Builder builder) {
        FmTone tone = builder.build();
        double[] samples = SampledSignal.of(tone, RATE)
                .quantised(Quantiser.dithered(24, 1))
                .samples(0, LENGTH);
        ToneMeter meter = ToneMeter.builder(RATE).nominalHz(tone.nominalHz()).build();
        meter.accept(samples, 0, samples.length);
        Measurement measurement = meter.reading();

        double[] hz = instantaneousFrequency(samples);
        double mean = Arrays.stream(hz, EDGE, hz.length - EDGE).average().orElseThrow();
        double[] percent = relative(hz, mean);
        double[] weighted = weighted(percent, true);
        double[] flat = weighted(percent, false);
        double[] magnitudes = Arrays.stream(weighted, 3 * RATE, LENGTH - EDGE)
                .map(Math::abs)
                .sorted()
                .toArray();

        assertThat(value(measurement, Quantity.TONE_FREQUENCY))
                .as("mean frequency; both means leave out up to 50 ms at the ends, 10 ppm covers that")
                .isCloseTo(mean, within(1e-5 * mean));
        check(measurement, Quantity.FLUTTER_WEIGHTED_RMS, rms(weighted, 3));
        check(
                measurement,
                Quantity.FLUTTER_WEIGHTED_AVERAGE,
                Arrays.stream(magnitudes).average().orElseThrow() * Math.PI / Math.sqrt(8));
        check(measurement, Quantity.FLUTTER_WEIGHTED_TWO_SIGMA, magnitudes[(int) (0.95 * magnitudes.length)]);
        check(measurement, Quantity.FLUTTER_UNWEIGHTED_RMS, rms(flat, 15));
    }

    private static void check(Measurement measurement, Quantity quantity, double expected) {
        double value = value(measurement, quantity);
        assertThat(value).as(quantity.id()).isCloseTo(expected, within(TOLERANCE * expected));
    }

    private static double value(Measurement measurement, Quantity quantity) {
        return measurement.find(quantity).orElseThrow().value().orElseThrow();
    }

    private static double rms(double[] values, int fromSeconds) {
        double squares = Arrays.stream(values, fromSeconds * RATE, LENGTH - EDGE)
                .map(x -> x * x)
                .average()
                .orElseThrow();
        return Math.sqrt(squares);
    }

    /** Phase steps of the analytic signal between 1.5 kHz and 4.5 kHz. */
    private static double[] instantaneousFrequency(double[] samples) {
        double[][] spectrum = {samples.clone(), new double[LENGTH]};
        transform(spectrum, TransformType.FORWARD);
        for (int k = 0; k < LENGTH; k++) {
            // A raised cosine over 300 Hz at both ends keeps the wrap from the end to the start within some ms.
            double f = (double) k * RATE / LENGTH;
            double inside = Math.min(1, Math.max(0, (1650 - Math.abs(f - 3000)) / 300));
            double gain = 0.5 - 0.5 * Math.cos(Math.PI * inside);
            spectrum[0][k] *= gain;
            spectrum[1][k] *= gain;
        }
        transform(spectrum, TransformType.INVERSE);
        double[] hz = new double[LENGTH];
        for (int i = 1; i < LENGTH; i++) {
            double re = spectrum[0][i] * spectrum[0][i - 1] + spectrum[1][i] * spectrum[1][i - 1];
            double im = spectrum[1][i] * spectrum[0][i - 1] - spectrum[0][i] * spectrum[1][i - 1];
            hz[i] = Math.atan2(im, re) * RATE / (2 * Math.PI);
        }
        return hz;
    }

    /** Deviation in per cent; the spoilt edges are held at the nearest good value. */
    private static double[] relative(double[] hz, double mean) {
        double[] percent = new double[LENGTH];
        for (int i = 0; i < LENGTH; i++) {
            percent[i] = 100 * (hz[Math.min(LENGTH - EDGE - 1, Math.max(EDGE, i))] / mean - 1);
        }
        return percent;
    }

    /** The deviation through the weighting, or through the flat band: Butterworth, order 4, 0.075 Hz and 270 Hz. */
    private static double[] weighted(double[] percent, boolean table) {
        double[][] spectrum = {percent.clone(), new double[LENGTH]};
        transform(spectrum, TransformType.FORWARD);
        double reference = response(4, table).abs();
        for (int k = 0; k <= LENGTH / 2; k++) {
            double f = (double) k * RATE / LENGTH;
            Complex h = response(f, table).divide(table ? reference : 1);
            scale(spectrum, k, h);
            if (k > 0 && k < LENGTH / 2) {
                scale(spectrum, LENGTH - k, h.conjugate());
            }
        }
        transform(spectrum, TransformType.INVERSE);
        return spectrum[0];
    }

    private static void scale(double[][] spectrum, int k, Complex h) {
        double re = spectrum[0][k] * h.getReal() - spectrum[1][k] * h.getImaginary();
        spectrum[1][k] = spectrum[0][k] * h.getImaginary() + spectrum[1][k] * h.getReal();
        spectrum[0][k] = re;
    }

    private static Complex response(double f, boolean table) {
        if (!table) {
            return butterworth(f / 270).multiply(f == 0 ? Complex.ZERO : butterworth(0.075 / -f));
        }
        Complex h = Complex.ONE;
        for (Complex zero : ZEROS) {
            h = h.multiply(new Complex(0, f).subtract(zero));
        }
        for (Complex pole : POLES) {
            h = h.divide(new Complex(0, f).subtract(pole));
        }
        return h;
    }

    /** Low-pass of order 4, edge 1; with the argument -1/f it is the high-pass. */
    private static Complex butterworth(double f) {
        Complex h = Complex.ONE;
        for (int k = 0; k < 4; k++) {
            double angle = Math.PI * (2 * k + 5) / 8;
            h = h.divide(new Complex(-Math.cos(angle), f - Math.sin(angle)));
        }
        return h;
    }

    private static void transform(double[][] data, TransformType type) {
        FastFourierTransformer.transformInPlace(data, DftNormalization.STANDARD, type);
    }
}
