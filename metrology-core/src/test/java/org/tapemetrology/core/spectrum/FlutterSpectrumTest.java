/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Density, floor and amplitude against closed forms and SciPy. */
class FlutterSpectrumTest {
    private static final double PERCENT_SQUARED = 1e4;

    /** Relative 1e-7: the tapers of both agree to some 1e-9 of their size, a density is a square. */
    @Test
    void densityIsThatOfSciPysTapers() throws IOException {
        for (SpectrumReference.Row row : SpectrumReference.rows("density")) {
            Multitaper multitaper = new Multitaper(row.length(), 1000, row.timeHalfBandwidth(), 7);
            multitaper.add(SpectrumReference.series(row.length()));
            assertThat(multitaper.density()[row.index()] / row.value())
                    .as(row.toString())
                    .isCloseTo(1, within(1e-7));
        }
    }

    /** Parseval's theorem, exact but for rounding; and the variance, from which windows differ by 0.6 % at one sigma. */
    @Test
    void densityAddsUpToThePower() {
        double[] x = RandomFlutter.record(3, 60_000, 1000, f -> 1e-9);
        Multitaper multitaper = new Multitaper(x.length, 1000, 4, 7);
        multitaper.add(x);
        double sum = 0;
        for (double density : multitaper.density()) {
            sum += density * multitaper.spacingHz();
        }
        Trend.remove(x, x.length);
        DpssTapers tapers = DpssTapers.of(x.length, 4, 7);
        double windowed = 0;
        for (int k = 0; k < 7; k++) {
            double[] taper = tapers.taper(k);
            for (int i = 0; i < x.length; i++) {
                windowed += taper[i] * x[i] * taper[i] * x[i] / 7;
            }
        }
        double variance = 0;
        for (double value : x) {
            variance += value * value / x.length;
        }
        assertThat(sum / windowed).isCloseTo(1, within(1e-12));
        assertThat(sum / variance).isCloseTo(1, within(0.02));
    }

    /**
     * Mean ratio to the truth in bands. 60 s of 1 kHz give 9 degrees of freedom per 0.1 Hz: the narrowest band has 30
     * independent figures, its mean a deviation of 7 % with 14 degrees of freedom each; over 8 recordings 2.4 %.
     */
    @ParameterizedTest
    @ValueSource(booleans = {false, true})
    void densityAndFloorOfRandomFlutterAreUnbiased(boolean shaped) {
        DoubleUnaryOperator truth = shaped ? RandomFlutter.OF_A_MACHINE : f -> 1e-9;
        double[][] bands = {{1, 5}, {5, 28}, {33, 100}, {100, 250}, {250, 470}};
        double[] density = new double[bands.length];
        double[] floor = new double[bands.length];
        int recordings = 8;
        for (int seed = 0; seed < recordings; seed++) {
            FlutterSpectrum spectrum = FlutterSpectrum.of(RandomFlutter.record(seed, 60_000, 1000, truth), 1000);
            for (int b = 0; b < bands.length; b++) {
                int from = spectrum.indexOf(bands[b][0]);
                int to = spectrum.indexOf(bands[b][1]);
                for (int i = from; i < to; i++) {
                    double expected = PERCENT_SQUARED * truth.applyAsDouble(spectrum.frequencyHz(i));
                    density[b] += spectrum.density(i) / expected / (to - from) / recordings;
                    floor[b] += spectrum.floor(i) / expected / (to - from) / recordings;
                }
            }
        }
        for (int b = 0; b < bands.length; b++) {
            assertThat(density[b]).as("density from " + bands[b][0]).isCloseTo(1, within(0.05));
            assertThat(floor[b]).as("floor from " + bands[b][0]).isCloseTo(1, within(0.07));
        }
    }

    /** 95 %: of some 3500 independent figures the share scatters by 0.4 %, the eigenvalue of the last taper adds bias. */
    @Test
    void intervalsHoldTheTruthAsOftenAsTheySay() {
        FlutterSpectrum spectrum =
                FlutterSpectrum.of(RandomFlutter.record(5, 60_000, 1000, RandomFlutter.OF_A_MACHINE), 1000);
        int held = 0;
        int asked = 0;
        for (int i = spectrum.indexOf(32); i < spectrum.size(); i++) {
            double truth = PERCENT_SQUARED * RandomFlutter.OF_A_MACHINE.applyAsDouble(spectrum.frequencyHz(i));
            FlutterSpectrum.Interval interval = spectrum.interval(i, 0.95);
            held += interval.lower() <= truth && truth <= interval.upper() ? 1 : 0;
            asked++;
        }
        assertThat(spectrum.degreesOfFreedom()).isEqualTo(14);
        assertThat((double) held / asked).isCloseTo(0.95, within(0.015));
    }

    /** A sine of peak A: A at its place (1.4 dB at most between points), and A^2/2 in the area of its plateau. */
    @Test
    void aSineHasItsAmplitudeAndItsPower() {
        double[] x = new double[60_000];
        RandomFlutter.add(x, 1000, 7.58, 0.001, 0.3);
        FlutterSpectrum spectrum = FlutterSpectrum.of(x, 1000);
        double highest = 0;
        double power = 0;
        for (int i = spectrum.indexOf(5); i < spectrum.indexOf(10); i++) {
            highest = Math.max(highest, spectrum.amplitude(i));
            power += spectrum.density(i) * (spectrum.frequencyHz(1) - spectrum.frequencyHz(0));
        }
        assertThat(highest).isBetween(0.1 * Math.pow(10, -1.4 / 20), 0.1000001);
        // Its phase matters by the windows' energy outside their bandwidth, for the last of them 0.07.
        assertThat(power).isCloseTo(0.1 * 0.1 / 2, within(0.02 * 0.005));
        assertThat(spectrum.halfBandwidthHz()).isCloseTo(4 / 60.0, within(1e-12));
        int plateau = spectrum.indexOf(7.58);
        assertThat(spectrum.density(plateau)).isCloseTo(0.005 / (2 * 4 / 60.0), within(0.25 * 0.0375));
    }

    /** The decimator passes the band within 90 dB, 3e-5; the rest is the record's being shorter by the filter. */
    @ParameterizedTest
    @ValueSource(ints = {2000, 4000, 48_000})
    void aHigherRateGivesTheSameFigures(int rateHz) {
        double[] x = RandomFlutter.record(2, 20 * rateHz, rateHz, f -> 1e-10);
        RandomFlutter.add(x, rateHz, 7.58, 0.001, 0.3);
        RandomFlutter.add(x, rateHz, 431, 0.0005, -2);
        // What would fold onto 100 Hz at 1 kHz.
        RandomFlutter.add(x, rateHz, 900, 0.002, 0);
        FlutterSpectrum spectrum = FlutterSpectrum.of(x, rateHz);
        LineFit fit = spectrum.fits().get(0);
        assertThat(fit.lines()).hasSize(2);
        // Cramer-Rao bound of an amplitude, root (S/T), is 2.2e-6: four of them.
        assertThat(fit.lines().get(0).amplitude()).isCloseTo(0.001, within(9e-6));
        assertThat(fit.lines().get(1).amplitude()).isCloseTo(0.0005, within(9e-6));
        // Phases refer to the middle of what was fitted; RandomFlutter's to the middle of the record. 0.02 rad: 4
        // sigma.
        double middle = (x.length - 1) / 2.0 / rateHz;
        double turned = 2 * Math.PI * 431 * (fit.middleSeconds() - middle) - 2;
        double off = Math.IEEEremainder(fit.lines().get(1).phaseRad() - turned, 2 * Math.PI);
        assertThat(off).isCloseTo(0, within(0.02));
        assertThat(spectrum.density(spectrum.indexOf(100))).isLessThan(5 * 1e-10 * PERCENT_SQUARED);
    }

    /** Four degrees of freedom per window and part; each part has the line. */
    @Test
    void aLongSeriesIsTakenInParts() {
        double[] x = RandomFlutter.record(9, 300_000, 1000, RandomFlutter.OF_A_MACHINE);
        RandomFlutter.add(x, 1000, 7.58, 0.001, 0.3);
        FlutterSpectrum spectrum = FlutterSpectrum.of(x, 1000);
        assertThat(spectrum.degreesOfFreedom()).isEqualTo(42);
        assertThat(spectrum.fits()).hasSize(3);
        for (int part = 0; part < 3; part++) {
            LineFit fit = spectrum.fits().get(part);
            assertThat(fit.middleSeconds()).isCloseTo(50 + 100 * part, within(0.01));
            assertThat(fit.lines()).hasSize(1);
            assertThat(fit.lines().get(0).frequencyHz()).isCloseTo(7.58, within(0.001));
        }
    }

    @Test
    void badInputIsRefusedByName() {
        double[] x = new double[2000];
        assertThatThrownBy(() -> FlutterSpectrum.of(x, 5))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("rateHz 5.0 is not in [20.0, 100000.0]");
        assertThatThrownBy(() -> FlutterSpectrum.of(x, 0, 999, 1000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("length 999");
        assertThatThrownBy(() -> FlutterSpectrum.of(x, 4000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("length 2000 at 4000.0 Hz leaves");
        assertThatThrownBy(() -> FlutterSpectrum.of(x, 1000).interval(0, 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("coverageProbability 1.0");
        x[7] = Double.NaN;
        assertThatThrownBy(() -> FlutterSpectrum.of(x, 1000))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("deviation[7] is NaN");
    }
}
