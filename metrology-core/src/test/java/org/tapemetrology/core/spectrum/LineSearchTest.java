/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Lines in short records of white noise of RMS 1, of which the density and with it every uncertainty is known: 4 s of 500 Hz, so a
 * resolution width is 0.25 Hz. Larger records and coloured noise are for {@link LineFitTest}.
 */
class LineSearchTest {
    private static final int SAMPLES = 2000;
    private static final double RATE = 500;
    private static final double SECONDS = SAMPLES / RATE;
    /** One-sided density of white noise of RMS 1. */
    private static final double DENSITY = 2 / RATE;

    private static double[] noise(long seed, double rms) {
        Random random = new Random(seed);
        double[] x = new double[SAMPLES];
        for (int i = 0; i < SAMPLES; i++) {
            x[i] = rms * random.nextGaussian();
        }
        return x;
    }

    /** Noise that a line of amplitude 1 stands so many decibels above in a width: mean square 1/2 over density times width. */
    private static double[] noiseBelowALine(long seed, double decibels) {
        return noise(seed, Math.sqrt(0.5 * SECONDS / DENSITY / Math.pow(10, decibels / 10)));
    }

    private static LineSearch search(double[] x) {
        return new LineSearch(x, RATE, 1, 230, 0.005);
    }

    private static List<Line> lines(double[] x) {
        return search(x).lines();
    }

    private static double wrapped(double angle) {
        return Math.IEEEremainder(angle, 2 * Math.PI);
    }

    /** Bounds of a line in white noise (IEEE Std 1057 notation; computed). The noise is known to some 5 % here. */
    @Test
    void aLineHasTheBoundsOfItsNoise() {
        double[] x = noise(1, 1);
        RandomFlutter.add(x, RATE, 40.3, 1.5, 0.7);
        List<Line> lines = lines(x);
        assertThat(lines).hasSize(1);
        Line line = lines.get(0);
        double ratio = 1.5 * 1.5 / 2 * SECONDS / DENSITY;
        double ofAmplitude = Math.sqrt(DENSITY / SECONDS);
        double ofFrequency = Math.sqrt(6 / ratio) / (2 * Math.PI * SECONDS);
        double ofPhase = Math.sqrt(1 / (2 * ratio));
        assertThat(line.amplitude()).isCloseTo(1.5, within(4 * ofAmplitude));
        assertThat(line.frequencyHz()).isCloseTo(40.3, within(4 * ofFrequency));
        assertThat(wrapped(line.phaseRad() - 0.7)).isCloseTo(0, within(4 * ofPhase));
        assertThat(line.amplitudeUncertainty() / ofAmplitude).isCloseTo(1, within(0.12));
        assertThat(line.frequencyUncertaintyHz() / ofFrequency).isCloseTo(1, within(0.12));
        assertThat(line.phaseUncertaintyRad() / ofPhase).isCloseTo(1, within(0.12));
        assertThat(line.noiseDensityPerHz() / DENSITY).isCloseTo(1, within(0.2));
        assertThat(line.noiseRatioDb())
                .isCloseTo(
                        10 * Math.log10(line.amplitude() * line.amplitude() / 2 * SECONDS / line.noiseDensityPerHz()),
                        within(1e-9));
        assertThat(line.driftHzPerSecond()).isZero();
        assertThat(line.driftUncertaintyHzPerSecond()).isZero();
        assertThat(line.degreesOfFreedom()).isBetween(50.0, 300.0);
        // By the rule for false alarms, from what was found.
        double alarm = new FalseAlarm(1, 230, SECONDS)
                .probability(
                        line.frequencyHz(),
                        Math.pow(line.amplitude() / line.amplitudeUncertainty(), 2) / 2,
                        line.degreesOfFreedom());
        assertThat(line.falseAlarmProbability()).isCloseTo(alarm, within(0.5 * alarm));
        assertThat(line.falseAlarmProbability()).isLessThan(0.005);
    }

    /** Noise alone has no line: of forty records one may have, at 0.005 a record. */
    @Test
    void noiseHasNoLines() {
        int alarms = 0;
        for (int seed = 0; seed < 40; seed++) {
            alarms += lines(noise(100 + seed, 1)).isEmpty() ? 0 : 1;
        }
        assertThat(alarms).isLessThanOrEqualTo(2);
    }

    /** A line 9 dB above the noise in a width may be chance, one 17 dB above it is none. */
    @Test
    void aLineHasToStandOut() {
        int weak = 0;
        int strong = 0;
        for (int seed = 0; seed < 10; seed++) {
            double[] x = noise(300 + seed, 1);
            RandomFlutter.add(x, RATE, 61.17, Math.sqrt(2 * 8 * DENSITY / SECONDS), seed);
            weak += lines(x).size();
            double[] y = noise(300 + seed, 1);
            RandomFlutter.add(y, RATE, 61.17, Math.sqrt(2 * 50 * DENSITY / SECONDS), seed);
            strong += lines(y).size();
        }
        assertThat(weak).isLessThanOrEqualTo(3);
        assertThat(strong).isBetween(9, 11);
    }

    /** Several at once, 40 dB above the noise, in order; nothing of them is left in the floor. */
    @Test
    void severalLinesAreFound() {
        double[] hz = {12.3, 40.77, 41.9, 99.99, 170.2};
        double[] x = noise(19, 0.01);
        for (int k = 0; k < hz.length; k++) {
            RandomFlutter.add(x, RATE, hz[k], 1 + 0.3 * k, k);
        }
        LineSearch search = search(x);
        List<Line> lines = search.lines();
        assertThat(lines).hasSize(hz.length);
        for (int k = 0; k < hz.length; k++) {
            Line line = lines.get(k);
            assertThat(line.frequencyHz()).isCloseTo(hz[k], within(4 * line.frequencyUncertaintyHz()));
            assertThat(line.amplitude()).isCloseTo(1 + 0.3 * k, within(4 * line.amplitudeUncertainty()));
            assertThat(wrapped(line.phaseRad() - k)).isCloseTo(0, within(4 * line.phaseUncertaintyRad()));
        }
        assertThat(search.floor().density(70)).isCloseTo(1e-4 * DENSITY, within(0.3e-4 * DENSITY));
    }

    /** A weak line six widths from one that is 34 dB stronger, whose side lobes are above it. */
    @Test
    void aWeakLineBesideAStrongOneIsFound() {
        double[] x = noise(5, 0.01);
        RandomFlutter.add(x, RATE, 80, 1, 1);
        RandomFlutter.add(x, RATE, 80 + 6.4 / SECONDS, 0.02, -1);
        List<Line> lines = lines(x);
        assertThat(lines).hasSize(2);
        assertThat(lines.get(1).amplitude())
                .isCloseTo(0.02, within(4 * lines.get(1).amplitudeUncertainty()));
        assertThat(lines.get(1).frequencyHz())
                .isCloseTo(80 + 6.4 / SECONDS, within(4 * lines.get(1).frequencyUncertaintyHz()));
    }

    /** Two lines 1.5 widths apart are two. */
    @Test
    void nearLinesAreToldApart() {
        double[] x = noise(7, 0.1);
        RandomFlutter.add(x, RATE, 60, 1, 0.4);
        RandomFlutter.add(x, RATE, 60 + 1.5 / SECONDS, 1, 1);
        List<Line> lines = lines(x);
        assertThat(lines).hasSize(2);
        assertThat(lines.get(0).amplitude())
                .isCloseTo(1, within(4 * lines.get(0).amplitudeUncertainty()));
    }

    /**
     * Two equal lines nearer than half a width, by how many decibels they stand above the noise in a width. They are told apart, each
     * as it is, or there is one line: the sum in the middle of the record, and its frequency holds both. Uncertainties are
     * standard ones; four of them are exceeded once in 16 000 times, but here one draw of noise serves all.
     */
    @ParameterizedTest
    @CsvSource({
        "0.2, 40, 0.4", "0.2, 40, 1.6", "0.2, 40, 3", "0.2, 60, 0.4", "0.2, 60, 1.6", "0.2, 60, 3", "0.2, 80, 0.4",
        "0.2, 80, 1.6", "0.2, 80, 3", "0.1, 60, 0.4", "0.1, 60, 3", "0.1, 80, 1.6", "0.3, 40, 0.4", "0.3, 60, 3",
        "0.3, 80, 0.4", "0.45, 40, 0.4", "0.45, 60, 3", "0.45, 80, 1.6"
    })
    void linesWithinAWidthAreToldApartOrOne(double widths, double decibels, double phase) {
        double[] x = noiseBelowALine(3, decibels);
        double apart = widths / SECONDS;
        RandomFlutter.add(x, RATE, 60, 1, 0);
        RandomFlutter.add(x, RATE, 60 + apart, 1, phase);
        LineSearch search = search(x);
        // Three or four rounds find two lines, one more ends it; opposite lines, whose sum is small, need some more.
        assertThat(search.rounds()).isLessThan(20);
        List<Line> lines = search.lines();
        assertThat(lines.size()).isBetween(1, 2);
        for (int i = 0; i < lines.size(); i++) {
            Line line = lines.get(i);
            double truth = lines.size() == 2 ? 1 : 2 * Math.cos(phase / 2);
            assertThat(line.amplitude()).isCloseTo(truth, within(4 * line.amplitudeUncertainty()));
            double within = (lines.size() == 2 ? 4 : 2) * line.frequencyUncertaintyHz();
            assertThat(line.frequencyHz()).isCloseTo(60 + (lines.size() == 2 ? i : 0) * apart, within(within));
            assertThat(line.frequencyHz()).isCloseTo(60 + (lines.size() == 2 ? i : 1) * apart, within(within));
        }
    }

    /** A second line within a width that is not significant by itself: given up once and for all, or told with the bounds of both. */
    @Test
    void aWeakLineWithinAWidthEndsTheSearch() {
        for (int seed = 0; seed < 12; seed++) {
            double[] x = noiseBelowALine(700 + seed, 38);
            RandomFlutter.add(x, RATE, 60, 1, 0);
            RandomFlutter.add(x, RATE, 60 + 0.63 / SECONDS, 0.25, 0.05 * seed);
            LineSearch search = search(x);
            assertThat(search.rounds()).as("%d", seed).isLessThan(20);
            List<Line> lines = search.lines();
            assertThat(lines.size()).as("%d", seed).isBetween(1, 2);
            Line strong = lines.get(0);
            boolean one = lines.size() == 1;
            assertThat(strong.amplitude()).isBetween(one ? 0.95 : 0.7, 1.3);
            assertThat(strong.frequencyHz()).isCloseTo(60, within((one ? 2 : 4) * strong.frequencyUncertaintyHz()));
            assertThat(strong.frequencyUncertaintyHz() * SECONDS).isGreaterThan(one ? 0.5 : 0.01);
        }
    }

    /** Lines that stand ever higher above the noise: as right as it allows, and no round is spent on what they leave. */
    @ParameterizedTest
    @ValueSource(doubles = {60, 80, 100, 120, 140})
    void strongLinesEndTheSearch(double decibels) {
        double[] hz = {12.3, 40.77, 41.9, 99.99, 170.2};
        double[] x = noiseBelowALine(5, decibels);
        for (int k = 0; k < hz.length; k++) {
            RandomFlutter.add(x, RATE, hz[k], 1 + 0.3 * k, k);
        }
        LineSearch search = search(x);
        assertThat(search.rounds()).isLessThan(10);
        List<Line> lines = search.lines();
        assertThat(lines).hasSize(hz.length);
        double bound = Math.sqrt(2 / Math.pow(10, decibels / 10)) / 2;
        for (int k = 0; k < hz.length; k++) {
            Line line = lines.get(k);
            assertThat(line.frequencyHz()).isCloseTo(hz[k], within(4 * line.frequencyUncertaintyHz()));
            assertThat(line.amplitude()).isCloseTo(1 + 0.3 * k, within(4 * line.amplitudeUncertainty()));
            // The bound of a line alone, as above, with noise that is known to some 5 % here.
            assertThat(line.amplitudeUncertainty() / bound).isCloseTo(1, within(0.2));
        }
    }

    /** A line that gets faster by three widths in the record, and one that gets slower by nine. */
    @ParameterizedTest
    @ValueSource(doubles = {0.1875, -0.5625})
    void aDriftIsFound(double drift) {
        double[] x = noise(11, 0.1);
        RandomFlutter.addDrifting(x, RATE, 90, drift, 1, 0.5);
        List<Line> lines = lines(x);
        assertThat(lines).hasSize(1);
        Line line = lines.get(0);
        assertThat(line.driftHzPerSecond()).isCloseTo(drift, within(4 * line.driftUncertaintyHzPerSecond()));
        // With phase terms orthogonal over the record: root (90 / rho) / (pi T^2).
        double ratio = SECONDS / (2 * 0.01 * DENSITY);
        assertThat(line.driftUncertaintyHzPerSecond() / (Math.sqrt(90 / ratio) / (Math.PI * SECONDS * SECONDS)))
                .isCloseTo(1, within(0.2));
        assertThat(line.frequencyHz()).isCloseTo(90, within(4 * line.frequencyUncertaintyHz()));
        assertThat(line.amplitude()).isCloseTo(1, within(4 * line.amplitudeUncertainty()));
    }

    /** A machine that gets faster takes all its lines along: as many as at a steady speed, each with the same relative drift. */
    @ParameterizedTest
    @ValueSource(doubles = {0, 4e-3, -8e-3})
    void aDriftingMachineHasAsManyLines(double relative) {
        double[] x = noise(23, 0.1);
        double[] hz = {7.3, 31, 62.2, 140};
        for (double each : hz) {
            RandomFlutter.addDrifting(x, RATE, each, each * relative / SECONDS, 0.5, each);
        }
        List<Line> lines = lines(x);
        assertThat(lines).hasSize(hz.length);
        for (int i = 0; i < hz.length; i++) {
            Line line = lines.get(i);
            assertThat(line.frequencyHz()).isCloseTo(hz[i], within(4 * line.frequencyUncertaintyHz()));
            assertThat(line.amplitude()).isCloseTo(0.5, within(4 * line.amplitudeUncertainty()));
            if (line.driftUncertaintyHzPerSecond() > 0) {
                assertThat(line.driftHzPerSecond())
                        .isCloseTo(hz[i] * relative / SECONDS, within(4 * line.driftUncertaintyHzPerSecond()));
            }
        }
    }

    /** Noise that resonates 20 dB high over 2 Hz or 10 Hz is wider than a line, and a step of its density has none. */
    @ParameterizedTest
    @ValueSource(doubles = {1, 5})
    void humpsAndStepsAreNoLines(double halfWidthHz) {
        for (int seed = 0; seed < 6; seed++) {
            double[] hump = RandomFlutter.record(500 + seed, SAMPLES, RATE, f -> {
                double off = (f - 70) / halfWidthHz;
                return DENSITY * (1 + 100 / (1 + off * off));
            });
            assertThat(lines(hump)).isEmpty();
            double[] step =
                    RandomFlutter.record(600 + seed, SAMPLES, RATE, f -> DENSITY * (f < 100 ? 1 : 4 * halfWidthHz));
            assertThat(lines(step)).isEmpty();
        }
    }

    /** A drift of the record is no line and hides none. */
    @Test
    void aTrendIsNoLine() {
        double[] x = noise(29, 1);
        for (int i = 0; i < SAMPLES; i++) {
            x[i] += 300.0 * i / SAMPLES + 50 * Math.exp(-i / 700.0);
        }
        assertThat(lines(x)).isEmpty();
        RandomFlutter.add(x, RATE, 3.3, 1, 0.2);
        List<Line> lines = lines(x);
        assertThat(lines).hasSize(1);
        assertThat(lines.get(0).amplitude())
                .isCloseTo(1, within(4 * lines.get(0).amplitudeUncertainty()));
    }

    /** Three lines next to each other, 1.7 widths apart; the floor beneath them is that of the noise. */
    @Test
    void threeNeighboursAreToldApart() {
        double[] x = noise(31, 0.1);
        for (int k = 0; k < 3; k++) {
            RandomFlutter.add(x, RATE, 100 + 1.7 * k / SECONDS, 1 - 0.2 * k, 2.0 * k);
        }
        LineSearch search = search(x);
        List<Line> lines = search.lines();
        assertThat(lines).hasSize(3);
        for (int k = 0; k < 3; k++) {
            assertThat(lines.get(k).amplitude())
                    .isCloseTo(1 - 0.2 * k, within(4 * lines.get(k).amplitudeUncertainty()));
        }
        assertThat(search.floor().density(100)).isCloseTo(0.01 * DENSITY, within(0.002 * DENSITY));
    }

    /** A line that trembles is no forest: what it leaves beside it is not taken for lines of their own. */
    @Test
    void aTremblingLineMakesFewLines() {
        Random random = new Random(37);
        double[] x = noise(37, 0.1);
        double phase = 0;
        for (int i = 0; i < SAMPLES; i++) {
            phase += 0.02 * random.nextGaussian();
            x[i] += Math.cos(2 * Math.PI * 50 * i / RATE + phase);
        }
        assertThat(lines(x).size()).isBetween(1, 4);
    }

    /** Lines outside the band do not count, and those at its ends do. */
    @Test
    void theBandHasEnds() {
        double[] x = noise(13, 0.1);
        RandomFlutter.add(x, RATE, 236, 0.5, 0);
        assertThat(lines(x)).isEmpty();
        RandomFlutter.add(x, RATE, 228.5, 0.5, 0);
        RandomFlutter.add(x, RATE, 1.6, 0.5, 0);
        List<Line> lines = lines(x);
        assertThat(lines).hasSize(2);
        assertThat(lines.get(0).frequencyHz()).isCloseTo(1.6, within(0.01));
        assertThat(lines.get(1).frequencyHz()).isCloseTo(228.5, within(0.01));
        double[] y = noise(14, 0.1);
        for (double hz : new double[] {17, 21.3, 198, 204}) {
            RandomFlutter.add(y, RATE, hz, 0.5, hz);
        }
        assertThat(new LineSearch(y, RATE, 20, 200, 0.005).lines())
                .extracting(line -> Math.round(line.frequencyHz()))
                .containsExactly(21L, 198L);
    }

    /** No more than 64 lines, the strongest of them first. */
    @Test
    void thereIsAMostOfLines() {
        double[] x = noise(17, 0.001);
        for (int k = 0; k < 70; k++) {
            RandomFlutter.add(x, RATE, 10 + 3.1 * k, k < 6 ? 0.5 : 1, k);
        }
        List<Line> lines = lines(x);
        assertThat(lines).hasSize(64);
        assertThat(lines.get(63).amplitude()).isCloseTo(1, within(0.05));
    }

    /** Silence, and what is rounding of a large line, has none. */
    @Test
    void silenceHasNoLines() {
        assertThat(lines(new double[SAMPLES])).isEmpty();
        assertThat(search(new double[SAMPLES]).floor().density(10)).isPositive();
    }
}
