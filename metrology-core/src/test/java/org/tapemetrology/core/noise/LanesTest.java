/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.detector.TwoStagePeakDetector;
import org.tapemetrology.core.filter.Butterworth;
import org.tapemetrology.core.filter.FirDesign;
import org.tapemetrology.core.filter.HalfBandDecimator;
import org.tapemetrology.core.filter.HalfBandInterpolator;
import org.tapemetrology.core.filter.MatchedFilter;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.standard.Iec61260Edition2014;
import org.tapemetrology.core.standard.Iec61672Edition2013;
import org.tapemetrology.core.standard.ItuRBs468Edition4;

/** What works crosswise gives what the plain filters and detectors give sample by sample. */
class LanesTest {
    private static final int LANES = 16;
    private static final int LENGTH = 32;
    private static final int FRAME = LANES * LENGTH;

    private static double[] noise(int length) {
        Random random = new Random(5);
        double[] x = new double[length];
        for (int i = 0; i < length; i++) {
            x[i] = random.nextGaussian() + Math.sin(i * 1e-3);
        }
        return x;
    }

    private static double[] order(LaneSections filter) {
        LaneFrame frame = new LaneFrame(LANES, LENGTH, 0);
        for (int t = 0; t < LENGTH; t++) {
            frame.share(t, filter.row(t));
        }
        double[] out = new double[FRAME];
        frame.give(out);
        return out;
    }

    @ParameterizedTest
    @ValueSource(doubles = {8000, 48000, 192000})
    void sectionsFilterLikeThePlainOnes(double rate) {
        assertSame(Iec61260Edition2014.bandFilter(-3, rate));
        assertSame(Butterworth.highPass(4, 22.4, rate));
        assertSame(Butterworth.band(3, 30, 0.4 * rate, rate));
        assertSame(Iec61672Edition2013.aWeighting().bilinear(rate));
        assertSame(ItuRBs468Edition4.weighting().bilinear(rate));
    }

    private static void assertSame(SecondOrderSections plain) {
        double[] x = noise(20 * FRAME);
        double[] expected = new double[x.length];
        plain.process(x, 0, expected, 0, x.length);
        LaneFrame in = new LaneFrame(LANES, LENGTH, 0);
        LaneSections filter = new LaneSections(plain, LANES, LENGTH);
        for (int pass = 0; pass < 2; pass++) { // the second one after a reset
            for (int at = 0; at < x.length; at += FRAME) {
                in.take(Arrays.copyOfRange(x, at, at + FRAME));
                filter.process(in);
                // Rounding of 1e-16, some hundreds of times, which the double pole of the A weighting at 20 Hz
                // multiplies
                // by up to (fs / (2 pi f))^2 = 2e6: -140 dB.
                assertThat(order(filter)).containsExactly(Arrays.copyOfRange(expected, at, at + FRAME), within(1e-7));
            }
            filter.reset();
        }
    }

    @ParameterizedTest
    @CsvSource({"1, 60", "1, 70", "1, 90"})
    void interpolatorIsThePlainOne(double rate, double attenuation) {
        double[] sides = FirDesign.halfBandSides(0.4 * rate, attenuation, rate);
        double[] x = noise(8 * FRAME);
        double[] expected = new double[2 * x.length];
        int count = new HalfBandInterpolator(0.4 * rate, attenuation, rate).process(x, 0, x.length, expected, 0);
        LaneFrame in = new LaneFrame(LANES, LENGTH, LaneInterpolator.historyFor(sides));
        LaneInterpolator doubling = new LaneInterpolator(in, sides, 7);
        double[] out = new double[2 * x.length];
        double[] part = new double[2 * FRAME];
        for (int at = 0; at < x.length; at += FRAME) {
            in.take(Arrays.copyOfRange(x, at, at + FRAME));
            in.carry();
            doubling.process();
            doubling.out().give(part);
            System.arraycopy(part, 0, out, 2 * at, part.length);
        }
        // The plain one waits for a whole filter of input, the other starts from zeros; both add the same terms.
        int late = out.length - count;
        assertThat(late).isEqualTo(4 * sides.length - 2);
        for (int i = 0; i < count; i++) {
            assertThat(out[late + i]).isCloseTo(expected[i], within(1e-14));
        }
        // Rows before 0 of the last frame are the samples before it.
        for (int k = 1; k <= 7; k++) {
            assertThat(doubling.out().row(-k)[0]).isEqualTo(out[out.length - 2 * FRAME - k]);
            assertThat(doubling.out().row(-k)[3]).isEqualTo(out[out.length - 2 * FRAME + 3 * 2 * LENGTH - k]);
        }
    }

    @Test
    void decimatorIsThePlainOneThoughItsHistoryIsLongerThanALane() {
        double[] sides = FirDesign.halfBandSides(0.375, 90, 1);
        double[] x = noise(8 * FRAME);
        double[] expected = new double[x.length / 2 + 1];
        int count = new HalfBandDecimator(0.375, 90, 1).process(x, 0, x.length, expected, 0);
        assertThat(LaneDecimator.historyFor(sides)).isGreaterThan(LENGTH);
        LaneFrame in = new LaneFrame(LANES, LENGTH, LaneDecimator.historyFor(sides));
        LaneDecimator halving = new LaneDecimator(in, sides, 0);
        double[] out = new double[x.length / 2];
        double[] part = new double[FRAME / 2];
        for (int at = 0; at < x.length; at += FRAME) {
            in.take(Arrays.copyOfRange(x, at, at + FRAME));
            in.carry();
            halving.process();
            halving.out().give(part);
            System.arraycopy(part, 0, out, at / 2, part.length);
        }
        int late = out.length - count;
        for (int i = 0; i < count; i++) {
            assertThat(out[late + i]).isCloseTo(expected[i], within(1e-14));
        }
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 0.003, 0.5})
    void serialBandHasThePowerOfThePlainFilter(double settling) {
        double rate = 3000;
        SecondOrderSections plain = Iec61260Edition2014.bandFilter(-8, rate);
        double[] x = noise(9000);
        double[] y = new double[x.length];
        plain.process(x, 0, y, 0, x.length);
        SerialBandPower power = new SerialBandPower(plain, settling);
        for (int at = 0; at < x.length; at += 90) {
            power.process(Arrays.copyOfRange(x, at, at + 90), 90);
        }
        double squares = 0;
        int from = (int) Math.round(settling * rate);
        for (int i = from; i < y.length; i++) {
            squares += y[i] * y[i];
        }
        assertThat(power.rms() / Math.sqrt(squares / (y.length - from))).isCloseTo(1, within(1e-12)); // rounding
    }

    @ParameterizedTest
    @ValueSource(doubles = {160000, 192000, 256000})
    void detectorIndicatesWhatThePlainOneDoes(double rate) {
        // Steady noise, a burst that rises through the whole range of the first stage, silence and a faint rest.
        double[] x = noise((int) Math.floor(rate / FRAME) * FRAME);
        for (int i = 0; i < x.length; i++) {
            double t = i / rate;
            x[i] *= t < 0.4 ? 0.01 : t < 0.405 ? 1 : t < 0.7 ? 0 : 0.001;
        }
        double[] plain = new double[x.length];
        new TwoStagePeakDetector(rate, ItuRBs468Edition4.FIRST_STAGE, ItuRBs468Edition4.SECOND_STAGE)
                .process(x, 0, plain, 0, x.length);
        LaneFrame in = new LaneFrame(LANES, LENGTH, 0);
        LaneQuasiPeak detector =
                new LaneQuasiPeak(in, rate, ItuRBs468Edition4.FIRST_STAGE, ItuRBs468Edition4.SECOND_STAGE, 0.1, 0);
        for (int at = 0; at < x.length; at += FRAME) {
            in.take(Arrays.copyOfRange(x, at, at + FRAME));
            detector.process();
        }
        double sum = 0;
        double highest = 0;
        int highestAt = 0;
        int from = (int) Math.ceil(0.1 * rate / 16) * 16;
        double magnitudes = 0;
        for (int i = 0; i < x.length; i++) {
            magnitudes += Math.abs(x[i]);
            if (i >= from) {
                sum += plain[i];
                if (plain[i] > highest) {
                    highest = plain[i];
                    highestAt = i;
                }
            }
        }
        // The second stage sees the first up to a group of 16 samples, 0.1 ms, late, of its own 141 ms.
        assertThat(detector.meanIndication() / (sum / (x.length - from))).isCloseTo(1, within(1e-3));
        assertThat(detector.highestIndication() / highest).isCloseTo(1, within(1e-3));
        assertThat(detector.highestAtSeconds()).isCloseTo(highestAt / rate, within(2e-3)); // a flat top
        // Weights of a group that differ by 0.03 %, on a burst whose magnitude falls within one.
        assertThat(detector.meanMagnitude() / (magnitudes / x.length)).isCloseTo(1, within(1e-5));
    }

    @Test
    void largestMagnitudeIsTheLargest() {
        double[] y = new double[4];
        Lanes.largestMagnitude(
                y, new double[] {1, 0, -3, 0}, new double[] {-4, 0, 2, 0}, new double[] {2, 0, 1, 0}, new double[] {
                    0, 0, 0, -5
                });
        assertThat(y).containsExactly(4, 0, 3, 5);
    }

    @Test
    void weightingsOfTheMeterAreTheMatchedOnes() {
        MatchedFilter filter = new MatchedFilter(Iec61672Edition2013.aWeighting(), 48000);
        double[] x = noise(20 * FRAME);
        double[] expected = new double[x.length];
        filter.process(x, 0, x.length, expected, 0);
        LaneFrame in = new LaneFrame(LANES, LENGTH, 0);
        WeightedPower power = new WeightedPower(in, filter.sections(), 0.1);
        int skipped = (int) Math.ceil(4800.0 / FRAME) * FRAME;
        double squares = 0;
        for (int i = 0; i < x.length; i++) {
            squares += i < skipped ? 0 : expected[i] * expected[i];
        }
        for (int at = 0; at < x.length; at += FRAME) {
            in.take(Arrays.copyOfRange(x, at, at + FRAME));
            power.process();
        }
        assertThat(power.rms() / Math.sqrt(squares / (x.length - skipped))).isCloseTo(1, within(1e-9)); // rounding
    }
}
