/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.detector.Ballistics;
import org.tapemetrology.core.detector.HighestScatter;
import org.tapemetrology.core.detector.TwoStagePeakDetector;
import org.tapemetrology.core.filter.Butterworth;
import org.tapemetrology.core.filter.FirDesign;
import org.tapemetrology.core.filter.HalfBandDecimator;
import org.tapemetrology.core.filter.HalfBandInterpolator;
import org.tapemetrology.core.filter.MatchedFilter;
import org.tapemetrology.core.filter.Oversampler;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.fit.LongRunMean;
import org.tapemetrology.core.quantity.StandardUncertainty;
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
    @CsvSource({"1, 60", "1, 66", "1, 70", "1, 90"})
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

    /** With odd and even numbers of taps; from nine on the history is longer than a lane. */
    @ParameterizedTest
    @CsvSource({"30, 4", "60, 8", "66, 9", "80, 11", "90, 12"})
    void decimatorIsThePlainOne(double attenuation, int taps) {
        double[] sides = FirDesign.halfBandSides(0.375, attenuation, 1);
        assertThat(sides).hasSize(taps);
        double[] x = noise(8 * FRAME);
        double[] expected = new double[x.length / 2 + 1];
        int count = new HalfBandDecimator(0.375, attenuation, 1).process(x, 0, x.length, expected, 0);
        LaneFrame in = new LaneFrame(LANES, LENGTH, LaneDecimator.historyFor(sides));
        LaneDecimator halving = new LaneDecimator(in, sides, 5);
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
        // Rows before 0 of the last frame are the samples before it.
        for (int k = 1; k <= 5; k++) {
            assertThat(halving.out().row(-k)[0]).isEqualTo(out[out.length - FRAME / 2 - k]);
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

    private static double[] frames(double[] x, int frame) {
        return Arrays.copyOfRange(x, frame * FRAME, (frame + 1) * FRAME);
    }

    /** Decibels of the scatter of a mean: of a power 4.34 times the relative one, of a magnitude 8.69 times. */
    private static double decibels(LongRunMean values, double ofRelative) {
        return ofRelative / Math.log(10) * values.uncertainty().orElseThrow().value() / values.mean();
    }

    /** Weighting, oversampler and detector of ITU-R BS.468-4 as three plain stages in a row, and again after a reset. */
    @ParameterizedTest
    @ValueSource(doubles = {44_100, 192_000})
    void quasiPeakPathIsThreePlainStages(double rate) {
        double[] x = noise(60 * FRAME);
        for (int i = x.length / 2; i < x.length / 2 + 400; i++) {
            x[i] *= 5; // a burst
        }
        MatchedFilter weighting = new MatchedFilter(ItuRBs468Edition4.weighting(), rate);
        Oversampler oversampler = Oversampler.beforeRectifier(rate);
        double[] weighted = new double[x.length];
        int count = weighting.process(x, 0, x.length, weighted, 0);
        double[] plain = new double[x.length * oversampler.factor()];
        int produced = oversampler.process(weighted, 0, count, plain, 0);
        double[] plainInput = plain.clone();
        ItuRBs468Edition4.quasiPeakDetector(oversampler.outputRateHz()).process(plain, 0, plain, 0, produced);
        double highest = Arrays.stream(plain, 0, produced).max().orElseThrow();
        double mean = Arrays.stream(plain, 0, produced).average().orElseThrow();
        int highestAt = IntStream.range(0, produced)
                .filter(i -> plain[i] == highest)
                .findFirst()
                .orElseThrow();
        LaneFrame in = new LaneFrame(LANES, LENGTH, 0);
        QuasiPeakPath path = new QuasiPeakPath(in, rate, 0, 0);
        for (int pass = 0; pass < 2; pass++) {
            for (int f = 0; f < 60; f++) {
                in.take(frames(x, f));
                path.process();
            }
            // Groups of 16 samples; the oversampler's delay is a few samples of 30 720.
            assertThat(path.highestIndication() / highest).isCloseTo(1, within(2e-3));
            assertThat(path.meanIndication() / mean).isCloseTo(1, within(2e-3));
            assertThat(path.highestAtSeconds())
                    .isCloseTo(highestAt / oversampler.outputRateHz(), within(2e-3)); // a flat top
            double magnitude = Arrays.stream(plainInput, 0, produced)
                    .map(Math::abs)
                    .average()
                    .orElseThrow();
            assertThat(path.meanMagnitude() / magnitude).isCloseTo(1, within(2e-3));
            assertThat(path.indicationUncertainty()).isPresent();
            assertThat(path.highestUncertainty()).isPresent();
            assertThat(path.magnitudeUncertainty()).isPresent();
            double first = path.highestIndication();
            path.reset();
            assertThat(path.indicationUncertainty()).isEmpty();
            assertThat(path.highestUncertainty()).isEmpty();
            assertThat(path.magnitudeUncertainty()).isEmpty();
            in.take(new double[FRAME]);
            path.process();
            assertThat(path.highestIndication()).isZero(); // nothing is left of it
            path.reset();
            assertThat(first).isPositive();
        }
    }

    /** The scatter that is told is that of the plain detector's means of frames, and of its highest of 16 frames. */
    @Test
    void detectorsScatterIsThatOfThePlainOne() {
        double rate = 160_000;
        double[] x = noise(100 * FRAME);
        double[] plain = new double[x.length];
        TwoStagePeakDetector reference =
                new TwoStagePeakDetector(rate, ItuRBs468Edition4.FIRST_STAGE, ItuRBs468Edition4.SECOND_STAGE);
        reference.process(x, 0, plain, 0, x.length);
        LaneFrame in = new LaneFrame(LANES, LENGTH, 0);
        // Ten frames of settling for the indication, twenty for the average.
        LaneQuasiPeak detector = new LaneQuasiPeak(
                in,
                rate,
                ItuRBs468Edition4.FIRST_STAGE,
                ItuRBs468Edition4.SECOND_STAGE,
                10 * FRAME / rate,
                20 * FRAME / rate);
        LongRunMean indications = new LongRunMean();
        LongRunMean magnitudes = new LongRunMean();
        HighestScatter pieces = new HighestScatter();
        double highest = 0;
        double ofPiece = 0;
        for (int f = 0; f < 100; f++) {
            in.take(frames(x, f));
            detector.process();
            if (f == 9) {
                assertThat(detector.meanIndication()).isNaN();
                assertThat(detector.highestIndication()).isEqualTo(Double.NEGATIVE_INFINITY);
                assertThat(detector.meanMagnitude()).isNaN();
            }
            double ofFrame = Arrays.stream(frames(plain, f)).max().orElseThrow();
            if (f >= 10) {
                indications.add(Arrays.stream(frames(plain, f)).average().orElseThrow());
                ofPiece = Math.max(ofPiece, ofFrame);
                highest = Math.max(highest, ofFrame);
                if ((f - 10) % 16 == 15) {
                    pieces.add(ofPiece);
                    ofPiece = 0;
                }
            }
            if (f >= 20) {
                magnitudes.add(
                        Arrays.stream(frames(x, f)).map(Math::abs).average().orElseThrow());
            }
        }
        // The indication is taken once a group of 16 samples, the magnitudes with weights that differ by 0.03 %.
        assertThat(detector.meanIndication() / indications.mean()).isCloseTo(1, within(1e-3));
        assertThat(detector.meanMagnitude() / magnitudes.mean()).isCloseTo(1, within(1e-4));
        double expected = decibels(indications, 20);
        assertThat(detector.indicationUncertainty().orElseThrow().value()).isCloseTo(expected, within(0.01 * expected));
        expected = decibels(magnitudes, 20);
        assertThat(detector.magnitudeUncertainty().orElseThrow().value()).isCloseTo(expected, within(0.01 * expected));
        expected = pieces.of(highest, 1, 1).orElseThrow().value() * 20 / Math.log(10) / highest;
        assertThat(detector.highestUncertainty().orElseThrow().value()).isCloseTo(expected, within(0.02 * expected));
        final List<StandardUncertainty> scatter = List.of(
                detector.indicationUncertainty().orElseThrow(),
                detector.magnitudeUncertainty().orElseThrow(),
                detector.highestUncertainty().orElseThrow());
        detector.reset();
        in.take(new double[FRAME]);
        for (int f = 0; f < 40; f++) {
            detector.process();
        }
        assertThat(detector.highestIndication()).isZero();
        assertThat(detector.meanMagnitude()).isZero();
        assertThat(detector.highestAtSeconds()).isEqualTo(10 * FRAME / rate);
        assertThat(detector.indicationUncertainty()).isEmpty();
        detector.reset();
        for (int f = 0; f < 100; f++) {
            in.take(frames(x, f));
            detector.process();
        }
        // As if there had been nothing before, silence included.
        assertThat(List.of(
                        detector.indicationUncertainty().orElseThrow(),
                        detector.magnitudeUncertainty().orElseThrow(),
                        detector.highestUncertainty().orElseThrow()))
                .isEqualTo(scatter);
    }

    /** Silence ends in zero, not in subnormal numbers. */
    @Test
    void silenceIsZero() {
        LaneFrame in = new LaneFrame(LANES, LENGTH, 0);
        LaneSections filter = new LaneSections(Butterworth.band(3, 2000, 10_000, 48_000), LANES, LENGTH);
        LaneQuasiPeak detector =
                new LaneQuasiPeak(in, 160_000, new Ballistics(1e-4, 1e-4), new Ballistics(1e-4, 1e-4), 0, 0);
        SerialBandPower power = new SerialBandPower(Iec61260Edition2014.bandFilter(10, 48_000), 0);
        in.take(noise(FRAME));
        power.process(noise(FRAME), FRAME);
        for (int f = 0; f < 40; f++) {
            filter.process(in);
            detector.process();
            in.take(new double[FRAME]);
        }
        assertThat(order(filter)).containsOnly(0);
        double squares = power.rms();
        assertThat(squares).isPositive();
        for (int f = 0; f < 40; f++) {
            power.process(new double[FRAME], FRAME);
        }
        power.reset();
        power.process(new double[FRAME], FRAME);
        assertThat(power.rms()).isZero();
    }

    /** Scatter of the powers of frames after the settling, and the same again after a reset. */
    @Test
    void scatterOfPowerIsThatOfTheFrames() {
        double rate = 48_000;
        double[] x = noise(40 * FRAME);
        SecondOrderSections plain = Butterworth.highPass(4, 2000, rate);
        double[] y = new double[x.length];
        plain.process(x, 0, y, 0, x.length);
        SecondOrderSections plainBand = Iec61260Edition2014.bandFilter(5, rate);
        double[] z = new double[x.length];
        plainBand.process(x, 0, z, 0, x.length);
        LongRunMean powers = new LongRunMean();
        LongRunMean bandPowers = new LongRunMean();
        for (int f = 3; f < 40; f++) {
            powers.add(Arrays.stream(frames(y, f)).map(v -> v * v).average().orElseThrow());
            bandPowers.add(Arrays.stream(frames(z, f)).map(v -> v * v).average().orElseThrow());
        }
        LaneFrame in = new LaneFrame(LANES, LENGTH, 0);
        WeightedPower power = new WeightedPower(in, Butterworth.highPass(4, 2000, rate), 2.5 * FRAME / rate);
        SerialBandPower band = new SerialBandPower(Iec61260Edition2014.bandFilter(5, rate), 3 * FRAME / rate);
        assertThat(power.rms()).isNaN();
        for (int pass = 0; pass < 2; pass++) {
            for (int f = 0; f < 40; f++) {
                in.take(frames(x, f));
                power.process();
                band.process(frames(x, f), FRAME);
            }
            double expected = decibels(powers, 10);
            assertThat(power.rms()).isCloseTo(Math.sqrt(powers.mean()), within(1e-9)); // rounding
            assertThat(power.decibelUncertainty().orElseThrow().value()).isCloseTo(expected, within(1e-6));
            expected = decibels(bandPowers, 10);
            assertThat(band.rms()).isCloseTo(Math.sqrt(bandPowers.mean()), within(1e-9));
            assertThat(band.decibelUncertainty().orElseThrow().value()).isCloseTo(expected, within(1e-6));
            power.reset();
            band.reset();
            in.take(new double[FRAME]);
            for (int f = 0; f < 4; f++) { // nothing is left of it
                power.process();
                band.process(new double[FRAME], FRAME);
            }
            assertThat(power.rms()).isZero();
            assertThat(band.rms()).isZero();
            power.reset();
            band.reset();
            assertThat(power.rms()).isNaN();
            assertThat(power.decibelUncertainty()).isEmpty();
            assertThat(band.decibelUncertainty()).isEmpty();
        }
        assertThatThrownBy(() -> new SerialBandPower(Butterworth.highPass(8, 2000, rate), 0))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("section 0");
    }

    /** Without settling the first frame after a reset counts, and there is nothing in it of what was before. */
    @Test
    void aResetLeavesNothingInTheFilter() {
        LaneFrame in = new LaneFrame(LANES, LENGTH, 0);
        WeightedPower power = new WeightedPower(in, Butterworth.highPass(4, 20, 48_000), 0);
        in.take(noise(FRAME));
        power.process();
        assertThat(power.rms()).isPositive();
        power.reset();
        in.take(new double[FRAME]);
        power.process();
        assertThat(power.rms()).isZero();
    }

    @Test
    void historyFitsIntoTheFrame() {
        assertThatThrownBy(() -> new LaneFrame(4, 8, 25))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("history 25 is longer than the frame of 32");
        LaneFrame frame = new LaneFrame(4, 8, 24);
        assertThat(frame.lanes()).isEqualTo(4);
        double[] one = IntStream.rangeClosed(1, 32).asDoubleStream().toArray();
        frame.take(one);
        frame.carry();
        double[] two = IntStream.rangeClosed(33, 64).asDoubleStream().toArray();
        frame.take(two);
        frame.carry();
        for (int k = 1; k <= 24; k++) {
            // The first lane begins with 33, the others eight later each.
            assertThat(frame.row(-k)).containsExactly(33 - k, 41 - k, 49 - k, 57 - k);
        }
        frame.reset();
        frame.take(one);
        frame.carry();
        assertThat(frame.row(-1)).containsExactly(0, 8, 16, 24);
    }
}
