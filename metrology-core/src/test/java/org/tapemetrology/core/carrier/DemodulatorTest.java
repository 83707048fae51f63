/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.filter.FirDesign;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Sine;

/** The demodulator alone: what it stops, how true it is to the deviation, and its kernel against the plain formula. */
class DemodulatorTest {

    @ParameterizedTest(name = "{0} Hz, tone of {1} Hz")
    @CsvSource({
        "8000, 3150",
        "11025, 2772",
        "16000, 3528",
        "44100, 3150",
        "48000, 2772",
        "48000, 3150",
        "96000, 3528",
        "192000, 3150",
        "44100, 12500",
        "96000, 12500",
        "48000, 1000",
        "16000, 1000",
        "48000, 315"
    })
    void everythingOutsideTheBandIs100DecibelsDown(int rate, double tone) {
        CarrierBand band = CarrierBand.of(rate, tone);
        double worst = 0;
        double step = Math.max(5, rate / 3000.0);
        for (double f = 0; f < rate / 2.0; f += step) {
            if (Math.abs(f - tone) > band.stopHz()) {
                worst = Math.max(worst, response(band, f));
            }
        }
        assertThat(20 * Math.log10(worst)).isLessThan(-100);
        // In the pass band it is flat within the ripple of 105 dB stages: 0.0001 dB.
        for (double share = -0.95; share <= 0.95; share += 0.05) {
            assertThat(20 * Math.log10(response(band, tone + share * band.passHz())))
                    .isCloseTo(0, within(0.0005));
        }
    }

    /** Magnitude of the envelope for a tone of amplitude 1, from all stages' taps, the image of the tone included. */
    private static double response(CarrierBand band, double f) {
        return Math.max(allStages(band, f), allStages(band, -f));
    }

    private static double allStages(CarrierBand band, double f) {
        double magnitude = 1;
        List<double[]> halvings = Demodulator.halvings(band);
        for (int i = 0; i < halvings.size(); i++) {
            magnitude *= FirDesign.magnitude(PhaseHalver.taps(halvings.get(i)), f, band.halvedRateHz(i));
        }
        double beat = f - band.toneHz();
        double rate = band.halvedRateHz(halvings.size());
        magnitude *= FirDesign.magnitude(Demodulator.tapsBehindHalvings(band), beat, rate);
        if (band.secondFactor() == 1) {
            return magnitude;
        }
        double[] second =
                FirDesign.lowPass(band.passHz(), band.stopHz(), CarrierBand.ATTENUATION_DB, band.firstRateHz());
        return magnitude * FirDesign.magnitude(second, beat, band.firstRateHz());
    }

    @ParameterizedTest(name = "{0} Hz deviation at {1} Hz, {2} off speed")
    @CsvSource({
        "0.1, 48000, 0",
        "1, 8000, -0.12",
        "4, 44100, 0.12",
        "20, 48000, 0.1",
        "100, 8000, 0.1",
        "200, 8000, 0",
        "200, 11025, -0.1",
        "200, 48000, 0.12",
        "200, 192000, -0.12",
        "1000, 48000, 0"
    })
    void deviationIsTrueWithin005Percent(double rateOfDeviation, int rate, double offSpeed) {
        double peak = 0.001;
        FmTone tone = FmTone.builder(3150)
                .amplitude(0.5)
                .speedError(offSpeed)
                .sine(rateOfDeviation, peak)
                .build();
        double tuned = Math.rint(tone.steadyHz()) + 3; // as far off as a finder may be
        CarrierBand band = CarrierBand.of(rate, tuned);
        Demodulator demodulator = new Demodulator(band);
        double seconds = Math.max(2, 3 / rateOfDeviation);
        float[] samples = new float[(int) (seconds * rate)];
        SampledSignal.of(tone, rate).fill(0, samples, 0, samples.length);
        int most = demodulator.mostOutputs(samples.length);
        double[] deviation = new double[most];
        int count = demodulator.process(samples, 0, samples.length, deviation, new double[most], new double[most]);
        double amplitude = amplitudeOf(rateOfDeviation, deviation, count, band.rateHz());
        double expected = peak * tone.steadyHz();
        double tolerance = rateOfDeviation <= 200 ? 0.0005 : 0.01; // beyond 200 Hz only scrape flutter is read
        assertThat(amplitude).isCloseTo(expected, within(tolerance * expected));
    }

    /** How many outputs a recording gives is known beforehand, whatever blocks it comes in. */
    @ParameterizedTest
    @CsvSource({"8000, 3150", "44100, 3150", "48000, 3150", "192000, 3150", "48000, 315", "48000, 50", "96000, 12500"})
    void numberOfOutputsIsKnown(int rate, double hz) {
        Demodulator demodulator = new Demodulator(CarrierBand.of(rate, hz));
        Random random = new Random(rate);
        float[] samples = new float[rate / 7];
        int most = demodulator.mostOutputs(samples.length);
        double[] deviation = new double[most];
        long taken = 0;
        long given = 0;
        while (taken < rate / 2) {
            int length = random.nextInt(random.nextBoolean() ? samples.length : 40);
            given += demodulator.process(samples, 0, length, deviation, new double[most], new double[most]);
            taken += length;
            assertThat(given).isEqualTo(demodulator.outputsOf(taken));
        }
        assertThat(given).isPositive();
    }

    /** Amplitude of a sine of known rate by projection over whole periods. */
    private static double amplitudeOf(double f, double[] values, int count, double rate) {
        int periods = (int) (count * f / rate);
        int n = (int) Math.round(periods * rate / f);
        double mean = 0;
        for (int i = 0; i < n; i++) {
            mean += values[i] / n;
        }
        double re = 0;
        double im = 0;
        for (int i = 0; i < n; i++) {
            double angle = 2 * Math.PI * f * i / rate;
            re += (values[i] - mean) * Math.cos(angle);
            im += (values[i] - mean) * Math.sin(angle);
        }
        return 2 * Math.hypot(re, im) / n;
    }

    /** Arrays of the size that is asked for are enough for every block, and hardly more than that; the outputs are the same. */
    @ParameterizedTest(name = "{0} Hz, tone of {1} Hz")
    @CsvSource({"8000, 3150", "48000, 3150", "192000, 3150", "48000, 1003.7", "16000, 1000"})
    void theRoomThatIsAskedForIsEnough(int rate, double hz) {
        CarrierBand band = CarrierBand.of(rate, hz);
        float[] samples = new float[20_020];
        SampledSignal.of(new Sine(hz, 0.5, 0), rate).fill(0, samples, 0, samples.length);
        double[] all = new double[0];
        for (int block : new int[] {1001, 1, 7}) {
            Demodulator demodulator = new Demodulator(band);
            int most = demodulator.mostOutputs(block);
            int highest = 0;
            int count = 0;
            double[] joined = new double[demodulator.mostOutputs(samples.length)];
            for (int at = 0; at < samples.length; at += block) {
                double[] deviation = new double[most];
                int n = demodulator.process(samples, at, block, deviation, new double[most], new double[most]);
                System.arraycopy(deviation, 0, joined, count, n);
                count += n;
                highest = Math.max(highest, n);
            }
            assertThat(highest).isBetween(most - 1, most);
            joined = Arrays.copyOf(joined, count);
            all = block == 1001 ? joined : all;
            assertThat(joined).isEqualTo(all);
        }
    }

    @ParameterizedTest(name = "{0} Hz, tone of {1} Hz")
    @CsvSource({"8000, 3150", "48000, 3150", "192000, 3150", "48000, 1003.7", "16000, 1000"})
    void momentOfAnOutputIsKnown(int rate, double hz) {
        // A step of 1 % in speed at 1 s.
        FmTone tone =
                FmTone.builder(hz).amplitude(0.5).pulses(0.01, 100, 1000, 1).build();
        CarrierBand band = CarrierBand.of(rate, hz);
        Demodulator demodulator = new Demodulator(band);
        float[] samples = new float[2 * rate];
        SampledSignal.of(tone, rate).fill(0, samples, 0, samples.length);
        int most = demodulator.mostOutputs(samples.length);
        double[] deviation = new double[most];
        int count = demodulator.process(samples, 0, samples.length, deviation, new double[most], new double[most]);
        int crossing = 0;
        while (crossing < count && deviation[crossing] < 0.005 * hz) {
            crossing++;
        }
        double seconds = demodulator.firstOutputSeconds() + (crossing - 0.5) / band.rateHz();
        // Half an interval of the output.
        assertThat(seconds).isCloseTo(1, within(0.00013));
    }

    /** The power is that at the moment of its output, also in blocks of any size, of which each has the same bits. */
    @ParameterizedTest(name = "{0} Hz, tone of {1} Hz")
    @CsvSource({"8000, 3150", "48000, 3150", "192000, 3150", "48000, 1003.7", "16000, 1000"})
    void powerIsThatOfTheMoment(int rate, double hz) {
        float[] samples = new float[rate];
        for (int i = 0; i < samples.length; i++) {
            samples[i] = (float) (amplitudeAt((double) i / rate) * Math.sin(2 * Math.PI * hz * i / rate));
        }
        CarrierBand band = CarrierBand.of(rate, hz);
        Demodulator whole = new Demodulator(band);
        int most = whole.mostOutputs(samples.length);
        double[] deviation = new double[most];
        double[] power = new double[most];
        int count = whole.process(samples, 0, samples.length, deviation, new double[most], power);
        assertThat(count).isGreaterThan(3800);
        for (int i = 20; i < count; i++) {
            double amplitude = amplitudeAt(whole.firstOutputSeconds() + i / band.rateHz());
            // Half an interval late, 0.125 ms, of an amplitude that changes by up to 1.9 a second.
            assertThat(Math.sqrt(power[i])).isCloseTo(amplitude, within(3e-4));
            // A sine that swings in amplitude keeps its frequency.
            assertThat(deviation[i]).isCloseTo(0, within(0.05));
        }
        Demodulator parts = new Demodulator(band);
        double[] partDeviation = new double[most];
        double[] partPower = new double[most];
        int at = 0;
        for (int from = 0; from < samples.length; from += 1234) {
            int n = parts.process(
                    samples, from, Math.min(1234, samples.length - from), partDeviation, new double[most], partPower);
            for (int i = 0; i < n; i++) {
                assertThat(partPower[i]).isEqualTo(power[at + i]);
                assertThat(partDeviation[i]).isEqualTo(deviation[at + i]);
            }
            at += n;
        }
        assertThat(at).isEqualTo(count);
    }

    private static double amplitudeAt(double seconds) {
        return 0.5 + 0.1 * Math.sin(2 * Math.PI * 3 * seconds);
    }

    @ParameterizedTest(name = "factor {0}, {1} taps, side taps of halvings: {2} and {3}")
    @CsvSource({
        "1, 1, 0, 0",
        "1, 41, 0, 0",
        "2, 35, 0, 0",
        "3, 65, 0, 0",
        "5, 61, 0, 0",
        "6, 71, 0, 0",
        "7, 99, 0, 0",
        "11, 131, 0, 0",
        "24, 283, 0, 0",
        "2, 11, 7, 0",
        "10, 61, 6, 0",
        "12, 129, 7, 0",
        "24, 129, 3, 7",
        "44, 65, 1, 6"
    })
    void kernelIsThePlainFormula(int factor, int taps, int firstSides, int secondSides) {
        double turns = 0.0656789;
        Random random = new Random(taps);
        double[] h = symmetric(taps, random);
        List<double[]> halvings = new ArrayList<>();
        for (int sides : new int[] {firstSides, secondSides}) {
            if (sides > 0) {
                halvings.add(Arrays.copyOf(symmetric(2 * sides, random), sides));
            }
        }
        List<double[]> complexTaps = complexTaps(halvings, h, turns);
        // Each stage waits for whole columns, the last one for an even number.
        int history = complexTaps.get(0).length + factor * (halvings.size() + 1);
        int expected = MixingDecimator.MOST_COLUMNS + 140;
        float[] x = new float[factor * expected + history];
        for (int i = 0; i < x.length; i++) {
            x[i] = (float) random.nextGaussian();
        }
        MixingDecimator mixer = new MixingDecimator(halvings, h, factor, turns);
        double[] re = new double[mixer.mostOutputs(x.length)];
        double[] im = new double[re.length];
        int columns = 0;
        double[] partRe = new double[re.length];
        double[] partIm = new double[re.length];
        for (int at = 0; at < x.length; at += 997) {
            int count = mixer.process(x, at, Math.min(997, x.length - at), partRe, partIm);
            System.arraycopy(partRe, 0, re, columns, count);
            System.arraycopy(partIm, 0, im, columns, count);
            columns += count;
        }
        assertThat(columns).isBetween(expected, expected + 2);
        // In one piece every column is the same, bit by bit.
        double[] wholeRe = new double[re.length];
        double[] wholeIm = new double[re.length];
        MixingDecimator whole = new MixingDecimator(halvings, h, factor, turns);
        assertThat(whole.process(x, 0, x.length, wholeRe, wholeIm)).isEqualTo(columns);
        assertThat(wholeRe).startsWith(Arrays.copyOf(re, columns));
        assertThat(wholeIm).startsWith(Arrays.copyOf(im, columns));
        assertThat(mixer.radiansPerColumn()).isCloseTo(2 * Math.PI * (turns * factor % 1), within(1e-9));
        for (int m = 0; m < columns; m++) {
            double sumRe = 0;
            double sumIm = 0;
            for (int k = 0; k < complexTaps.get(0).length; k++) {
                sumRe += x[m * factor + k] * complexTaps.get(0)[k];
                sumIm += x[m * factor + k] * complexTaps.get(1)[k];
            }
            // Single precision: 2^-24 of values of about 1, added up over the taps.
            assertThat(re[m]).isCloseTo(sumRe, within(2e-6));
            assertThat(im[m]).isCloseTo(sumIm, within(2e-6));
        }
    }

    private static double[] symmetric(int taps, Random random) {
        double[] h = new double[taps];
        for (int i = 0; i <= taps / 2; i++) {
            h[i] = h[taps - 1 - i] = random.nextGaussian() / taps;
        }
        return h;
    }

    /** The whole decimator as one row of complex taps at the input rate: real and imaginary parts. */
    private static List<double[]> complexTaps(List<double[]> halvings, double[] h, double turns) {
        int step = 1 << halvings.size();
        double[] re = new double[(h.length - 1) * step + 1];
        double[] im = new double[re.length];
        for (int k = 0; k < h.length; k++) {
            double angle = -2 * Math.PI * turns * step * (k - h.length / 2);
            re[k * step] = 2 * h[k] * Math.cos(angle);
            im[k * step] = 2 * h[k] * Math.sin(angle);
        }
        for (int i = 0; i < halvings.size(); i++) {
            double[] half = PhaseHalver.taps(halvings.get(i));
            double[] spread = new double[(half.length - 1) * (1 << i) + 1];
            for (int k = 0; k < half.length; k++) {
                spread[k << i] = half[k];
            }
            re = convolved(re, spread);
            im = convolved(im, spread);
        }
        return List.of(re, im);
    }

    private static double[] convolved(double[] a, double[] b) {
        double[] both = new double[a.length + b.length - 1];
        for (int i = 0; i < a.length; i++) {
            for (int k = 0; k < b.length; k++) {
                both[i + k] += a[i] * b[k];
            }
        }
        return both;
    }
}
