/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.transform.DftNormalization;
import org.apache.commons.math3.transform.FastFourierTransformer;
import org.apache.commons.math3.transform.TransformType;
import org.junit.jupiter.api.Test;

class ImpairmentTest {
    private static final int SIZE = 1 << 15;

    /** Amplitude modulation of depth m puts two lines of m/2 beside the carrier (handbook theorem). */
    @Test
    void amplitudeModulationHasTwoSidebands() {
        double[] lines = spectrum(new Sine(3000, 0.5).amplitudeModulated(0.2, 10));

        // Rounding of the transform of 32768 samples.
        assertThat(lines[3000]).isCloseTo(0.5, within(1e-11));
        assertThat(lines[2990]).isCloseTo(0.05, within(1e-11));
        assertThat(lines[3010]).isCloseTo(0.05, within(1e-11));
        assertThat(lines[3020]).isCloseTo(0, within(1e-11));
    }

    @Test
    void humTwoToneAndOffsetHaveTheirLines() {
        Hum hum = new Hum(50, 0.01, List.of(new Harmonic(2, 0.5), new Harmonic(3, 0.1, 1.0)));
        TwoTone pair = new TwoTone(new Sine(900, 0.1), new Sine(1000, 0.2));
        double[] lines = spectrum(pair.plus(hum).plus(new Constant(-0.03)));

        assertThat(lines[50]).isCloseTo(0.01, within(1e-12));
        assertThat(lines[100]).isCloseTo(0.005, within(1e-12));
        assertThat(lines[150]).isCloseTo(0.001, within(1e-12));
        assertThat(lines[900]).isCloseTo(0.1, within(1e-11));
        assertThat(lines[1000]).isCloseTo(0.2, within(1e-11));
        assertThat(lines[0] / 2).isCloseTo(0.03, within(1e-12));
        // Root sum square of 1, 0.5 and 0.1: sqrt(1.26).
        assertThat(hum.levelDbfs()).isCloseTo(20 * Math.log10(0.01 * Math.sqrt(1.26)), within(1e-12));
    }

    /** Fourier coefficients of a clipped sine (handbook): clipped at half of the peak, b1 = 2/pi (x + sin x cos x). */
    @Test
    void clippingLimitsTheFundamentalAsComputedByHand() {
        double[] lines = spectrum(new Sine(16, 1).clippedAt(0.5));
        double x = Math.asin(0.5);

        // The samples approach the integral as 1/n^2: 2048 per period.
        assertThat(lines[16]).isCloseTo(2 / Math.PI * (x + Math.sin(x) * Math.cos(x)), within(1e-5));
        assertThat(new Sine(16, 1).clippedAt(0.5).at(1.0 / 64)).isEqualTo(0.5);
    }

    @Test
    void dropoutReachesItsDepthWithSmoothEdges() {
        Signal signal = new Constant(1).withDropouts(new Dropout(2, 0.1, 20, 0.01), new Dropout(3, 0.01, 6, 0));

        assertThat(signal.at(1.999)).isEqualTo(1);
        assertThat(signal.at(2)).isEqualTo(1);
        // Half-way along a raised cosine: the mean of 1 and 0.1.
        assertThat(signal.at(2.005)).isCloseTo(0.55, within(1e-12));
        assertThat(signal.at(2.05)).isCloseTo(0.1, within(1e-15));
        assertThat(signal.at(2.095)).isCloseTo(0.55, within(1e-12));
        assertThat(signal.at(2.101)).isEqualTo(1);
        assertThat(signal.at(3.005)).isCloseTo(Math.pow(10, -0.3), within(1e-15));
        assertThat(new Dropout(0, 1, Double.POSITIVE_INFINITY, 0).gainAt(0.5)).isZero();
    }

    @Test
    void delayNeedsNoMultipleOfASample() {
        Signal tone = new Sine(1000, 1);

        // 25 us of 1 kHz are 9 degrees; 1e-12 rad after an hour is what the two-part time keeps.
        assertThat(tone.delayedBy(25e-6).at(3600, 0.25)).isCloseTo(Math.sin(-0.05 * Math.PI), within(2e-12));
        assertThat(tone.delayedBy(-25e-6).at(3600, 0)).isCloseTo(Math.sin(0.05 * Math.PI), within(2e-12));
        assertThat(tone.delayedBy(25e-6).at(3600, 0)).isCloseTo(Math.sin(-0.05 * Math.PI), within(2e-12));
    }

    @Test
    void sectionsFollowOneAnotherFromTheirOwnBeginning() {
        Sequence tape = Sequence.of(
                new Sequence.Section(new Sine(1000, 0.5, 1), 1.5),
                Sequence.Section.silence(0.5),
                new Sequence.Section(new Sine(3150, 0.25, 2), 2));

        assertThat(tape.seconds()).isEqualTo(4);
        assertThat(tape.startSeconds(2)).isEqualTo(2);
        assertThat(tape.at(-0.1)).isZero();
        assertThat(tape.at(0)).isEqualTo(0.5 * Math.sin(1));
        assertThat(tape.at(1.75)).isZero();
        assertThat(tape.at(2)).isEqualTo(0.25 * Math.sin(2));
        assertThat(tape.at(4)).isZero();
    }

    @Test
    void gainInvertsAndScales() {
        assertThat(new Constant(0.5).scaledBy(-0.5).at(7)).isEqualTo(-0.25);
        assertThat(new Sine(100, Decibels.toRatio(-20)).levelDbfs()).isCloseTo(-20, within(1e-12));
    }

    @Test
    void badValuesAreNamedWithTheirRange() {
        assertThatThrownBy(() -> new Sine(0, 1)).hasMessageContaining("frequency in Hz is 0.0");
        assertThatThrownBy(() -> new Dropout(0, 0.1, 20, 0.06))
                .hasMessage("edge of the dropout in s is 0.06, allowed: 0.0 to 0.05");
        assertThatThrownBy(() -> new Sine(100, 1).amplitudeModulated(1.1, 1)).hasMessageContaining("1.1");
        assertThatThrownBy(() -> new TwoTone(new Sine(2, 1), new Sine(1, 1))).hasMessageContaining("below");
        assertThatThrownBy(() -> new Harmonic(1, 0.1)).hasMessageContaining("2 to 1000");
        assertThatThrownBy(() -> Sequence.Section.silence(0)).hasMessageContaining("duration of the section");
    }

    /** Amplitudes of the lines at multiples of 1 Hz; at 0 Hz twice the mean. */
    private static double[] spectrum(Signal signal) {
        double[] samples = SampledSignal.of(signal, SIZE).samples(0, SIZE);
        Complex[] bins =
                new FastFourierTransformer(DftNormalization.STANDARD).transform(samples, TransformType.FORWARD);
        return Arrays.stream(bins).mapToDouble(bin -> bin.abs() * 2 / SIZE).toArray();
    }
}
