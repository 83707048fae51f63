/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/** White noise and lines of known power; the A-weighting by the formula of IEC 61672-1, E.4 (from memory). */
class ResidualNoiseTest {
    private static final double RATE = 48_000;
    private static final int LENGTH = 4096;
    private static final int FRAMES = 60;
    private static final double NOISE = 1e-3;

    private static double line(double hertz, double amplitude, int n) {
        return amplitude * Math.sin(2 * Math.PI * hertz / RATE * n);
    }

    /** Frames that share no sample: white noise and a line in each. */
    private static ResidualNoise noise(double hertz, double amplitude) {
        Random random = new Random(11);
        FrameSpectrum spectrum = new FrameSpectrum(RATE, LENGTH);
        ResidualNoise noise = new ResidualNoise(LENGTH / 2 + 1, spectrum.binHz());
        for (int frame = 0; frame < FRAMES; frame++) {
            double[] x = new double[LENGTH];
            for (int i = 0; i < LENGTH; i++) {
                x[i] = NOISE * random.nextGaussian() + line(hertz, amplitude, i);
            }
            spectrum.take(x, 0);
            noise.add(spectrum);
        }
        return noise;
    }

    private static double aWeighting(double f) {
        double f2 = f * f;
        double r = 12194.217
                * 12194.217
                * f2
                * f2
                / ((f2 + 20.598997 * 20.598997)
                        * Math.sqrt((f2 + 107.65265 * 107.65265) * (f2 + 737.86223 * 737.86223))
                        * (f2 + 12194.217 * 12194.217));
        return r * r * Math.pow(10, 0.2);
    }

    private static Reading reading(List<Reading> readings, Quantity quantity) {
        return readings.stream()
                .filter(r -> r.quantity() == quantity)
                .findFirst()
                .orElseThrow();
    }

    private static double value(ResidualNoise noise, double toneHz, Quantity quantity) {
        return reading(noise.readings(toneHz), quantity).value().orElseThrow();
    }

    /** Power in the band over that of a sine of full scale, 1/2. The places that are filled scatter by a few hundredths of a decibel. */
    @Test
    void whiteNoiseHasTheLevelOfItsBand() {
        List<Reading> readings = noise(0, 0).readings(3150);
        assertThat(readings)
                .extracting(Reading::quantity)
                .containsExactly(Quantity.NOISE_A_WEIGHTED, Quantity.NOISE_UNWEIGHTED);
        double perHertz = NOISE * NOISE / (RATE / 2);
        Reading unweighted = readings.get(1);
        double wanted = 10 * Math.log10(2 * perHertz * (22_400 - 22.4));
        assertThat(unweighted.value().orElseThrow()).isCloseTo(wanted, within(0.1));
        double weighted = 0;
        for (double f = 5; f < 22_400; f += 10) {
            weighted += 10 * perHertz * aWeighting(f);
        }
        assertThat(readings.get(0).value().orElseThrow()).isCloseTo(10 * Math.log10(2 * weighted), within(0.1));
        // A bin of one frame has two degrees of freedom, of which a quarter is independent.
        double independent = 0.25 * FRAMES * (22_400 - 22.4) / (RATE / LENGTH);
        double decibels = 10 / Math.log(10) / Math.sqrt(independent);
        // The mean spectrum itself scatters, which makes the sum of squares larger by 1/60 and a little more where
        // places are
        // filled.
        assertThat(unweighted.typeA().orElseThrow().value()).isCloseTo(decibels, within(0.05 * decibels));
        assertThat(unweighted.typeA().orElseThrow().degreesOfFreedom())
                .isCloseTo(independent, within(0.1 * independent));
        assertThat(unweighted.noiseReach()).isZero();
    }

    /** What stands at the tone, its harmonics and the side bands of flutter is no noise; what stands elsewhere is, and once where no place is filled from it. */
    @Test
    void placesOfToneAndHarmonicsAreFilled() {
        double plain = value(noise(0, 0), 3150, Quantity.NOISE_UNWEIGHTED);
        double amplitude = 2e-3; // 6 dB of the power of the noise
        for (double hertz : new double[] {3150, 6300, 9450, 3150 + 400, 6300 - 400}) {
            assertThat(value(noise(hertz, amplitude), 3150, Quantity.NOISE_UNWEIGHTED))
                    .as("%s Hz", hertz)
                    .isCloseTo(plain, within(0.1));
        }
        double both = 10 * Math.log10(Math.pow(10, plain / 10) + amplitude * amplitude);
        for (double hertz : new double[] {1500, 4725, 14_175}) {
            assertThat(value(noise(hertz, amplitude), 3150, Quantity.NOISE_UNWEIGHTED))
                    .as("%s Hz", hertz)
                    .isCloseTo(both, within(0.15));
        }
    }

    /** Below 1680 Hz a quarter of the tone's frequency to either side; what lies in wider places is told as reach. */
    @Test
    void aLowToneHasNarrowerPlacesAndTellsWhatStandsBeside() {
        assertThat(ResidualNoise.sidebandsHz(3150)).isEqualTo(420);
        assertThat(ResidualNoise.sidebandsHz(1000)).isEqualTo(250);
        ResidualNoise noise = noise(1370, 2e-3);
        Reading reading = reading(noise.readings(1000), Quantity.NOISE_UNWEIGHTED);
        double plain = value(noise(0, 0), 1000, Quantity.NOISE_UNWEIGHTED);
        assertThat(reading.noiseReach()).isCloseTo(reading.value().orElseThrow() - plain, within(0.1));
        assertThat(reading.noiseReach()).isGreaterThan(5);
        // Below 22.4 Hz nothing counts without weighting.
        double low = value(noise(11.7, 2e-3), 1000, Quantity.NOISE_UNWEIGHTED);
        assertThat(value(noise(60, 2e-3), 1000, Quantity.NOISE_UNWEIGHTED)).isGreaterThan(low + 1);
    }

    @Test
    void withoutNoiseThereIsNoReading() {
        ResidualNoise noise = new ResidualNoise(LENGTH / 2 + 1, RATE / LENGTH);
        FrameSpectrum silent = new FrameSpectrum(RATE, LENGTH);
        silent.take(new double[LENGTH], 0);
        noise.add(silent);
        assertThat(noise.readings(1000)).extracting(Reading::status).containsOnly(Status.INSUFFICIENT_DATA);
        assertThat(ResidualNoise.without(Status.NO_CARRIER))
                .extracting(Reading::quantity)
                .containsExactly(Quantity.NOISE_A_WEIGHTED, Quantity.NOISE_UNWEIGHTED);
        assertThat(ResidualNoise.without(Status.NO_CARRIER))
                .allMatch(r -> r.status() == Status.NO_CARRIER
                        && r.method().equals("beside the tone, its harmonics left out"));
    }

    @Test
    void aResetForgetsTheFrames() {
        ResidualNoise noise = noise(4725, 0.1);
        noise.reset();
        FrameSpectrum spectrum = new FrameSpectrum(RATE, LENGTH);
        double[] x = new double[LENGTH];
        for (int i = 0; i < LENGTH; i++) {
            x[i] = line(4725, 1e-3, i);
        }
        spectrum.take(x, 0);
        noise.add(spectrum);
        // A sine of 0.001 re full scale; the edge of its main lobe is filled into places beside it.
        assertThat(value(noise, 3150, Quantity.NOISE_UNWEIGHTED)).isCloseTo(-60, within(0.05));
    }
}
