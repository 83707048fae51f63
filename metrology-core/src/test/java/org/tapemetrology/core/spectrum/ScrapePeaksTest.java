/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.spectrum.ScrapeSpectrum.Peak;

/**
 * Peaks of densities that do not scatter. Quantiles of chi-square with 10 degrees of freedom are those of printed tables (from
 * memory): 3.247 at 0.025, 20.483 at 0.975, 25.188 at 0.995 and 29.588 at 0.999.
 */
class ScrapePeaksTest {
    private static final Offset<Double> ROUNDING = within(1e-12);
    private static final double SPACING = 2;
    private static final int FIRST = 100;
    private static final int SIZE = 400;

    private static double[] flat() {
        double[] density = new double[SIZE];
        Arrays.fill(density, 1);
        return density;
    }

    /** So many independent figures: the band over twice the half bandwidth. */
    private static ScrapeSpectrum spectrum(double[] density, double cells) {
        return new ScrapeSpectrum(FIRST, SPACING, density.length * SPACING / (2 * cells), 10, density);
    }

    @Test
    void intervalsAreThoseOfChiSquare() {
        double[] factors = spectrum(flat(), 5).intervalFactors(0.95);
        assertThat(factors[0]).isCloseTo(10 / 20.483, within(1e-4));
        assertThat(factors[1]).isCloseTo(10 / 3.247, within(1e-3));
        assertThatThrownBy(() -> spectrum(flat(), 5).intervalFactors(0.4))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("coverageProbability");
    }

    @Test
    void frequenciesAndPowerAreThoseOfThePoints() {
        ScrapeSpectrum spectrum = spectrum(flat(), 5);
        assertThat(spectrum.size()).isEqualTo(SIZE);
        assertThat(spectrum.frequencyHz(0)).isEqualTo(200);
        assertThat(spectrum.frequencyHz(7)).isEqualTo(214);
        assertThat(spectrum.density(7)).isEqualTo(1);
        assertThat(spectrum.rmsPercent()).isCloseTo(Math.sqrt(800), ROUNDING);
        assertThatThrownBy(() -> spectrum.frequencyHz(SIZE)).isInstanceOf(IndexOutOfBoundsException.class);
    }

    /** A false alarm in 200 records: of one figure the quantile 0.995, of five 0.999, and a tenth more for a background that slopes. */
    @ParameterizedTest
    @CsvSource({"1, 2.5188", "0.2, 2.5188", "5, 2.9588"})
    void aPeakStandsOutByChiSquare(double cells, double quantile) {
        for (double times : new double[] {0.995, 1.005}) {
            double[] density = flat();
            density[200] = times * 1.1 * quantile;
            assertThat(spectrum(density, cells).peaks()).hasSize(times > 1 ? 1 : 0);
        }
    }

    /** Above its background: where its excess is centred, as wide as it stands out, its power. */
    @ParameterizedTest
    @CsvSource({"0", "150", "397"})
    void aPeakIsWhatStandsAboveTheBackground(int at) {
        double[] density = flat();
        density[at] = 5;
        density[at + 1] = 11;
        density[at + 2] = 5;
        assertThat(spectrum(density, 40).peaks()).hasSize(1);
        Peak peak = spectrum(density, 40).peaks().get(0);
        assertThat(peak.frequencyHz()).isCloseTo((FIRST + at + 1) * SPACING, ROUNDING);
        assertThat(peak.halfWidthHz()).isCloseTo(3, ROUNDING);
        assertThat(peak.rmsPercent()).isCloseTo(Math.sqrt((4 + 10 + 4) * SPACING), ROUNDING);
    }

    @Test
    void aLopsidedPeakIsCentredByItsExcess() {
        double[] density = flat();
        density[150] = 11;
        density[151] = 31;
        Peak peak = spectrum(density, 40).peaks().get(0);
        assertThat(peak.frequencyHz()).isCloseTo((FIRST + 150.75) * SPACING, ROUNDING);
    }

    /** What is nearer than two bandwidths, here 20 points, belongs together; what is farther is a peak of its own. */
    @ParameterizedTest
    @CsvSource({"20, 1", "21, 2", "3, 1"})
    void nearPeaksAreOne(int apart, int peaks) {
        double[] density = flat();
        density[100] = 20;
        density[100 + apart] = 20;
        // A half bandwidth of 10 Hz: 400 points of 2 Hz are 40 figures.
        ScrapeSpectrum spectrum = spectrum(density, 40);
        assertThat(spectrum.peaks()).hasSize(peaks);
        Peak first = spectrum.peaks().get(0);
        assertThat(first.halfWidthHz()).isCloseTo(peaks == 1 ? apart + 1.0 : 1, ROUNDING);
        assertThat(first.rmsPercent()).isCloseTo(Math.sqrt(peaks == 1 ? 76 : 38), ROUNDING);
        // At the upper end of the band too.
        double[] end = flat();
        end[SIZE - 1 - apart] = 20;
        end[SIZE - 1] = 20;
        assertThat(spectrum(end, 40).peaks()).hasSize(peaks);
    }

    /** The background is the median within 100 Hz, 50 points, on either side: what is wider than half of that is background. */
    @ParameterizedTest
    @CsvSource({"50, 1", "51, 0"})
    void aWidePlateauIsBackground(int width, int peaks) {
        double[] density = flat();
        Arrays.fill(density, 170, 170 + width, 20);
        assertThat(spectrum(density, 40).peaks()).hasSize(peaks);
        // At either end of the band the window is half as wide.
        double[] ends = flat();
        Arrays.fill(ends, 0, width / 2, 20);
        Arrays.fill(ends, SIZE - width / 2, SIZE, 20);
        assertThat(spectrum(ends, 40).peaks()).hasSize(2);
    }

    /** A step of the density makes no peak on either side. */
    @Test
    void aStepIsNoPeak() {
        double[] density = flat();
        Arrays.fill(density, 200, SIZE, 30);
        assertThat(spectrum(density, 40).peaks()).isEmpty();
    }

    /** The band is from 200 Hz to the highest frequency, or to half the rate, in points of the transform. */
    @ParameterizedTest
    @CsvSource({"1000", "1800", "1880", "400"})
    void theBandIsThatOfTheMeter(double highestHz) {
        ScrapeMeter meter = new ScrapeMeter(4000, highestHz);
        double[] x = new double[4000];
        for (int i = 0; i < x.length; i++) {
            x[i] = 3 * Math.sin(2 * Math.PI * 300 * i / 4000);
        }
        meter.accept(x, 0, x.length);
        ScrapeSpectrum spectrum = meter.spectrum(3000).orElseThrow();
        double spacing = spectrum.frequencyHz(1) - spectrum.frequencyHz(0);
        assertThat(spacing).isCloseTo(4000 / 4096.0, ROUNDING);
        assertThat(spectrum.frequencyHz(0)).isGreaterThanOrEqualTo(200).isLessThan(200 + spacing);
        assertThat(spectrum.frequencyHz(spectrum.size() - 1))
                .isLessThanOrEqualTo(highestHz)
                .isGreaterThan(highestHz - spacing);
        // 3 Hz of 3000 Hz are 0.1 %.
        assertThat(spectrum.rmsPercent()).isCloseTo(0.1 / Math.sqrt(2), within(0.0005));
        assertThat(spectrum.peaks()).hasSize(1);
        assertThat(spectrum.peaks().get(0).frequencyHz()).isCloseTo(300, within(0.5));
    }
}
