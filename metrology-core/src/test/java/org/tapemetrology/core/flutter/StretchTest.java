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
import org.tapemetrology.core.carrier.CarrierBand;
import org.tapemetrology.core.flutter.Stretch.Outcome;

/** A stretch as its tracker feeds it, and one that is fed with the samples of a sine. */
class StretchTest {
    private static final Offset<Double> ROUNDING = within(1e-9);
    private static final int SAMPLE_RATE = 16_000;
    /** Of the deviation of a tone of 3150 Hz at that sampling rate. */
    private static final int RATE = 4000;

    private static Stretch stretch(boolean recorded) {
        return new Stretch(CarrierBand.of(SAMPLE_RATE, 3150), 2.5, recorded);
    }

    private static double[] wavering(int length) {
        double[] d = new double[length];
        for (int i = 0; i < length; i++) {
            d[i] = 12 + 3 * Math.sin(2 * Math.PI * 4 * i / RATE) + Math.sin(2 * Math.PI * 450 * i / RATE);
        }
        return d;
    }

    private static double[] sine(int length, double hz, double mean, double swing) {
        double[] x = new double[length];
        for (int i = 0; i < length; i++) {
            x[i] = mean + swing * Math.sin(2 * Math.PI * hz * i / RATE);
        }
        return x;
    }

    /** Every part gets every value; the flutter meter is set to the mean of the first half second, however the values come. */
    @ParameterizedTest
    @ValueSource(ints = {480, 1999, 2000, 2001, 40_000})
    void everyPartGetsTheValues(int block) {
        int length = 10 * RATE;
        double[] d = wavering(length);
        double[] a = sine(length, 500, 0, 0.5);
        double[] p = sine(length, 60, 0.25, 0.01);
        Stretch stretch = stretch(true);
        for (int at = 0; at < length; at += block) {
            stretch.accept(d, a, p, at, Math.min(block, length - at), false);
        }
        assertThat(stretch.speed().admitted()).isEqualTo(length);
        assertThat(stretch.meanHz()).isCloseTo(3162, within(1e-6));
        assertThat(stretch.meanPower()).isCloseTo(0.25, within(1e-4));
        assertThat(stretch.levelWindows().windows()).isEqualTo(100);
        assertThat(stretch.level().levelDbfs().orElseThrow()).isCloseTo(10 * Math.log10(0.25), within(1e-3));
        assertThat(stretch.jumps().count()).isZero();
        assertThat(stretch.ends().glidesAtLast()).isFalse();

        CarrierBand band = stretch.band();
        FlutterMeter alone = new FlutterMeter(RATE, band.flatDeviationHz(), band.stopHz(), 3150);
        alone.presetTo(Arrays.stream(d, 0, RATE / 2).average().orElseThrow());
        alone.accept(d, a, p, 0, length, false);
        FlutterMeter meter = stretch.flutter().orElseThrow();
        assertThat(meter.bands().weightedSeconds()).isEqualTo(alone.bands().weightedSeconds());
        assertThat(meter.bands().weighted().rms().orElseThrow())
                .isCloseTo(alone.bands().weighted().rms().orElseThrow(), ROUNDING);
        assertThat(meter.noise().scrapeHz().orElseThrow())
                .isCloseTo(alone.noise().scrapeHz().orElseThrow(), ROUNDING);
        assertThat(meter.noise().scrapeNoiseHz()).isCloseTo(alone.noise().scrapeNoiseHz(), ROUNDING);
        assertThat(meter.secondTone().share()).isCloseTo(alone.secondTone().share(), ROUNDING);
        assertThat(meter.weightedNoiseHz()).isGreaterThan(0).isCloseTo(alone.weightedNoiseHz(), ROUNDING);
        assertThat(meter.flatNoiseHz()).isGreaterThan(0).isCloseTo(alone.flatNoiseHz(), ROUNDING);

        // Flat within 1e-4; the mean is that of the stretch.
        DeviationSeries series = stretch.deviation().orElseThrow();
        assertThat(series.meanHz()).isEqualTo(stretch.meanHz());
        double t = series.startSeconds() - stretch.startSeconds() + 5000 / series.rateHz();
        double expected = 3 * Math.sin(2 * Math.PI * 4 * t) + Math.sin(2 * Math.PI * 450 * t);
        assertThat(series.value(5000)).isCloseTo(expected / 3162, within(5e-4 / 3162));
        assertThat(stretch.scrape()).isPresent();
        assertThat(stretch.scrape().orElseThrow().rmsPercent()).isCloseTo(100 / 3162.0 / Math.sqrt(2), within(1e-4));
    }

    /** The meter's filters start from the mean of the tone: a steady error of speed makes no flutter. */
    @Test
    void aSteadyErrorIsNoFlutter() {
        double[] d = new double[5 * RATE];
        Arrays.fill(d, 90);
        Stretch stretch = stretch(false);
        stretch.accept(d, new double[d.length], sine(d.length, 0, 0.3, 0), 0, d.length, false);
        FlutterMeter meter = stretch.flutter().orElseThrow();
        assertThat(meter.bands().weighted().rms().orElseThrow()).isLessThan(1e-4);
        assertThat(meter.noise().scrapeHz().orElseThrow()).isLessThan(1e-6);
        assertThat(stretch.meanHz()).isCloseTo(3240, ROUNDING);
    }

    /** What is bridged counts in no part: not in the level, not in the speed, not in the flutter. */
    @Test
    void whatIsBridgedDoesNotCount() {
        Stretch stretch = stretch(true);
        double[] d = wavering(RATE);
        double[] wrong = sine(RATE, 0, 500, 0);
        double[] p = sine(RATE, 0, 0.25, 0);
        for (int second = 0; second < 5; second++) {
            stretch.accept(d, d, p, 0, RATE, false);
        }
        double weighted = stretch.flutter().orElseThrow().bands().weightedSeconds();
        stretch.accept(wrong, wrong, wrong, 0, RATE, true);
        assertThat(stretch.meanHz()).isCloseTo(3162, within(1e-6));
        assertThat(stretch.meanPower()).isCloseTo(0.25, ROUNDING);
        assertThat(stretch.speed().admitted()).isEqualTo(5 * RATE);
        assertThat(stretch.flutter().orElseThrow().bands().weightedSeconds()).isEqualTo(weighted);
        // The series goes on through it, with the line that bridges it, less what its filter takes at the ends.
        assertThat(stretch.deviation().orElseThrow().seconds()).isCloseTo(6, within(0.1));
        assertThat(stretch.ends().glidesAtLast()).isFalse();
        assertThat(stretch.jumps().count()).isZero();
    }

    /** The spectrum of the scrape band is that of whole seconds, none of which holds a gap. */
    @Test
    void aGapCutsTheRecordOfTheScrapeBand() {
        double[] d = wavering(RATE);
        double[] p = sine(RATE, 0, 0.25, 0);
        int part = 9 * RATE / 10;
        Stretch cut = stretch(true);
        cut.accept(d, d, p, 0, part, false);
        cut.accept(d, d, p, 0, RATE / 20, true);
        cut.accept(d, d, p, 0, part, false);
        assertThat(cut.scrape()).isEmpty();
        Stretch whole = stretch(true);
        whole.accept(d, d, p, 0, part, false);
        whole.accept(d, d, p, 0, part, false);
        assertThat(whole.scrape()).isPresent();
    }

    /** 200 Hz of deviation are needed for flutter, 1 kHz for the scrape band, and both are kept where that is asked for. */
    @ParameterizedTest
    @CsvSource({
        "8000, 200, true, false, false, false",
        "8000, 1000, true, true, true, false",
        "8000, 1000, false, true, false, false",
        "16000, 3150, true, true, true, true",
        "16000, 3150, false, true, false, false"
    })
    void partsAreThereWhereTheBandHasRoom(
            int sampleRate, double hz, boolean recorded, boolean flutter, boolean deviation, boolean scrape) {
        Stretch stretch = new Stretch(CarrierBand.of(sampleRate, hz), 0, recorded);
        double rate = stretch.band().rateHz();
        double[] d = new double[(int) Math.ceil(1.1 * rate)];
        double[] p = new double[d.length];
        Arrays.fill(p, 0.1);
        stretch.accept(d, d, p, 0, d.length, false);
        assertThat(stretch.flutter().isPresent()).isEqualTo(flutter);
        assertThat(stretch.deviation().isPresent()).isEqualTo(deviation);
        assertThat(stretch.scrape().isPresent()).isEqualTo(scrape);
        assertThat(stretch.speed().seconds()).isCloseTo(1.1, within(1e-3));
        assertThat(stretch.meanHz()).isCloseTo(hz, ROUNDING);
    }

    /** Twenty gaps are listed with their times, all are counted and summed up. */
    @Test
    void gapsAreListed() {
        Stretch stretch = stretch(false);
        assertThat(stretch.gaps()).isEmpty();
        assertThat(stretch.longestGapSeconds()).isZero();
        for (int i = 0; i < 23; i++) {
            stretch.bridged(1000L * i, i == 7 ? 400 : 100);
        }
        assertThat(stretch.gapCount()).isEqualTo(23);
        assertThat(stretch.gapSeconds()).isCloseTo((22 * 100 + 400) / 4000.0, ROUNDING);
        assertThat(stretch.longestGapSeconds()).isCloseTo(0.1, ROUNDING);
        assertThat(stretch.gaps()).hasSize(20);
        Gap last = stretch.gaps().get(19);
        assertThat(last.fromSeconds()).isCloseTo(stretch.startSeconds() + 19_000 / 4000.0, ROUNDING);
        assertThat(last.toSeconds() - last.fromSeconds()).isCloseTo(0.025, ROUNDING);
        assertThat(stretch.startSeconds()).isBetween(2.5, 2.51); // the delay of the filters
    }

    private static float[] tone(double seconds, double from, double to) {
        float[] x = new float[(int) (seconds * SAMPLE_RATE)];
        for (int i = 0; i < x.length; i++) {
            double t = i / (double) SAMPLE_RATE;
            x[i] = t >= from && t < to ? (float) (0.5 * Math.sin(2 * Math.PI * 3150 * t)) : 0;
        }
        return x;
    }

    /** Windows are 5 ms long, and the first and last ones are left out with what the filters smear. */
    @Test
    void itBeginsAndEndsWithTheTone() {
        float[] x = tone(3, 0.3, 1.2);
        Stretch stretch = stretch(false);
        Outcome outcome = Outcome.GOES_ON;
        int at = 0;
        assertThat(stretch.found()).isFalse();
        for (; at < x.length && outcome == Outcome.GOES_ON; at += 160) {
            outcome = stretch.accept(x, at, 160);
        }
        assertThat(outcome).isEqualTo(Outcome.ENDED);
        assertThat(stretch.found()).isTrue();
        assertThat(at / (double) SAMPLE_RATE).isCloseTo(2.2, within(0.03)); // a second later
        assertThat(stretch.startSeconds()).isCloseTo(2.5 + 0.3, within(0.012));
        assertThat(stretch.endSeconds()).isCloseTo(2.5 + 1.2, within(0.015));
        assertThat(stretch.lengthSeconds()).isCloseTo(stretch.endSeconds() - stretch.startSeconds(), ROUNDING);
        assertThat(stretch.meanHz()).isCloseTo(3150, within(0.01));
        assertThat(stretch.meanPower()).isCloseTo(0.25, within(1e-4));
        assertThat(stretch.gapCount()).isZero();
    }

    /** A gap of 0.1 s is bridged: one window more on either side. */
    @Test
    void aShortGapIsBridged() {
        float[] x = tone(2, 0, 2);
        Arrays.fill(x, SAMPLE_RATE, SAMPLE_RATE + SAMPLE_RATE / 10, 0);
        Stretch stretch = stretch(false);
        assertThat(stretch.accept(x, 0, x.length)).isEqualTo(Outcome.GOES_ON);
        assertThat(stretch.gapCount()).isEqualTo(1);
        Gap gap = stretch.gaps().get(0);
        assertThat(gap.fromSeconds()).isCloseTo(3.5, within(0.015));
        assertThat(gap.toSeconds()).isCloseTo(3.6, within(0.015));
        assertThat(stretch.gapSeconds()).isEqualTo(stretch.longestGapSeconds());
        assertThat(stretch.lengthSeconds()).isCloseTo(2, within(0.03));
    }

    /** Demodulated ahead or not, bit for bit. */
    @Test
    void whatIsDemodulatedAheadIsTheSame() {
        float[] x = tone(4.2, 0.1, 4.2);
        Random random = new Random(2);
        for (int i = 0; i < x.length; i++) {
            x[i] += 0.01f * (random.nextFloat() - 0.5f);
        }
        Stretch ahead = stretch(false);
        Stretch plain = stretch(false);
        for (int at = 0; at + 1200 <= x.length; at += 1200) {
            ahead.demodulate(x, at, 1200);
            for (int part = 0; part < 1200; part += 400) {
                assertThat(ahead.accept(x, at + part, 400)).isEqualTo(Outcome.GOES_ON);
                assertThat(plain.accept(x, at + part, 400)).isEqualTo(Outcome.GOES_ON);
                assertThat(ahead.lengthSeconds()).isEqualTo(plain.lengthSeconds());
            }
        }
        assertThat(ahead.meanHz()).isEqualTo(plain.meanHz());
        assertThat(ahead.meanPower()).isEqualTo(plain.meanPower());
        assertThat(ahead.endSeconds()).isEqualTo(plain.endSeconds());
        FlutterMeter one = ahead.flutter().orElseThrow();
        FlutterMeter other = plain.flutter().orElseThrow();
        assertThat(one.noise().scrapeHz()).isEqualTo(other.noise().scrapeHz());
        assertThat(one.noise().scrapeNoiseHz())
                .isGreaterThan(0)
                .isEqualTo(other.noise().scrapeNoiseHz());
        assertThat(one.secondTone().share()).isEqualTo(other.secondTone().share());
    }

    @ParameterizedTest
    @ValueSource(floats = {Float.NaN, Float.POSITIVE_INFINITY, Float.NEGATIVE_INFINITY})
    void aSampleThatIsNoNumberIsTold(float bad) {
        float[] x = tone(0.4, 0, 0.4);
        x[3200] = bad;
        Stretch stretch = stretch(false);
        assertThat(stretch.accept(x, 0, 3200)).isEqualTo(Outcome.GOES_ON);
        assertThat(stretch.accept(x, 3200, 3200)).isEqualTo(Outcome.NOT_FINITE);
    }
}
