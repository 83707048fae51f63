/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.standard.Iec61260Edition2014;

/** Class 1 of IEC 61260-1:2014 on the path that the signal takes, decimators and aliases included. */
class ThirdOctaveBankTest {
    /** One-third-octave breakpoints, table F.1 (second-hand), from the mid-band frequency up. */
    private static final double[] PASS_RATIO = {1, 1.02667, 1.05575, 1.08746, 1.12202};

    /** Highest relative attenuation in dB at them (from memory); the lowest is -0.4 dB (second-hand). */
    private static final double[] PASS_MOST = {0.4, 0.5, 0.7, 1.4, 5.3};

    private static final double[] STOP_RATIO = {1.12202, 1.29437, 1.88173, 3.05365, 5.39195};

    /** Lowest relative attenuation in dB at them (from memory). */
    private static final double[] STOP_LEAST = {1.6, 16.6, 40.5, 60, 70};

    /** Between breakpoints the limits are straight lines over the logarithm of frequency. */
    private static double between(double[] ratios, double[] limits, double ratio) {
        for (int i = 1; i < ratios.length; i++) {
            if (ratio <= ratios[i]) {
                double share = Math.log(ratio / ratios[i - 1]) / Math.log(ratios[i] / ratios[i - 1]);
                return limits[i - 1] + share * (limits[i] - limits[i - 1]);
            }
        }
        return limits[limits.length - 1];
    }

    private static OctavePyramid pyramid(double rate) {
        return new OctavePyramid(rate, stages(rate), 16, 32);
    }

    private static ThirdOctaveBank run(double rate, double[] x, double settlingSeconds) {
        OctavePyramid pyramid = pyramid(rate);
        ThirdOctaveBank bank = new ThirdOctaveBank(pyramid, settlingSeconds, true);
        for (int i = 0; i + 512 <= x.length; i += 512) {
            pyramid.input().take(Arrays.copyOfRange(x, i, i + 512));
            pyramid.process();
            bank.process();
        }
        return bank;
    }

    private static int stages(double rate) {
        int stages = 1;
        for (double r = rate / 2; r * OctavePyramid.CLEAN >= Iec61260Edition2014.upperEdgeHz(-16); r /= 2) {
            stages++;
        }
        return stages;
    }

    @ParameterizedTest
    @CsvSource({
        "8000, 20, 400, 3, 61",
        "16000, 300, 7900, 0.6, 61",
        "44100, 2000, 22000, 0.3, 61",
        "48000, 2000, 23900, 0.3, 91",
        "96000, 2000, 47000, 0.3, 61",
        "192000, 2000, 95000, 0.3, 41"
    })
    void sinesStayInsideTheMaskOfClass1(double rate, double from, double to, double settling, int points) {
        double lowestTested = from * 1.2;
        for (int p = 0; p < points; p++) {
            double hz = from * Math.pow(to / from, p / (points - 1.0));
            double seconds = Math.max(1, Math.round(100 * settling)) / 100.0;
            int whole = (int) Math.ceil(hz * seconds);
            double measured = whole / hz; // whole periods
            double[] x = new double[(int) Math.round((settling + measured) * rate)];
            for (int i = 0; i < x.length; i++) {
                double ramp = Math.min(1, i / (0.25 * settling * rate)); // no click, whose energy rings in low bands
                x[i] = ramp * ramp * (3 - 2 * ramp) * Math.sin(2 * Math.PI * hz * i / rate);
            }
            ThirdOctaveBank bank = run(rate, x, settling);
            for (int b = 0; b < bank.size(); b++) {
                double mid = bank.midBandHz(b);
                if (mid < lowestTested) {
                    continue; // its filter needs a longer sine: another rate tests it
                }
                double attenuation = -20 * Math.log10(bank.rms(b) * Math.sqrt(2));
                double ratio = Math.max(hz / mid, mid / hz);
                double margin = attenuation - (ratio < PASS_RATIO[4] ? -0.4 : between(STOP_RATIO, STOP_LEAST, ratio));
                if (ratio <= PASS_RATIO[4]) {
                    margin = Math.min(margin, between(PASS_RATIO, PASS_MOST, ratio) - attenuation);
                }
                assertThat(margin)
                        .as("band %s Hz at %s Hz, attenuation %s dB", mid, hz, attenuation)
                        .isGreaterThanOrEqualTo(0);
            }
        }
    }

    @ParameterizedTest
    @CsvSource({"8000, 22", "16000, 25", "32000, 28", "44100, 29", "48000, 30", "96000, 30", "192000, 30"})
    void everyBandThatFitsIsThere(double rate, int bands) {
        assertThat(new ThirdOctaveBank(pyramid(rate), 2, true).size()).isEqualTo(bands);
    }

    @Test
    void exactMidBandFrequenciesAreThoseOfBaseTen() {
        // ISO 266 / IEC 61260-1, computed: rounding of two decimals.
        double[] exact = {
            25.12, 31.62, 39.81, 50.12, 63.10, 79.43, 100, 125.89, 158.49, 199.53, 251.19, 316.23, 398.11, 501.19,
            630.96, 794.33, 1000, 1258.93, 1584.89, 1995.26, 2511.89, 3162.28, 3981.07, 5011.87, 6309.57, 7943.28,
            10000, 12589.25, 15848.93, 19952.62
        };
        for (int i = 0; i < exact.length; i++) {
            assertThat(Iec61260Edition2014.midBandHz(i - 16)).isCloseTo(exact[i], within(0.00501));
        }
    }

    @Test
    void whiteNoiseRisesByOneDecibelFromBandToBand() {
        // The bandwidth grows by 10^(1/10), exactly 1 dB. Tolerance: four standard deviations of a band level over
        // 20 s, 4 * 4.34 dB / sqrt(230 Hz * 20 s) = 0.26 dB at 1 kHz, and 0.11 dB, the band's excess noise bandwidth.
        double rate = 48000;
        Random random = new Random(7);
        double[] x = new double[(int) (22 * rate)];
        for (int i = 0; i < x.length; i++) {
            x[i] = random.nextGaussian();
        }
        ThirdOctaveBank bank = run(rate, x, 2);
        for (int b = 16; b < bank.size(); b++) {
            double mid = bank.midBandHz(b);
            double width = mid * (Math.pow(10, 0.05) - Math.pow(10, -0.05));
            double expected = 10 * Math.log10(width / (rate / 2));
            assertThat(20 * Math.log10(bank.rms(b))).as("%s Hz", mid).isCloseTo(expected, within(0.37));
        }
    }
}
