/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Objects;
import java.util.function.Consumer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.fit.CorrelatedMean;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Status;

/** The meter of a tone as a whole, and the scatter of the balance of two: sines at 8 kHz. */
class ToneMeterTest {
    private static final int RATE = 8000;

    private static float[] tone(double hz, double amplitude, double from, double to, double seconds) {
        float[] x = new float[(int) Math.round(seconds * RATE)];
        for (int i = 0; i < x.length; i++) {
            double t = i / (double) RATE;
            x[i] = t >= from && t < to ? (float) (amplitude * Math.sin(2 * Math.PI * hz * t)) : 0;
        }
        return x;
    }

    private static ToneMeter meter() {
        return ToneMeter.builder(RATE).nominalHz(3000).keepDeviation().build();
    }

    @Test
    void badSettingsAreRefusedByName() {
        for (int rate : new int[] {7999, 192_001, 0, -1}) {
            assertThatThrownBy(() -> ToneMeter.builder(rate))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessage("sampleRateHz " + rate + " is not in 8000 to 192000");
        }
        assertThat(ToneMeter.builder(8000).nominalHz(20).nominalHz(3440).build())
                .isNotNull();
        assertThat(ToneMeter.builder(192_000).build()).isNotNull();
        for (double hz : new double[] {19.9, 3441, Double.NaN}) {
            assertThatThrownBy(() -> ToneMeter.builder(8000).nominalHz(hz))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("nominalHz " + hz);
        }
        ToneMeter meter = meter();
        assertThatThrownBy(() -> meter.accept(new float[4], 2, 3)).isInstanceOf(IndexOutOfBoundsException.class);
        assertThatThrownBy(() -> meter.accept(new double[4], 2, 3)).isInstanceOf(IndexOutOfBoundsException.class);
    }

    /** Within 15 % of the nominal frequency, down to 17 Hz; without it from 150 Hz to 75 Hz below half the rate. */
    @Test
    void tonesAreLookedForAroundTheNominalFrequency() {
        assertThat(isFound(ToneMeter.builder(RATE).nominalHz(1000).build(), 1130))
                .isTrue();
        assertThat(isFound(ToneMeter.builder(RATE).nominalHz(1000).build(), 870))
                .isTrue();
        assertThat(isFound(ToneMeter.builder(RATE).nominalHz(1000).build(), 1600))
                .isFalse();
        assertThat(isFound(ToneMeter.builder(RATE).nominalHz(1000).build(), 600))
                .isFalse();
        assertThat(isFound(ToneMeter.builder(RATE).build(), 170)).isTrue();
        assertThat(isFound(ToneMeter.builder(RATE).build(), 120)).isFalse();
        assertThat(isFound(ToneMeter.builder(RATE).build(), 3890)).isTrue();
        assertThat(isFound(ToneMeter.builder(RATE).nominalHz(60).build(), 60)).isTrue();
        assertThat(isFound(ToneMeter.builder(RATE).nominalHz(3440).build(), 3890))
                .isTrue();
    }

    private static boolean isFound(ToneMeter meter, double hz) {
        float[] x = tone(hz, 0.5, 0, 3, 3);
        meter.accept(x, 0, x.length);
        return meter.followedStretch() > 0;
    }

    /** As float, as double, and as one of three channels, in any blocks: the same readings, bit for bit. */
    @ParameterizedTest
    @ValueSource(ints = {1, 641, 30_000})
    void samplesMayComeInAnyForm(int block) {
        float[] x = tone(3010, 0.5, 0.2, 2.8, 3);
        ToneMeter plain = meter();
        plain.accept(x, 0, x.length);
        double[] wide = new double[x.length + 5];
        float[] shifted = new float[x.length + 5];
        float[] three = new float[3 * x.length];
        float[] one = new float[x.length + 2];
        for (int i = 0; i < x.length; i++) {
            wide[i + 5] = x[i];
            shifted[i + 5] = x[i];
            three[3 * i + 1] = x[i];
            three[3 * i] = 0.9f;
            one[i + 2] = x[i];
        }
        ToneMeter doubles = meter();
        ToneMeter floats = meter();
        ToneMeter channel = meter();
        ToneMeter single = meter();
        for (int at = 0; at < x.length; at += block) {
            int length = Math.min(block, x.length - at);
            doubles.accept(wide, 5 + at, length);
            floats.accept(shifted, 5 + at, length);
            channel.accept(three, 3 * at + 1, 3, length);
            single.accept(one, 2 + at, 1, length);
        }
        assertThat(doubles.reading()).isEqualTo(plain.reading());
        assertThat(floats.reading()).isEqualTo(plain.reading());
        assertThat(channel.reading()).isEqualTo(plain.reading());
        assertThat(single.reading()).isEqualTo(plain.reading());
        assertThat(Recordings.value(plain.reading(), Quantity.TONE_FREQUENCY)).isCloseTo(3010, within(0.01));
    }

    /** Nothing is followed before the tone and a second after it; what counts stays. */
    @Test
    void whatIsFollowedAndWhatCounts() {
        float[] x = tone(3010, 0.5, 0.5, 2.5, 6);
        float[] second = tone(2990, 0.25, 4.2, 6, 6);
        for (int i = 0; i < x.length; i++) {
            x[i] += second[i];
        }
        ToneMeter meter = meter();
        meter.accept(x, 0, 3200);
        assertThat(meter.followedHz()).isEmpty();
        assertThat(meter.followedHzSum()).isZero();
        assertThat(meter.followedHzCount()).isZero();
        assertThat(meter.followedPower()).isZero();
        assertThat(meter.followedPowerSum()).isZero();
        assertThat(meter.followedWindows()).isZero();
        assertThat(meter.followedStretch()).isZero();
        assertThat(meter.countingStretch()).isZero();
        assertThat(meter.series()).isEmpty();
        assertThat(meter.deviation()).isEmpty();
        assertThat(meter.scrape()).isEmpty();
        assertThat(meter.runningQuasiPeakPercent()).isEmpty();
        assertThat(meter.isOneTone()).isFalse();
        meter.accept(x, 3200, 16_000 - 3200); // up to 2 s
        assertThat(meter.followedHz().orElseThrow()).isCloseTo(3010, within(0.01));
        assertThat(meter.followedHzSum() / meter.followedHzCount()).isCloseTo(3010, within(0.01));
        assertThat(meter.followedHzCount()).isBetween(5850L, 6000L); // at 4 kHz
        assertThat(meter.followedPower()).isCloseTo(0.25, within(1e-4));
        assertThat(meter.followedPowerSum() / meter.followedWindows()).isCloseTo(0.25, within(1e-4));
        assertThat(meter.followedWindows()).isEqualTo(14);
        assertThat(meter.isOneTone()).isTrue();
        assertThat(meter.followedStretch()).isEqualTo(1);
        assertThat(meter.countingStretch()).isEqualTo(1);
        assertThat(meter.followed()).isNotNull();
        // Samples from rest: the indication is small, and there.
        assertThat(meter.runningQuasiPeakPercent().orElseThrow()).isLessThan(0.01);
        meter.accept(x, 16_000, 13_600);
        assertThat(meter.followedHz()).isEmpty();
        assertThat(meter.runningQuasiPeakPercent()).isEmpty();
        assertThat(meter.countingStretch()).isEqualTo(1);
        assertThat(meter.deviation().orElseThrow().startSeconds()).isCloseTo(0.5, within(0.1));
        meter.accept(x, 29_600, x.length - 29_600);
        assertThat(meter.followedStretch()).isEqualTo(2);
        assertThat(meter.countingStretch()).isEqualTo(1);
        assertThat(Recordings.value(meter.reading(), Quantity.TONE_FREQUENCY)).isCloseTo(3010, within(0.01));
        // Of the tone that is followed, as if the recording had begun with it.
        assertThat(Recordings.value(meter.followedReading(), Quantity.TONE_FREQUENCY))
                .isCloseTo(2990, within(0.01));
        assertThat(meter.followedReading().warnings()).isEmpty();
        assertThat(meter.reading().warnings()).hasSize(1);
    }

    /** The indication is that of a second of tone at least. */
    @Test
    void theIndicationNeedsASecond() {
        ToneMeter meter = meter();
        float[] x = tone(3000, 0.5, 0, 2, 2);
        meter.accept(x, 0, 7200);
        assertThat(meter.followedStretch()).isEqualTo(1);
        assertThat(meter.runningQuasiPeakPercent()).isEmpty();
        meter.accept(x, 7200, 1600);
        assertThat(meter.runningQuasiPeakPercent()).isPresent();
    }

    /** 4 Hz and 0.2 % peak: the indicator shows the peak, the chart the speed, in the time of the recording. */
    @Test
    void indicationAndChartAreThoseOfTheTone() {
        float[] x = new float[10 * RATE];
        for (int i = 0; i < x.length; i++) {
            double t = i / (double) RATE;
            x[i] = (float) (0.5 * Math.sin(2 * Math.PI * 3030 * t - 0.002 * 3030 / 4 * Math.cos(2 * Math.PI * 4 * t)));
        }
        ToneMeter meter = meter();
        meter.accept(x, 0, x.length);
        // The detector falls between crests by some per cent.
        assertThat(meter.runningQuasiPeakPercent().orElseThrow()).isCloseTo(0.2, within(0.01));
        FlutterSeries series = meter.series().orElseThrow();
        // The first cell that has settled, less the delay of the low-pass of 470 Hz, 1.7 ms.
        double start = Objects.requireNonNull(meter.followed()).startSeconds();
        assertThat(series.seconds()[0]).isCloseTo(start + 3.05 - 0.0017, within(0.0005));
        double highest = 0;
        for (double percent : series.speedHighPercent()) {
            highest = Math.max(highest, percent);
        }
        assertThat(highest).isCloseTo(0.2, within(0.004));
        DeviationSeries deviation = meter.deviation().orElseThrow();
        int at = 4321; // any moment
        double t = deviation.startSeconds() + at / deviation.rateHz();
        assertThat(deviation.value(at)).isCloseTo(0.002 * Math.sin(2 * Math.PI * 4 * t), within(2e-6));
        assertThat(ToneMeter.builder(RATE).build().deviation()).isEmpty();
        ToneMeter forgetful = ToneMeter.builder(RATE).nominalHz(3000).build();
        forgetful.accept(x, 0, x.length);
        assertThat(forgetful.deviation()).isEmpty();
        assertThat(forgetful.series()).isPresent();
    }

    @Test
    void theScrapeSpectrumIsThatOfTheStretch() {
        int rate = 16_000;
        ToneMeter meter =
                ToneMeter.builder(rate).nominalHz(3150).keepDeviation().build();
        float[] x = new float[3 * rate];
        for (int i = 0; i < x.length; i++) {
            double t = i / (double) rate;
            x[i] = (float)
                    (0.5 * Math.sin(2 * Math.PI * 3150 * t - 0.001 * 3150 / 500 * Math.cos(2 * Math.PI * 500 * t)));
        }
        meter.accept(x, 0, x.length);
        assertThat(meter.scrape().orElseThrow().rmsPercent()).isCloseTo(0.1 / Math.sqrt(2), within(0.001));
    }

    @Test
    void afterAResetItIsAsNew() {
        ToneMeter meter = meter();
        float[] x = tone(3010, 0.5, 0.1, 2, 2);
        float[] other = tone(2900, 0.9, 0, 4, 4);
        meter.accept(other, 0, other.length);
        meter.accept(new float[10_000], 0, 10_000); // ended, and chosen
        meter.reset();
        assertThat(meter.countingStretch()).isZero();
        assertThat(meter.reading().readings()).allMatch(reading -> reading.status() == Status.NO_CARRIER);
        meter.accept(x, 0, x.length);
        ToneMeter fresh = meter();
        fresh.accept(x, 0, x.length);
        assertThat(meter.reading()).isEqualTo(fresh.reading());
    }

    private static double level(int channel, int window) {
        double common = 1 + 0.3 * Math.sin(1.7 * window);
        return 0.3 * common * (channel == 0 ? 1 : 1.2 + 0.1 * Math.sin(2.3 * window));
    }

    /** Feeds two channels whose levels change every 0.1 s, and looks after each. */
    private static void feed(ToneMeter first, ToneMeter second, int windows, Consumer<Integer> look) {
        for (int window = 0; window < windows; window++) {
            float[][] x = new float[2][RATE / 10];
            for (int channel = 0; channel < 2; channel++) {
                for (int i = 0; i < x[channel].length; i++) {
                    int at = window * x[channel].length + i;
                    x[channel][i] =
                            (float) (level(channel, window) * Math.sin(2 * Math.PI * 3000 * at / (double) RATE));
                }
            }
            first.accept(x[0], 0, x[0].length);
            second.accept(x[1], 0, x[1].length);
            look.accept(window);
        }
    }

    /** The differences of the levels, in dB, of windows that have come on both channels; what both have in common drops out. */
    @Test
    void theScatterOfTheBalanceIsThatOfTheDifferences() {
        ToneMeter first = meter();
        ToneMeter second = meter();
        BalanceScatter scatter = new BalanceScatter();
        CorrelatedMean expected = new CorrelatedMean();
        double[] sums = new double[4];
        feed(first, second, 60, window -> {
            scatter.accept(first, second);
            scatter.accept(first, second); // nothing new
            double one = first.followedPowerSum() - sums[0];
            double other = second.followedPowerSum() - sums[1];
            double ofOne = first.followedWindows() - sums[2];
            double ofOther = second.followedWindows() - sums[3];
            if (ofOne > 0 && ofOther > 0) {
                expected.add(10 * Math.log10((other / ofOther) / (one / ofOne)));
                sums[0] += one;
                sums[1] += other;
                sums[2] += ofOne;
                sums[3] += ofOther;
            }
        });
        double uncertainty = scatter.uncertainty().orElseThrow().value();
        assertThat(uncertainty).isCloseTo(expected.scatter().orElseThrow().standardUncertainty(), within(1e-9));
        assertThat(scatter.uncertainty().orElseThrow().degreesOfFreedom())
                .isCloseTo(expected.scatter().orElseThrow().degreesOfFreedom(), within(1e-6));
        scatter.reset();
        assertThat(scatter.uncertainty()).isEmpty();
        scatter.accept(first, second);
        assertThat(scatter.uncertainty()).isEmpty();
    }

    /** Another stretch of tone on either channel begins anew. */
    @ParameterizedTest
    @ValueSource(booleans = {true, false})
    void anotherStretchBeginsAnew(boolean ofFirst) {
        ToneMeter first = meter();
        ToneMeter second = meter();
        BalanceScatter scatter = new BalanceScatter();
        feed(first, second, 10, window -> scatter.accept(first, second));
        assertThat(scatter.uncertainty()).isPresent();
        (ofFirst ? first : second).reset();
        scatter.accept(first, second);
        assertThat(scatter.uncertainty()).isEmpty();
    }

    /** A weaker tone that is longer at the next look than the first was has a smaller sum of more windows: no mean of either. */
    @Test
    void aLongerStretchBeginsAnewToo() {
        ToneMeter first = meter();
        ToneMeter second = meter();
        BalanceScatter scatter = new BalanceScatter();
        feed(first, second, 10, window -> scatter.accept(first, second));
        float[] weaker = new float[6 * RATE];
        for (int i = RATE; i < weaker.length; i++) {
            weaker[i] = (float) (0.01 * Math.sin(2 * Math.PI * 2800 * i / (double) RATE));
        }
        first.accept(weaker, 0, weaker.length);
        second.accept(weaker, 0, weaker.length);
        assertThat(first.followedStretch()).isEqualTo(2);
        for (int look = 0; look < 10; look++) {
            first.accept(weaker, RATE, RATE / 10);
            second.accept(weaker, RATE, RATE / 10);
            scatter.accept(first, second);
        }
        // Both channels are the same.
        assertThat(scatter.uncertainty().orElseThrow().value()).isCloseTo(0, within(1e-9));
    }
}
