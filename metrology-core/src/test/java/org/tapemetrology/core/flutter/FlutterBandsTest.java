/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.detector.AverageMagnitude;
import org.tapemetrology.core.detector.BlockStatistic;
import org.tapemetrology.core.detector.HighestPerPart;
import org.tapemetrology.core.detector.MeanPower;
import org.tapemetrology.core.detector.MovingMoment;
import org.tapemetrology.core.detector.QuasiPeakDetector;
import org.tapemetrology.core.detector.TwoSigma;
import org.tapemetrology.core.filter.Butterworth;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.standard.Iec60386Edition1972;

/** The figures of flutter that grow block by block against the same taken plainly from the whole series. */
class FlutterBandsTest {
    private static final double SECONDS = 70;
    private static final double GAP_FROM = 31.3;
    private static final double GAP_TO = 31.8;
    /** Sums in another order: some 1e-16 for each of half a million values, of figures of some units. */
    private static final Offset<Double> ROUNDING = within(1e-9);

    private static double[] deviation(double rate) {
        Random random = new Random(1);
        double[] x = new double[(int) (SECONDS * rate)];
        for (int i = 0; i < x.length; i++) {
            double t = i / rate;
            x[i] = 5 + 3 * Math.sin(2 * Math.PI * 0.7 * t) + (1 + t / 35) * Math.sin(2 * Math.PI * 6 * t);
            x[i] += random.nextGaussian();
        }
        return x;
    }

    private static FlutterBands inBlocks(double[] x, double rate, int block) {
        FlutterBands bands = new FlutterBands(rate);
        bands.presetTo(5);
        int gapFrom = (int) (GAP_FROM * rate);
        int gapTo = (int) (GAP_TO * rate);
        for (int at = 0; at < x.length; ) {
            int end = at < gapFrom ? gapFrom : at < gapTo ? gapTo : x.length;
            int part = Math.min(block, end - at);
            bands.accept(x, at, part, at >= gapFrom && at < gapTo);
            at += part;
        }
        return bands;
    }

    /** Every so many values of a whole filtered series. */
    private static double[] every(int factor, double[] x) {
        double[] kept = new double[(x.length + factor - 1) / factor];
        for (int i = 0; i < kept.length; i++) {
            kept[i] = x[i * factor];
        }
        return kept;
    }

    private static double[] filtered(SecondOrderSections filter, double[] x) {
        double[] y = new double[x.length];
        filter.presetTo(5);
        filter.process(x, 0, y, 0, x.length);
        return y;
    }

    /** Which values count: not the first ones, none in the gap, and none for a while after it. */
    private static boolean[] counting(int length, double perSecond, double start, double afterGap) {
        boolean[] counting = new boolean[length];
        for (int i = 0; i < length; i++) {
            double t = i / perSecond;
            counting[i] = t >= start && !(t >= GAP_FROM && t < GAP_TO + afterGap);
        }
        return counting;
    }

    private static double[] only(boolean[] counting, double[] x) {
        int n = 0;
        double[] some = new double[x.length];
        for (int i = 0; i < x.length; i++) {
            if (counting[i]) {
                some[n++] = x[i];
            }
        }
        return Arrays.copyOf(some, n);
    }

    private static double rms(double[] x) {
        return Math.sqrt(Arrays.stream(x).map(v -> v * v).sum() / x.length);
    }

    private static AverageMagnitude average(double[] x, double rate) {
        AverageMagnitude average = new AverageMagnitude(rate);
        average.add(x, 0, x.length);
        return average;
    }

    /**
     * At 4000 Hz every second value is kept, at 6000 every third, at 2500 all; the gap is a whole number of kept values.
     */
    @ParameterizedTest
    @CsvSource({"2500, 1, 331", "4000, 2, 1", "4000, 2, 97", "6000, 3, 10001"})
    void everyFigureIsThatOfTheWholeSeries(double rate, int factor, int block) {
        double[] x = deviation(rate);
        final FlutterBands bands = inBlocks(x, rate, block);
        double kept = rate / factor;
        double[] limited = every(factor, filtered(Butterworth.lowPass(8, 470, rate), x));

        double[] weighted = new double[limited.length];
        WeightedPath path = new WeightedPath(kept);
        path.presetTo(5);
        path.process(limited, 0, limited.length, weighted);
        boolean[] fast = counting(limited.length, kept, 3, 1);
        double[] counted = only(fast, weighted);
        assertThat(bands.weightedSeconds()).isCloseTo(counted.length / kept, ROUNDING);
        assertThat(bands.weighted().rms().orElseThrow()).isCloseTo(rms(counted), ROUNDING);
        double[] moved = moved(weighted);
        double[] read = only(fast, moved);
        AverageMagnitude average = new AverageMagnitude(kept);
        average.addMoved(read, 0, read.length);
        assertThat(bands.weightedAverage().value().orElseThrow())
                .isCloseTo(average.value().orElseThrow(), ROUNDING);
        TwoSigma twoSigma = new TwoSigma(0.05, (int) (5 * kept), kept);
        twoSigma.addMoved(read, 0, read.length);
        assertThat(bands.twoSigma().value().orElseThrow())
                .isCloseTo(twoSigma.value().orElseThrow(), ROUNDING);
        assertThat(bands.twoSigma().highestOfPeriods().orElseThrow())
                .isCloseTo(twoSigma.highestOfPeriods().orElseThrow(), ROUNDING);
        HighestPerPart indications = indications(moved, kept, fast);
        assertSame(bands.quasiPeakParts(), indications);
        assertThat(bands.worstMomentSeconds())
                .isCloseTo(indications.highestIndex() / kept - bands.chartDelaySeconds(), ROUNDING);

        double[] flat = filtered(Butterworth.band(4, 0.075, 270, kept), limited);
        boolean[] slow = counting(limited.length, kept, 15, 5);
        assertThat(bands.flatSeconds()).isCloseTo(only(slow, flat).length / kept, ROUNDING);
        assertThat(bands.flat().rms().orElseThrow()).isCloseTo(rms(only(slow, flat)), ROUNDING);
        assertSame(bands.flatQuasiPeakParts(), indications(moved(flat), kept, slow));

        assertBand(bands.wow(), rms(only(slow, filtered(Butterworth.band(4, 0.1, 10, kept), limited))));
        assertThat(bands.wow().seconds()).isCloseTo(only(slow, limited).length / kept, ROUNDING);
        assertBand(bands.flutter(), rms(only(fast, filtered(Butterworth.band(4, 10, 200, kept), limited))));
        double[] nab = only(fast, filtered(Butterworth.band(2, 0.5, 200, kept), limited));
        assertBand(bands.nab(), average(nab, kept).value().orElseThrow());
        assertThat(bands.nab().seconds()).isCloseTo(nab.length / kept, ROUNDING);
    }

    /** What is read at moments that do not lock to the series. */
    private static double[] moved(double[] x) {
        double[] y = new double[x.length];
        new MovingMoment().process(x, 0, y, 0, x.length);
        return y;
    }

    private static <S extends BlockStatistic> void assertBand(SettledBand<S> band, double expected) {
        S statistic = band.statistic();
        assertThat(statistic.ofSome(statistic.sum(), statistic.count())).isCloseTo(expected, ROUNDING);
    }

    /** The detector stands still in the gap. */
    private static HighestPerPart indications(double[] x, double rate, boolean[] counting) {
        QuasiPeakDetector detector = new QuasiPeakDetector(Iec60386Edition1972.QUASI_PEAK, rate);
        HighestPerPart parts = new HighestPerPart((long) (30 * rate), rate);
        for (int i = 0; i < x.length; i++) {
            double t = i / rate;
            if (t < GAP_FROM || t >= GAP_TO) {
                double indication = detector.next(x[i]);
                if (counting[i]) {
                    parts.add(indication, i);
                }
            }
        }
        return parts;
    }

    private static void assertSame(HighestPerPart seen, HighestPerPart expected) {
        assertThat(seen.highest().orElseThrow()).isCloseTo(expected.highest().orElseThrow(), ROUNDING);
        assertThat(seen.highestIndex()).isEqualTo(expected.highestIndex());
        assertThat(seen.mean().orElseThrow()).isCloseTo(expected.mean().orElseThrow(), ROUNDING);
        assertThat(seen.meanOfHighest().orElseThrow())
                .isCloseTo(expected.meanOfHighest().orElseThrow(), ROUNDING);
    }

    /** The running indications are those of the detectors at the end, here of a sine that both hear whole. */
    @Test
    void runningIndicationsAreThoseOfTheMoment() {
        double rate = 4000;
        FlutterBands bands = new FlutterBands(rate);
        bands.presetTo(0);
        double[] x = new double[(int) (12 * rate)];
        for (int i = 0; i < x.length; i++) {
            x[i] = 2 * Math.sin(2 * Math.PI * 4 * i / rate);
        }
        bands.accept(x, 0, x.length, false);
        // A 4 Hz sine reads its peak; between peaks the indication falls by its ripple, below 2 %.
        assertThat(bands.runningQuasiPeakHz()).isCloseTo(2, within(0.04));
        assertThat(bands.runningFlatQuasiPeakHz()).isCloseTo(2, within(0.04));
        assertThat(bands.flatMagnitude(4)).isCloseTo(1, within(1e-3)); // (0.075/4)^8
        assertThat(bands.flatMagnitude(270)).isCloseTo(Math.sqrt(0.5), within(1e-6)); // its edge
    }

    /**
     * A sine whose period is a whole number of the values that are read still indicates what it is, in any phase: read at the
     * same places of every period it would be up to 8 % off at 200 Hz, where a period has ten. The detector itself, on a
     * sine of 48 000 values a second, indicates 0.9994 to 1.0044 of the peak at these rates; with that 1 % is allowed.
     */
    @ParameterizedTest
    @ValueSource(doubles = {100, 125, 200, 250})
    void indicationDoesNotLockToTheSampling(double hz) {
        double rate = 4000;
        double[] x = new double[(int) (10 * rate)];
        SecondOrderSections limiter = Butterworth.lowPass(8, 470, rate);
        for (double phase = 0; phase < Math.PI / 2; phase += 0.15) {
            FlutterBands bands = new FlutterBands(rate);
            bands.presetTo(0);
            for (int i = 0; i < x.length; i++) {
                x[i] = 2 * Math.sin(2 * Math.PI * hz * i / rate + phase);
            }
            bands.accept(x, 0, x.length, false);
            double expected = 2 * bands.flatMagnitude(hz) * limiter.magnitude(hz);
            assertThat(bands.runningFlatQuasiPeakHz()).isCloseTo(expected, within(0.01 * expected));
        }
    }

    /** Negative control: at fixed moments the detector would read a sine up to 5 % or 8 % off, by the phase it happens to have. */
    @ParameterizedTest
    @CsvSource({"4000, 250, 0.045", "2000, 200, 0.075"})
    void atFixedMomentsItWould(double rate, double hz, double off) {
        double worst = 0;
        for (double phase = 0; phase < Math.PI / 2; phase += 0.1) {
            QuasiPeakDetector detector = new QuasiPeakDetector(Iec60386Edition1972.QUASI_PEAK, rate);
            for (int i = 0; i < 10 * rate; i++) {
                detector.next(Math.sin(2 * Math.PI * hz * i / rate + phase));
            }
            worst = Math.max(worst, Math.abs(detector.indication() - 1));
        }
        assertThat(worst).isGreaterThan(off);
    }

    /** A steady error of speed is no flutter, from the first value that counts on. */
    @Test
    void presetFiltersDoNotSeeASteadyError() {
        double rate = 4000;
        double[] x = new double[(int) (40 * rate)];
        Arrays.fill(x, -12);
        FlutterBands bands = new FlutterBands(rate);
        bands.presetTo(-12);
        bands.accept(x, 0, x.length, false);
        // Rounding of 1e-16 of 12, which the poles near z = 1 multiply: 1.2e-5 in the band from 0.075 Hz.
        Offset<Double> nothing = within(1e-4);
        assertThat(bands.weighted().rms().orElseThrow()).isCloseTo(0, nothing);
        assertThat(bands.quasiPeakParts().highest().orElseThrow()).isCloseTo(0, nothing);
        assertThat(bands.flat().rms().orElseThrow()).isCloseTo(0, nothing);
        MeanPower wow = bands.wow().statistic();
        assertThat(wow.rms().orElseThrow()).isCloseTo(0, nothing);
        assertThat(bands.flutter().statistic().rms().orElseThrow()).isCloseTo(0, nothing);
        assertThat(bands.nab().statistic().value().orElseThrow()).isCloseTo(0, nothing);
        // Negative control: at rest they would.
        FlutterBands rested = new FlutterBands(rate);
        rested.accept(x, 0, x.length, false);
        assertThat(rested.weighted().rms().orElseThrow()).isGreaterThan(1e-3);
        assertThat(rested.flat().rms().orElseThrow()).isGreaterThan(1e-3);
    }

    /** The delay of the chart is the centre of gravity of the low-pass's answer to an impulse. */
    @Test
    void delayIsTheCentreOfGravity() {
        double rate = 8000;
        double[] x = new double[(int) rate];
        x[0] = 1;
        Butterworth.lowPass(8, 470, rate).process(x, 0, x, 0, x.length);
        double moment = 0;
        double sum = 0;
        for (int i = 0; i < x.length; i++) {
            moment += i * x[i];
            sum += x[i];
        }
        // The bilinear transform's delay at low frequencies is that of the analogue filter for the warped edge: 2 %.
        double delay = moment / sum / rate;
        assertThat(new FlutterBands(rate).chartDelaySeconds()).isCloseTo(delay, within(0.02 * delay));
    }

    /**
     * All in one block, of which the first seconds settle and do not count: a burst from 20 to 21 s is the worst moment, and the
     * chart has every tenth of a second from 3 s on with what the limited deviation does in it.
     */
    @Test
    void momentsAreThoseOfTheSeriesWhateverTheBlock() {
        double rate = 2000; // every value is kept
        double[] x = new double[(int) (30 * rate)];
        for (int i = 0; i < x.length; i++) {
            double t = i / rate;
            x[i] = (t >= 20 && t < 21 ? 3 : 1) * Math.sin(2 * Math.PI * 4.3 * t);
        }
        FlutterBands bands = new FlutterBands(rate);
        bands.presetTo(0);
        bands.accept(x, 0, x.length, false);
        // The detector rises within some periods and falls afterwards.
        assertThat(bands.worstMomentSeconds()).isBetween(20.5, 21.1);
        assertThat(bands.flatQuasiPeakParts().highestIndex() / rate).isBetween(20.5, 21.1);

        double[] limited = new double[x.length];
        Butterworth.lowPass(8, 470, rate).process(x, 0, limited, 0, x.length);
        FlutterSeries chart = bands.chart().series(0, 1000, 1000); // per cent of 1000 Hz
        assertThat(chart.seconds()).hasSize(270);
        for (int cell = 0; cell < 270; cell++) {
            assertThat(chart.seconds()[cell]).isCloseTo(3.05 + 0.1 * cell, ROUNDING);
            double[] part = Arrays.copyOfRange(limited, 200 * (30 + cell), 200 * (31 + cell));
            assertThat(chart.speedHighPercent()[cell])
                    .isCloseTo(Arrays.stream(part).max().orElseThrow() / 10, ROUNDING);
            assertThat(chart.speedLowPercent()[cell])
                    .isCloseTo(Arrays.stream(part).min().orElseThrow() / 10, ROUNDING);
            assertThat(chart.speedPercent()[cell])
                    .isCloseTo(Arrays.stream(part).average().orElseThrow() / 10, ROUNDING);
        }
    }
}
