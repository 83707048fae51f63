/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.StandardUncertainty;

/** Products of amplitudes by hand. */
class CoherentPowerTest {
    @Test
    void productsAreOfEveryOtherFrame() {
        CoherentPower power = new CoherentPower();
        power.add(1, 2);
        power.add(3, 4);
        assertThat(power.pairs()).isZero();
        assertThat(power.mean()).isZero();
        power.add(5, 6); // 5 + 12
        assertThat(power.pairs()).isEqualTo(1);
        assertThat(power.mean()).isEqualTo(17);
        assertThat(power.standardError()).isInfinite();
        power.add(7, -8); // 21 - 32
        assertThat(power.mean()).isEqualTo(3);
        // 17 and -11: a standard deviation of 28/sqrt 2, and the root of 2 over 2 of it
        assertThat(power.standardError()).isCloseTo(28 / Math.sqrt(2), within(1e-12));
        power.interrupt();
        power.add(100, 100);
        power.add(100, 100);
        assertThat(power.pairs()).isEqualTo(2);
        power.add(1, 0);
        assertThat(power.mean()).isCloseTo((17 - 11 + 100) / 3.0, within(1e-12));
        power.reset();
        assertThat(power.pairs()).isZero();
        power.add(2, 0);
        power.add(2, 0);
        power.add(2, 0);
        assertThat(power.mean()).isEqualTo(4);
    }

    /** What sways as the reference does is known exactly re it; what is left beside counts over the reference. */
    @Test
    void theRatioIsKnownByWhatDiffersFromTheReference() {
        CoherentPower reference = new CoherentPower();
        CoherentPower share = new CoherentPower();
        CoherentPower other = new CoherentPower();
        assertThat(share.ratioUncertainty(reference)).isEmpty();
        for (int n = 0; n < 5; n++) {
            double sway = 1 + 0.1 * n;
            reference.add(sway, 0);
            share.add(0.5 * sway, 0);
            other.add(sway, n % 2 == 0 ? 0.1 : 0);
        }
        assertThat(share.ratioUncertainty(reference).orElseThrow().value()).isCloseTo(0, within(1e-12));
        // After a reset both begin anew.
        reference.reset();
        share.reset();
        for (double amplitude : new double[] {1, 1, 2, 4}) {
            reference.add(2, 0);
            share.add(amplitude, 0);
        }
        // Products of 2 and 4 over 4: two values, a deviation of their mean of 1, a quarter of it.
        assertThat(share.ratioUncertainty(reference).orElseThrow().value()).isCloseTo(0.25, within(1e-12));
    }

    /** Far from zero half the width of both sides, near it the wider side, all over the same factor of the expansion. */
    @Test
    void theScatterOfAnAmplitude() {
        StandardUncertainty exact = AmplitudeScatter.percent(0.04, 0, 7);
        assertThat(exact.value()).isZero();
        assertThat(exact.degreesOfFreedom()).isEqualTo(7);
        // d sqrt(r) = dr/(2 sqrt r): 1e-6/0.4 is 2.5e-6, of which 100 are 2.5e-4 %.
        assertThat(AmplitudeScatter.percent(0.04, 1e-6, 50).value()).isCloseTo(2.5e-4, within(1e-8));
        double spread = new StandardUncertainty(0.01, 10).expanded().halfWidth();
        double atZero = AmplitudeScatter.percent(0, 0.01, 10).value();
        assertThat(atZero).isCloseTo(100 * Math.sqrt(spread) * 0.01 / spread, within(1e-12));
        double near = AmplitudeScatter.percent(spread / 2, 0.01, 10).value();
        assertThat(near).isCloseTo(100 * Math.sqrt(spread / 2) * 0.01 / spread, within(1e-12));
        double far = AmplitudeScatter.percent(2 * spread, 0.01, 10).value();
        double half = (Math.sqrt(3 * spread) - Math.sqrt(spread)) / 2;
        assertThat(far).isCloseTo(100 * half * 0.01 / spread, within(1e-12));
    }
}
