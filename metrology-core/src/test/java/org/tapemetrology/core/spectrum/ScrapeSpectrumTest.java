/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Deviations in closed form: white noise of a known density, and a resonance whose power is known. */
class ScrapeSpectrumTest {
    private static final double RATE = 4000;
    private static final double MEAN_HZ = 3150;

    private static double[] white(long seed, double seconds, double rmsHz) {
        Random random = new Random(seed);
        double[] y = new double[(int) (seconds * RATE)];
        for (int i = 0; i < y.length; i++) {
            y[i] = rmsHz * random.nextGaussian();
        }
        return y;
    }

    private static ScrapeSpectrum spectrum(double[] y) {
        ScrapeMeter meter = new ScrapeMeter(RATE, 1000);
        meter.accept(y, 0, y.length);
        return meter.spectrum(MEAN_HZ).orElseThrow();
    }

    /** White noise of rms s has the density 2 s^2 / rate; 30 s and the whole band know it to 0.5 %. */
    @Test
    void densityOfWhiteNoise() {
        double rmsHz = 3.15;
        ScrapeSpectrum spectrum = spectrum(white(1, 30, rmsHz));
        double expected = 2 * 0.1 * 0.1 / RATE; // 3.15 Hz of 3150 Hz are 0.1 %
        double sum = 0;
        int outside = 0;
        double[] factors = spectrum.intervalFactors(0.95);
        for (int i = 0; i < spectrum.size(); i++) {
            sum += spectrum.density(i) / spectrum.size();
            boolean holds = expected > factors[0] * spectrum.density(i) && expected < factors[1] * spectrum.density(i);
            outside += holds ? 0 : 1;
        }
        assertThat(sum).isCloseTo(expected, within(0.02 * expected));
        assertThat(spectrum.rmsPercent())
                .isCloseTo(Math.sqrt(expected * 800), within(0.02 * Math.sqrt(expected * 800)));
        assertThat(spectrum.frequencyHz(0)).isBetween(200.0, 202.0);
        // 5 % of the points; neighbours within 8 Hz go together, which leaves some 100 of them independent.
        assertThat((double) outside / spectrum.size()).isBetween(0.0, 0.12);
    }

    /** A resonance as scrape makes it: noise through two poles at 430 Hz, 20 Hz wide, of known power. */
    @Test
    void aResonanceStandsOut() {
        Random random = new Random(2);
        double[] y = white(3, 30, 1);
        double r = Math.exp(-Math.PI * 20 / RATE);
        double a1 = 2 * r * Math.cos(2 * Math.PI * 430 / RATE);
        double a2 = -r * r;
        double before = 0;
        double beforeThat = 0;
        double power = 0;
        for (int i = 0; i < y.length; i++) {
            double v = a1 * before + a2 * beforeThat + 0.2 * random.nextGaussian();
            beforeThat = before;
            before = v;
            y[i] += v;
            power += v * v / y.length;
        }
        List<ScrapeSpectrum.Peak> peaks = spectrum(y).peaks();
        assertThat(peaks).isNotEmpty();
        ScrapeSpectrum.Peak strongest = peaks.stream()
                .max((a, b) -> Double.compare(a.rmsPercent(), b.rmsPercent()))
                .orElseThrow();
        assertThat(strongest.frequencyHz()).isCloseTo(430, within(5.0));
        // The skirts below the threshold are not counted: up to a fifth of the power.
        double expected = 100 * Math.sqrt(power) / MEAN_HZ;
        assertThat(strongest.rmsPercent()).isBetween(0.85 * expected, 1.05 * expected);
    }

    /** 60 recordings of noise: a false peak in at most one of 200 is the promise; two in 60 come by chance once in 30 times. */
    @Test
    void noiseMakesNoPeak() {
        int peaks = 0;
        for (int seed = 0; seed < 60; seed++) {
            peaks += spectrum(white(100 + seed, 10, 1)).peaks().isEmpty() ? 0 : 1;
        }
        assertThat(peaks).isLessThanOrEqualTo(2);
    }

    @Test
    void blocksDoNotMatterAndAGapCostsARecord() {
        double[] y = white(4, 5, 1);
        ScrapeSpectrum whole = spectrum(y);
        ScrapeMeter meter = new ScrapeMeter(RATE, 1000);
        for (int i = 0; i < y.length; i += 7) {
            meter.accept(y, i, Math.min(7, y.length - i));
        }
        ScrapeSpectrum inParts = meter.spectrum(MEAN_HZ).orElseThrow();
        for (int i = 0; i < whole.size(); i++) {
            assertThat(inParts.density(i)).isEqualTo(whole.density(i));
        }
        ScrapeMeter broken = new ScrapeMeter(RATE, 1000);
        broken.accept(y, 0, 3999);
        broken.gap();
        broken.accept(y, 0, 3999);
        assertThat(broken.spectrum(MEAN_HZ)).isEmpty();
        assertThatThrownBy(() -> new ScrapeMeter(RATE, 2500)).hasMessageContaining("highestHz");
    }
}
