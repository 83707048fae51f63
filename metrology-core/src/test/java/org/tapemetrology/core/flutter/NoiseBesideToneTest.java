/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.filter.Butterworth;
import org.tapemetrology.core.filter.SecondOrderSections;

/** Scrape flutter and noise of deviations made of a sine each, against the powers of those sines and the integrals that define the rest. */
class NoiseBesideToneTest {
    private static final double RATE = 6000;
    private static final int LENGTH = 12_000;

    private static NoiseBesideTone meter(double flatDeviationHz, double settlingSeconds) {
        return new NoiseBesideTone(RATE, flatDeviationHz, 3150, new Settling(settlingSeconds, 0.5, RATE));
    }

    private static double[] sine(double hz, double amplitude) {
        double[] x = new double[LENGTH];
        for (int i = 0; i < LENGTH; i++) {
            x[i] = amplitude * Math.sin(2 * Math.PI * hz * i / RATE);
        }
        return x;
    }

    /** Two seconds in the middle of the band, of which the first half second settles. */
    private static NoiseBesideTone measured(double flatDeviationHz, double deviation, double amplitude) {
        NoiseBesideTone noise = meter(flatDeviationHz, 0.5);
        double[] d = sine(450, deviation);
        double[] a = sine(450, amplitude);
        for (int at = 0; at < LENGTH; at += 500) { // scatter is told from the means of blocks
            noise.accept(d, a, at, 500, false);
        }
        return noise;
    }

    /** Gain of the band, of fourth order at either edge, at 450 Hz. */
    private static final double GAIN = Butterworth.band(4, 200, 1000, RATE).magnitude(450);

    /** Power of f^2 behind the scrape band, by steps of a quarter of a hertz. */
    private static double bandPower(double toHz) {
        SecondOrderSections band = Butterworth.band(4, 200, toHz, RATE);
        double sum = 0;
        for (double f = 0.125; f < RATE / 2; f += 0.25) {
            double g = band.magnitude(f);
            sum += 0.25 * f * f * g * g;
        }
        return sum;
    }

    /** Its filter has settled to 1e-6 after half a second. */
    @Test
    void scrapeIsTheRmsValueInTheBand() {
        NoiseBesideTone noise = measured(1200, 3, 1);
        assertThat(noise.scrapeBandFits()).isTrue();
        assertThat(noise.seconds()).isEqualTo(1.5);
        assertThat(noise.scrapeHz().orElseThrow()).isCloseTo(3 * GAIN / Math.sqrt(2), within(1e-4));
        assertThat(noise.scrapeNoiseHz()).isCloseTo(GAIN / Math.sqrt(2), within(1e-4));
        assertThat(noise.scrapeUncertainty()).isPresent();
        NoiseBesideTone low = meter(1200, 0.5);
        low.accept(sine(50, 3), sine(50, 1), 0, LENGTH, false);
        // Two octaves below the edge 48 dB are left of it, and some thousandths of the transient.
        assertThat(low.scrapeHz().orElseThrow()).isLessThan(0.02);
        assertThat(low.scrapeNoiseHz()).isLessThan(0.01);
    }

    /** More than half of the power in the band. */
    @ParameterizedTest
    @CsvSource({"0.70, false", "0.714, true"})
    void noiseOfHalfThePowerExplainsIt(double amplitude, boolean explains) {
        assertThat(measured(1200, 1, amplitude).noiseExplainsScrape()).isEqualTo(explains);
    }

    /**
     * Noise of density c f^2: what a path from 0 Hz to 400 Hz passes of it is c 400^3/3, and c follows from the power in the band.
     * The meter's sums have steps of 4 Hz, good to 1e-3.
     */
    @Test
    void otherFiguresGetWhatTheDensityAdds() {
        NoiseBesideTone noise = measured(1200, 3, 1);
        double density = 0.5 * GAIN * GAIN / bandPower(1000);
        double flat = Math.sqrt(density * Math.pow(400, 3) / 3);
        assertThat(noise.noiseHz(400, f -> 1)).isCloseTo(flat, within(1e-3 * flat));
        assertThat(noise.noiseHz(400, f -> 2)).isCloseTo(2 * flat, within(2e-3 * flat));
        double sloping = Math.sqrt(density * Math.pow(400, 5) / 5);
        assertThat(noise.noiseHz(400, f -> f)).isCloseTo(sloping, within(1e-3 * sloping));
        // Half of c stands on each side of the tone, 1200 Hz are passed on both, and each quadrature has as much.
        double expected = -10 * Math.log10(2 * 1200 * density);
        assertThat(noise.toneToNoiseDb().orElseThrow()).isCloseTo(expected, within(0.01));
        double relative = relativeUncertainty(1);
        NoiseBesideTone twice = measured(1200, 3, 2);
        assertThat(twice.toneToNoiseDb().orElseThrow()).isCloseTo(expected - 10 * Math.log10(4), within(0.01));
        assertThat(relativeUncertainty(2)).isCloseTo(relative, within(1e-9));
        assertThat(relative).isBetween(1e-3, 0.3);
    }

    /** Of noise whose strength swings by a fifth. */
    private static double relativeUncertainty(double amplitude) {
        double[] a = sine(450, amplitude);
        for (int i = 0; i < LENGTH; i++) {
            a[i] *= 1 + 0.2 * Math.sin(2 * Math.PI * 0.7 * i / RATE);
        }
        NoiseBesideTone noise = meter(1200, 0.5);
        for (int at = 0; at < LENGTH; at += 500) {
            noise.accept(a, a, at, 500, false);
        }
        return noise.noiseUncertainty().orElseThrow().value();
    }

    /** Without noise nothing is added, and how far it lies below the tone is not known. */
    @Test
    void noNoiseAddsNothing() {
        NoiseBesideTone noise = measured(1200, 3, 0);
        assertThat(noise.scrapeNoiseHz()).isZero();
        assertThat(noise.noiseHz(400, f -> 1)).isZero();
        assertThat(noise.toneToNoiseDb()).isEmpty();
        assertThat(noise.noiseUncertainty()).isEmpty();
        assertThat(noise.noiseExplainsScrape()).isFalse();
        assertThat(meter(1200, 0).noiseExplainsScrape()).isFalse();
    }

    /** 1 kHz is wanted on 3150 Hz. A narrower band down to 400 Hz still tells the noise; below that nothing is told. */
    @ParameterizedTest
    @CsvSource({"1000, 1000, true", "999.9, 999.9, false", "400, 400, false"})
    void aNarrowBandTellsTheNoiseAlone(double flatDeviationHz, double toHz, boolean fits) {
        NoiseBesideTone noise = measured(flatDeviationHz, 3, 1);
        assertThat(noise.scrapeBandFits()).isEqualTo(fits);
        assertThat(noise.scrapeHz().isPresent()).isEqualTo(fits);
        double part = Butterworth.band(4, 200, toHz, RATE).magnitude(450) / Math.sqrt(2);
        assertThat(noise.scrapeNoiseHz()).isCloseTo(part, within(1e-4));
        double density = part * part / bandPower(toHz);
        assertThat(noise.noiseHz(300, f -> 1))
                .isCloseTo(Math.sqrt(density * Math.pow(300, 3) / 3), within(2e-3 * Math.sqrt(density * 9e6)));
        assertThat(noise.toneToNoiseDb().orElseThrow())
                .isCloseTo(-10 * Math.log10(2 * flatDeviationHz * density), within(0.01));
    }

    @Test
    void belowThatNothingIsTold() {
        NoiseBesideTone noise = measured(399, 3, 4);
        noise.presetTo(5);
        assertThat(noise.scrapeBandFits()).isFalse();
        assertThat(noise.seconds()).isZero();
        assertThat(noise.scrapeHz()).isEmpty();
        assertThat(noise.noiseHz(200, f -> 1)).isZero();
        assertThat(noise.toneToNoiseDb()).isEmpty();
        assertThat(noise.noiseExplainsScrape()).isFalse();
    }

    /** From 10 kHz on the band ends at 5 kHz. */
    @Test
    void highTonesHaveAWideBand() {
        assertThat(NoiseBesideTone.scrapeToHz(9999)).isEqualTo(1000);
        assertThat(NoiseBesideTone.scrapeToHz(10_000)).isEqualTo(5000);
        assertThat(NoiseBesideTone.scrapeToHz(12_500)).isEqualTo(5000);
        assertThat(new NoiseBesideTone(16_000, 4999, 12_500, new Settling(0, 0, 16_000)).scrapeBandFits())
                .isFalse();
        assertThat(new NoiseBesideTone(16_000, 5000, 12_500, new Settling(0, 0, 16_000)).scrapeBandFits())
                .isTrue();
    }

    /** A steady deviation makes a transient in a filter at rest, and none in one that is set to it. */
    @Test
    void presetToTheMeanNothingMoves() {
        double[] steady = new double[LENGTH];
        Arrays.fill(steady, 20);
        NoiseBesideTone preset = meter(1200, 0);
        preset.presetTo(20);
        preset.accept(steady, new double[LENGTH], 0, LENGTH, false);
        assertThat(preset.scrapeHz().orElseThrow()).isLessThan(1e-9);
        NoiseBesideTone rested = meter(1200, 0);
        rested.accept(steady, new double[LENGTH], 0, LENGTH, false);
        assertThat(rested.scrapeHz().orElseThrow()).isGreaterThan(0.1);
    }

    /** The filters run on through what is left out: what comes after a gap is settled. Blocks of any length are the same. */
    @Test
    void whatIsLeftOutDoesNotCount() {
        NoiseBesideTone parts = meter(1200, 0.5);
        double[] deviation = sine(450, 3);
        double[] amplitude = sine(450, 1);
        parts.accept(deviation, amplitude, 0, 100, false);
        parts.accept(deviation, amplitude, 100, 4900, false);
        double before = parts.seconds();
        parts.accept(deviation, amplitude, 5000, 1000, true);
        assertThat(before).isCloseTo(5000 / RATE - 0.5, within(1e-12));
        assertThat(parts.seconds()).isEqualTo(before);
        parts.accept(deviation, amplitude, 6000, 6000, false);
        // Half a second after the gap.
        assertThat(parts.seconds()).isCloseTo(before + 0.5, within(1e-12));
        assertThat(parts.scrapeHz().orElseThrow()).isCloseTo(3 * GAIN / Math.sqrt(2), within(1e-4));
        assertThat(parts.scrapeNoiseHz()).isCloseTo(GAIN / Math.sqrt(2), within(1e-4));
    }
}
