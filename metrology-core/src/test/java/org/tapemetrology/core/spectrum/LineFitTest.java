/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Lines in random flutter: single cases. How often they hold is for {@link LineStudyTest}. */
class LineFitTest {
    private static final int SAMPLES = 60_000;
    private static final double RATE_HZ = 1000;
    private static final double SECONDS = 60;

    private static double[] flutter(long seed) {
        return RandomFlutter.record(seed, SAMPLES, RATE_HZ, RandomFlutter.OF_A_MACHINE);
    }

    /** Without noise the fit is exact but for rounding, the cubic's share of the line included. */
    @ParameterizedTest
    @CsvSource({"0.3, 0.002, 0.5", "7.583, 0.0001, -2", "90.01, 0.00005, 3", "469.3, 0.001, 1"})
    void aLineAloneIsFittedExactly(double hz, double amplitude, double phase) {
        double[] x = new double[SAMPLES];
        RandomFlutter.add(x, RATE_HZ, hz, amplitude, phase);
        List<Line> lines = LineFit.of(x, RATE_HZ).lines();
        assertThat(lines).hasSize(1);
        assertThat(lines.get(0).frequencyHz()).isCloseTo(hz, within(1e-7));
        assertThat(lines.get(0).amplitude() / amplitude).isCloseTo(1, within(1e-5));
        assertThat(lines.get(0).phaseRad()).isCloseTo(phase, within(1e-4));
    }

    /**
     * The bounds of a single line in white noise (IEEE Std 1057 notation; computed): of amplitude root (S/T), of
     * frequency root (6 / rho) / (2 pi T), of phase root (1 / (2 rho)), rho being the noise ratio. 6 %: the noise is
     * known to 6 % here, half of that in its root, and 2.5 % of the information on the frequency are left out.
     */
    @Test
    void uncertaintiesAreTheCramerRaoBounds() {
        double density = 1e-9;
        double amplitude = 0.001;
        double[] x = RandomFlutter.record(1, SAMPLES, RATE_HZ, f -> density);
        RandomFlutter.add(x, RATE_HZ, 40.1, amplitude, 1);
        Line line = LineFit.of(x, RATE_HZ).lines().get(0);
        double ratio = amplitude * amplitude / 2 * SECONDS / density;
        assertThat(line.noiseRatioDb()).isCloseTo(10 * Math.log10(ratio), within(0.5));
        assertThat(line.amplitudeUncertainty() / Math.sqrt(density / SECONDS)).isCloseTo(1, within(0.06));
        assertThat(line.frequencyUncertaintyHz() / (Math.sqrt(6 / ratio) / (2 * Math.PI * SECONDS)))
                .isCloseTo(1, within(0.06));
        assertThat(line.phaseUncertaintyRad() / Math.sqrt(1 / (2 * ratio))).isCloseTo(1, within(0.06));
        // Student's factor for so many degrees of freedom lies a little above 1.96 (JCGM 100:2008, table G.2).
        assertThat(line.degreesOfFreedom()).isGreaterThan(100);
        assertThat(line.coverageFactor(0.95)).isBetween(1.96, 1.985);
    }

    /** Both 30 dB over the noise in 1/T; four standard uncertainties, which a miss exceeds once in 16 000. */
    @ParameterizedTest
    @ValueSource(doubles = {0, 0.8, 1.6, 2.4, 3.1, 4, 4.8, 5.6})
    void twoLinesOneAndAHalfOverTheLengthApartAreSeparated(double phase) {
        double[] x = flutter(17);
        double noise = RandomFlutter.OF_A_MACHINE.applyAsDouble(7.58) / SECONDS;
        double amplitude = Math.sqrt(2 * 1000 * noise);
        double second = 7.58 + 1.5 / SECONDS;
        RandomFlutter.add(x, RATE_HZ, 7.58, amplitude, 0);
        RandomFlutter.add(x, RATE_HZ, second, amplitude, phase);
        List<Line> lines = LineFit.of(x, RATE_HZ).lines();
        assertThat(lines).hasSize(2);
        for (int i = 0; i < 2; i++) {
            Line line = lines.get(i);
            assertThat(line.frequencyHz()).isCloseTo(i == 0 ? 7.58 : second, within(4 * line.frequencyUncertaintyHz()));
            assertThat(line.amplitude()).isCloseTo(amplitude, within(4 * line.amplitudeUncertainty()));
        }
    }

    /** A line 40 dB under its neighbour six resolution widths off, whose side lobes alone are 18 dB above it. */
    @Test
    void aWeakLineBesideAStrongOneIsFound() {
        double[] x = RandomFlutter.record(4, SAMPLES, RATE_HZ, f -> 1e-12);
        RandomFlutter.add(x, RATE_HZ, 12, 0.002, 1);
        RandomFlutter.add(x, RATE_HZ, 12 + 6.4 / SECONDS, 0.00002, -1);
        List<Line> lines = LineFit.of(x, RATE_HZ).lines();
        assertThat(lines).hasSize(2);
        assertThat(lines.get(1).amplitude())
                .isCloseTo(0.00002, within(4 * lines.get(1).amplitudeUncertainty()));
    }

    @Test
    void aHarmonicFamilyIsRecognisedAndAStrangerIsNot() {
        double[] x = flutter(6);
        double[] hz = {1.26, 7.58, 15.16, 22.74, 30.32, 23.1, 4.02};
        for (double each : hz) {
            RandomFlutter.add(x, RATE_HZ, each, 0.0005, each);
        }
        LineFit fit = LineFit.of(x, RATE_HZ);
        assertThat(fit.lines()).hasSize(7);
        List<HarmonicFamily> families = fit.families();
        assertThat(families).hasSize(1);
        HarmonicFamily family = families.get(0);
        assertThat(family.members()).extracting(HarmonicFamily.Member::order).containsExactly(1, 2, 3, 4);
        assertThat(family.fundamentalHz()).isCloseTo(7.58, within(4 * family.fundamentalUncertaintyHz()));
        assertThat(family.fundamentalUncertaintyHz())
                .isLessThan(family.members().get(0).line().frequencyUncertaintyHz());
    }

    /** Half a per cent off the third harmonic, 0.11 Hz, is hundreds of standard uncertainties. */
    @Test
    void aNearMultipleIsNoHarmonic() {
        double[] x = flutter(7);
        RandomFlutter.add(x, RATE_HZ, 7.58, 0.0005, 0);
        RandomFlutter.add(x, RATE_HZ, 3 * 7.58 * 1.005, 0.0005, 0);
        LineFit fit = LineFit.of(x, RATE_HZ);
        assertThat(fit.lines()).hasSize(2);
        assertThat(fit.families()).isEmpty();
    }

    /** A steady drift of 1 % in the record and a warm-up of 0.3 %: each alone is a hundred times the random flutter. */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6})
    void driftMakesNoLineAndHidesNone(long seed) {
        double[] x = flutter(100 + seed);
        for (int i = 0; i < SAMPLES; i++) {
            x[i] += 0.01 * i / SAMPLES + 0.003 * Math.exp(-i / 15_000.0);
        }
        assertThat(LineFit.of(x, RATE_HZ).lines()).isEmpty();
        RandomFlutter.add(x, RATE_HZ, 0.689, 0.001, 0);
        List<Line> lines = LineFit.of(x, RATE_HZ).lines();
        assertThat(lines).hasSize(1);
        assertThat(lines.get(0).amplitude())
                .isCloseTo(0.001, within(4 * lines.get(0).amplitudeUncertainty()));
    }

    /**
     * A machine that gets faster by a part in a thousand or three in a minute takes all its parts along: as many lines as
     * at a steady speed, each with the same relative drift. Four standard uncertainties, as above.
     */
    @ParameterizedTest
    @ValueSource(doubles = {0, 1e-3, -1e-3, 3e-3})
    void aDriftingMachineHasAsManyLinesAsASteadyOne(double perRecord) {
        double[] x = flutter(21);
        double[] hz = {0.689, 7.58, 23, 60};
        for (double each : hz) {
            RandomFlutter.addDrifting(x, RATE_HZ, each, each * perRecord / SECONDS, 0.0005, each);
        }
        List<Line> lines = LineFit.of(x, RATE_HZ).lines();
        assertThat(lines).hasSize(hz.length);
        for (int i = 0; i < hz.length; i++) {
            Line line = lines.get(i);
            assertThat(line.frequencyHz()).isCloseTo(hz[i], within(4 * line.frequencyUncertaintyHz()));
            assertThat(line.amplitude()).isCloseTo(0.0005, within(4 * line.amplitudeUncertainty()));
            assertThat(Math.IEEEremainder(line.phaseRad() - hz[i], 2 * Math.PI))
                    .isCloseTo(0, within(4 * line.phaseUncertaintyRad()));
            if (line.driftUncertaintyHzPerSecond() > 0) {
                assertThat(line.driftHzPerSecond())
                        .isCloseTo(hz[i] * perRecord / SECONDS, within(4 * line.driftUncertaintyHzPerSecond()));
            }
        }
        assertThat(lines.get(3).driftHzPerSecond()).isCloseTo(60 * perRecord / SECONDS, within(2e-5));
    }

    /**
     * The pack of a cassette near its hub: radius 11 mm, tape 16 um thick at 47.6 mm/s. It turns at v / (2 pi r), and
     * slows down by the part v d / (2 pi r^2) per second, 0.041 Hz in a minute, two and a half resolution widths.
     */
    @Test
    void aFillingHubHasItsDrift() {
        double speed = 0.0476;
        double radius = 0.011;
        double hz = speed / (2 * Math.PI * radius);
        double drift = -hz * speed * 16e-6 / (2 * Math.PI * radius * radius);
        double[] x = flutter(22);
        RandomFlutter.addDrifting(x, RATE_HZ, hz, drift, 0.002, 1);
        List<Line> lines = LineFit.of(x, RATE_HZ).lines();
        assertThat(lines).hasSize(1);
        Line line = lines.get(0);
        assertThat(line.frequencyHz()).isCloseTo(hz, within(4 * line.frequencyUncertaintyHz()));
        assertThat(line.driftHzPerSecond()).isCloseTo(drift, within(4 * line.driftUncertaintyHzPerSecond()));
        assertThat(line.driftHzPerSecond()).isNegative();
    }

    /** Random flutter that resonates 20 dB high in 0.2 Hz to 6 Hz is wider than a line, whatever it rises over. */
    @ParameterizedTest
    @ValueSource(doubles = {0.1, 0.3, 1, 3})
    void aHumpOfRandomFlutterIsNoLine(double halfWidthHz) {
        for (int seed = 0; seed < 5; seed++) {
            double[] x = RandomFlutter.record(200 + seed, SAMPLES, RATE_HZ, f -> {
                double off = (f - 12) / halfWidthHz;
                return RandomFlutter.OF_A_MACHINE.applyAsDouble(f) * (1 + 100 / (1 + off * off));
            });
            assertThat(LineFit.of(x, RATE_HZ).lines()).isEmpty();
        }
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.05, 0.25, 0.5, 2, 4, 20})
    void aStepOfTheDensityIsNoLine(double ratio) {
        for (int seed = 0; seed < 3; seed++) {
            double[] x = RandomFlutter.record(300 + seed, SAMPLES, RATE_HZ, f -> f < 50 ? 1e-9 : ratio * 1e-9);
            assertThat(LineFit.of(x, RATE_HZ).lines()).isEmpty();
        }
    }

    @Test
    void silenceHasNoLines() {
        assertThat(LineFit.of(new double[2000], RATE_HZ).lines()).isEmpty();
    }

    @Test
    void badInputIsRefusedByName() {
        double[] x = new double[300_000];
        assertThatThrownBy(() -> LineFit.of(x, 0, x.length, RATE_HZ))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("length 300000 at 1000.0 Hz leaves 300000 samples");
        assertThatThrownBy(() -> LineFit.of(x, 0, 2000, Double.NaN))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("rateHz NaN");
        LineFit fit = LineFit.of(x, 0, 20_000, RATE_HZ);
        assertThat(fit.lowestHz()).isCloseTo(3 / 20.0, within(1e-12));
        assertThatThrownBy(() -> fit.noiseDensityPerHz(480))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("frequencyHz 480.0 is not in [0.15, 470.0]");
        x[1234] = Double.POSITIVE_INFINITY;
        assertThatThrownBy(() -> LineFit.of(x, 1000, 2000, RATE_HZ))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("deviation[1234] is Infinity");
    }
}
