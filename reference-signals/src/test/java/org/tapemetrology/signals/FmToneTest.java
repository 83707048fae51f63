/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import org.apache.commons.math3.analysis.integration.IterativeLegendreGaussIntegrator;
import org.apache.commons.math3.special.BesselJ;
import org.apache.commons.math3.transform.DftNormalization;
import org.apache.commons.math3.transform.FastFourierTransformer;
import org.apache.commons.math3.transform.TransformType;
import org.junit.jupiter.api.Test;

class FmToneTest {
    private static final FmTone FAULTY = FmTone.builder(3150)
            .speedError(0.0123)
            .drift(2e-5)
            .sine(0.55, 0.002, 0.3)
            .sine(7.58, 0.001, 1.1)
            .deviation(RandomDeviation.falling(5, 0.2, 100, 0.0008))
            .build();

    /** Truth: Gauss-Legendre quadrature of a general-purpose library, converged to 1e-10 cycles. */
    @Test
    void phaseIsTheIntegralOfTheInstantaneousFrequency() {
        var integrator = new IterativeLegendreGaussIntegrator(5, 1e-11, 1e-10, 1, 30);
        for (double[] span : new double[][] {{0, 0.25}, {3.125, 3.375}, {100.5, 100.75}}) {
            double integral = integrator.integrate(
                    10_000_000, seconds -> FAULTY.instantaneousFrequencyAt(seconds) - 3150, span[0], span[1]);
            double expected = integral + 3150 * (span[1] - span[0]);

            double phase = cycles(FAULTY, span[1]) - cycles(FAULTY, span[0]);

            // 1e-9 cycles: ten times what the quadrature converged to.
            assertThat(Cycles.reduce(phase - expected)).isCloseTo(0, within(1e-9));
            assertThat(FAULTY.meanFrequencyHz(span[0], span[1]))
                    .isCloseTo(expected / (span[1] - span[0]), within(1e-8));
        }
    }

    /** The integral of pulses is a broken line: summed here pulse by pulse. */
    @Test
    void pulsesAdvanceThePhaseByHeightTimesWidthEach() {
        FmTone tone = FmTone.builder(3150).pulses(0.002, 0.06, 1, 0.5).build();

        assertThat(tone.relativeDeviationAt(0.499)).isZero();
        assertThat(tone.relativeDeviationAt(0.5)).isEqualTo(0.002);
        assertThat(tone.relativeDeviationAt(7.559)).isEqualTo(0.002);
        assertThat(tone.relativeDeviationAt(7.561)).isZero();
        // 3150 Hz * 0.002 * 0.06 s = 0.378 cycles a pulse; rounding of the integral allows some 1e-12.
        assertThat(tone.cyclesAt(7, 0.25) - Cycles.reduce(3150 * 7.25 + 7 * 0.378))
                .satisfies(difference -> assertThat(Cycles.reduce(difference)).isCloseTo(0, within(1e-12)));
        assertThat(tone.meanFrequencyHz(10, 20)).isCloseTo(3150 * (1 + 0.002 * 0.06), within(1e-9));
        FmTone slower = FmTone.builder(3150).pulses(-0.002, 0.06, 1, 0).build();
        assertThat(slower.relativeDeviationAt(3.01)).isEqualTo(-0.002);
    }

    /** Decimal arithmetic of 60 digits as the truth; 1e-12 rad is the promise. */
    @Test
    void phaseKeepsItsResolutionAfterHours() {
        FmTone tone = FmTone.builder(3149.9).speedError(0.0077).drift(1.7e-6).build();
        SampledSignal samples = SampledSignal.of(tone, 44_100);
        MathContext digits = new MathContext(60);
        for (long index : new long[] {1, 44_099, 158_760_007L, 476_280_013L}) {
            BigDecimal time = BigDecimal.valueOf(index).divide(BigDecimal.valueOf(44_100), digits);
            BigDecimal steady = new BigDecimal(tone.steadyHz());
            BigDecimal drifted = BigDecimal.ONE.add(
                    new BigDecimal(tone.driftPerSecond()).multiply(time).divide(BigDecimal.valueOf(2), digits));
            BigDecimal cycles = steady.multiply(time).multiply(drifted);
            double expected =
                    cycles.subtract(cycles.setScale(0, RoundingMode.HALF_EVEN)).doubleValue();

            double phase = tone.cyclesAt(index / 44_100, (index % 44_100) / 44_100.0);

            assertThat(2 * Math.PI * Cycles.reduce(phase - expected)).isCloseTo(0, within(2e-12));
            assertThat(samples.sample(index)).isCloseTo(Math.sin(2 * Math.PI * expected), within(2e-12));
        }
    }

    /**
     * Spectrum of sinusoidal frequency modulation: the line at carrier + n rate has the amplitude |J_n(index)| (handbook
     * theorem; the Bessel functions are those of a general-purpose library).
     */
    @Test
    void sidebandsOfSinusoidalFlutterAreBesselFunctions() {
        int size = 1 << 16;
        double rate = size / 4.0; // the resolution is 1/4 Hz: carrier and rate fall on bins
        FmTone tone = FmTone.builder(3150).sine(4, 0.004).build();
        double index = 3150 * 0.004 / 4;

        var spectrum = new FastFourierTransformer(DftNormalization.STANDARD)
                .transform(SampledSignal.of(tone, rate).samples(0, size), TransformType.FORWARD);

        for (int order = -8; order <= 8; order++) {
            int bin = 4 * (3150 + 4 * order);
            double amplitude = spectrum[bin].abs() * 2 / size;
            // 1e-9: rounding of the library's transform and Bessel functions.
            assertThat(amplitude).isCloseTo(Math.abs(BesselJ.value(Math.abs(order), index)), within(1e-9));
        }
        assertThat(spectrum[4 * 3150 + 2].abs() * 2 / size).isLessThan(1e-9);
    }

    @Test
    void harmonicsFollowThePhaseOfTheFundamental() {
        FmTone tone = FmTone.builder(1000)
                .amplitude(0.5)
                .startPhase(0.4)
                .sine(3, 0.01)
                .harmonic(3, 0.03, 0.2)
                .build();
        double angle = 2 * Math.PI * tone.cyclesAt(12, 0.3456) + 0.4;

        assertThat(tone.at(12, 0.3456))
                .isCloseTo(0.5 * (Math.sin(angle) + 0.03 * Math.sin(3 * angle + 0.2)), within(1e-14));
    }

    @Test
    void badValuesAreNamedWithTheirRange() {
        assertThatThrownBy(() -> FmTone.builder(-3150))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("nominal frequency in Hz is -3150.0, allowed: finite and above 0");
        assertThatThrownBy(() -> FmTone.builder(3150).sine(4, Double.NaN))
                .hasMessageContaining("peak relative deviation is NaN, allowed: 0.0 to 1.0");
        assertThatThrownBy(() -> FmTone.builder(3150).speedError(-1)).hasMessageContaining("speed error");
        assertThatThrownBy(() -> FAULTY.meanFrequencyHz(2, 1)).hasMessageContaining("end of the span is 1.0 s");
    }

    private static double cycles(FmTone tone, double seconds) {
        double whole = Math.floor(seconds);
        return tone.cyclesAt((long) whole, seconds - whole);
    }
}
