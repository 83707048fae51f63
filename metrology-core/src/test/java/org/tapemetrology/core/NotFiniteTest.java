/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import org.assertj.core.api.ThrowableAssert.ThrowingCallable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.alignment.BiasCurve;
import org.tapemetrology.core.carrier.ToneFinder;
import org.tapemetrology.core.conformity.ConformityRisk;
import org.tapemetrology.core.detector.HighestPerPart;
import org.tapemetrology.core.detector.MeanPower;
import org.tapemetrology.core.detector.TwoSigma;
import org.tapemetrology.core.fit.LinearLeastSquares;
import org.tapemetrology.core.fit.LongRunMean;
import org.tapemetrology.core.flutter.DeviationSeries;
import org.tapemetrology.core.flutter.FlutterWithout;
import org.tapemetrology.core.spectrum.FlutterSpectrum;
import org.tapemetrology.core.tone.FrameSpectrum;
import org.tapemetrology.core.tone.SineFit;
import org.tapemetrology.core.transport.Attribution;
import org.tapemetrology.core.transport.ObservedFamily;
import org.tapemetrology.core.transport.ReplayComparison;
import org.tapemetrology.core.transport.Transport;
import org.tapemetrology.core.uncertainty.Budget;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.InputDistribution;
import org.tapemetrology.core.uncertainty.MonteCarlo;

/**
 * What computing classes do with a number that is not finite, as their documentation says: most refuse it with an error that
 * names it. None turns it into a figure.
 */
class NotFiniteTest {
    private static void isRefused(String named, ThrowingCallable call) {
        assertThatThrownBy(call).isInstanceOf(IllegalArgumentException.class).hasMessageContaining(named);
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY})
    void numbersAreRefusedByName(double bad) {
        isRefused("mean " + bad, () -> ConformityRisk.global(bad, 1, 0.1, 0, 1, 0));
        isRefused("guardBand " + bad, () -> ConformityRisk.global(0, 1, 0.1, 0, 1, bad));
        isRefused("value " + bad, () -> ConformityRisk.probabilityOfConformity(bad, 0.1, 0, 1));
        isRefused("estimate " + bad, () -> InputDistribution.normal(bad, 1));
        isRefused("standardUncertainty " + bad, () -> InputDistribution.normal(0, bad));
        isRefused("scale " + bad, () -> InputDistribution.student(0, bad, 5));
        isRefused(
                "means[1] " + bad,
                () -> InputDistribution.jointNormal(new double[] {0, bad}, new double[][] {{1, 0}, {0, 1}}));
        isRefused("perSecond " + bad, () -> new ObservedFamily.Trend(bad, 1e-5));
        isRefused("rateHz " + bad, () -> new HighestPerPart(100, bad));
        isRefused("rateHz " + bad, () -> new TwoSigma(0.05, 100, bad));
        isRefused("rateHz " + bad, () -> new MeanPower(bad));
        isRefused("sampleRateHz " + bad, () -> new ToneFinder(bad, 0.25));
        Transport transport = Transport.builder(47.6).capstan("capstan", 2).build();
        isRefused("speedRatio " + bad, () -> Attribution.of(ObservedFamily.alone(7.6, 0.01), transport, bad));
        Converter known = Converter.assumed();
        isRefused(
                "crosstalkDb " + bad,
                () -> new Converter(
                        "bad",
                        known.clock(),
                        known.clockStability(),
                        known.ownFlutter(),
                        known.gain(),
                        known.fullScale(),
                        known.balance(),
                        known.delay(),
                        known.distortion(),
                        known.noiseDbfs(),
                        bad));
    }

    @Test
    void boundsThatAreNoNumbersAreRefused() {
        Budget none = Budget.of();
        assertThat(none.probabilityBetween(Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY))
                .isEqualTo(1);
        isRefused("bounds NaN and 1.0", () -> none.probabilityBetween(Double.NaN, 1));
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY})
    void replaysAreRefusedByTheirSample(double bad) {
        double[] good = new double[64];
        double[] spoilt = new double[64];
        spoilt[40] = bad;
        isRefused("replay[40] " + bad, () -> ReplayComparison.lateBy(good, spoilt, 4));
        isRefused("replay[40] " + bad, () -> ReplayComparison.of(List.of(good, spoilt)));
    }

    @Test
    void aBiasCurveNeedsFinitePoints() {
        List<BiasCurve.Point> points = new ArrayList<>();
        for (int i = 0; i < 9; i++) {
            points.add(new BiasCurve.Point(i, -(i - 4.0) * (i - 4), OptionalDouble.of(i == 3 ? Double.NaN : 1)));
        }
        isRefused("thirdHarmonicPercent=OptionalDouble[NaN]", () -> BiasCurve.of(points));
    }

    /** Sorted, such trials would stand at one end of the interval; adaptive blocks would never become stable. */
    @Test
    void aTrialWithoutAResultEndsTheRun() {
        InputDistribution input = InputDistribution.normal(1, 1);
        assertThatThrownBy(() -> MonteCarlo.fixed(1, 10_000).run(x -> Math.sqrt(x[0]), 0.95, input))
                .isInstanceOf(ArithmeticException.class)
                .hasMessageContaining("gave NaN");
        assertThatThrownBy(() -> MonteCarlo.adaptive(1, 2, 1_000_000).run(x -> 1 / Math.max(0, x[0]), 0.95, input))
                .isInstanceOf(ArithmeticException.class)
                .hasMessageContaining("gave Infinity");
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY})
    void fitsEndInAnError(double bad) {
        LinearLeastSquares line = new LinearLeastSquares(2);
        for (int i = 0; i < 10; i++) {
            line.add(new double[] {1, i}, i == 3 ? bad : i);
        }
        assertThatThrownBy(line::solve).isInstanceOf(ArithmeticException.class);

        double[] samples = new double[1000];
        for (int i = 0; i < samples.length; i++) {
            samples[i] = i == 500 ? bad : Math.sin(0.1 * i);
        }
        assertThatThrownBy(() -> SineFit.threeParameter(samples, 0, 1000, 1000, 15.9))
                .isInstanceOf(ArithmeticException.class);
        assertThatThrownBy(() -> SineFit.fourParameter(samples, 0, 1000, 1000, 15.9))
                .isInstanceOf(ArithmeticException.class);
    }

    @Test
    void aMeanStaysWithoutAValueAndRefusesItsUncertainty() {
        LongRunMean mean = new LongRunMean();
        for (int i = 0; i < 20; i++) {
            mean.add(i == 3 ? Double.NaN : i);
        }
        assertThat(mean.mean()).isNaN();
        isRefused("NaN", mean::uncertainty);
    }

    @Test
    void spectraHaveNoFigureWhereThereIsNoNumber() {
        FrameSpectrum frame = new FrameSpectrum(1000, 256);
        double[] samples = new double[256];
        samples[3] = Double.NaN;
        frame.take(samples, 0);
        assertThat(frame.peakHz(100, 200, 0)).isNaN();
        assertThat(frame.band(100, 200)).isNaN();

        SplittableRandom random = new SplittableRandom(1);
        FlutterSpectrum spectrum =
                FlutterSpectrum.of(random.doubles(4000, -1e-3, 1e-3).toArray(), 1000);
        isRefused("frequencyHz NaN", () -> spectrum.indexOf(Double.NaN));
    }

    @Test
    void flutterWithoutAPartRefusesAPartWithoutANumber() {
        SplittableRandom random = new SplittableRandom(2);
        float[] deviation = new float[40_000];
        for (int i = 0; i < deviation.length; i++) {
            deviation[i] = (float) (1e-3 * random.nextDouble(-1, 1));
        }
        FlutterWithout flutter = new FlutterWithout(DeviationSeries.of(0, 1000, 3150, deviation));
        isRefused("flutter.weighted.", () -> flutter.without(List.of(t -> t > 20 ? Double.NaN : 0)));
    }
}
