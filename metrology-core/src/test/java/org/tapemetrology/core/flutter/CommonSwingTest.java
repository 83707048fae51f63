/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.function.IntToDoubleFunction;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** Sums of windows against closed forms: a window holds two periods of 25 values each, so sine and cosine are orthogonal. */
class CommonSwingTest {
    private static final int LENGTH = 50;
    private static final int PERIOD = 25;
    /** Sums of 50 products in double precision. */
    private static final double ROUNDING = 1e-12;

    private static double[] window(IntToDoubleFunction value) {
        return IntStream.range(0, LENGTH).mapToDouble(value).toArray();
    }

    private static double[] cosine(double amplitude) {
        return window(i -> amplitude * Math.cos(2 * Math.PI * i / PERIOD));
    }

    private static double[] sine(double amplitude) {
        return window(i -> amplitude * Math.sin(2 * Math.PI * i / PERIOD));
    }

    /** A second tone e times as strong at a distance of F: power 2 e cos, deviation F e cos. */
    @Test
    void aSecondToneExplainsAllAndTellsItsDistance() {
        CommonSwing swing = new CommonSwing(0.001);
        double e = 0.01;
        for (int i = 0; i < 3; i++) {
            swing.add(cosine(40 * e), cosine(2 * e), LENGTH);
        }
        assertThat(swing.windows()).isEqualTo(3);
        assertThat(swing.share()).isCloseTo(1, within(ROUNDING));
        assertThat(swing.distanceHz()).isCloseTo(40, within(40 * ROUNDING));
        assertThat(swing.commonDistanceHz()).isCloseTo(40, within(40 * ROUNDING));
        assertThat(swing.deviation()).isCloseTo(40 * e / Math.sqrt(2), within(ROUNDING));
        assertThat(swing.movesPower()).isCloseTo(2 * e / Math.sqrt(2), within(ROUNDING));
        // A period of 25 ms is a rate of 40 Hz; of 50 steps one is not seen, which is 1 % of the rate.
        assertThat(swing.rateHz()).isCloseTo(40, within(0.5)).isLessThan(40);
    }

    /** The share is the squared correlation: of a deviation that is one part common and one part not, a half. */
    @Test
    void whatMovesApartIsNoShare() {
        CommonSwing swing = new CommonSwing(0.001);
        swing.add(sine(1), cosine(1), LENGTH);
        assertThat(swing.share()).isCloseTo(0, within(ROUNDING));
        assertThat(swing.distanceHz()).isCloseTo(2, within(ROUNDING));
        assertThat(swing.commonDistanceHz()).isCloseTo(0, within(ROUNDING));

        CommonSwing half = new CommonSwing(0.001);
        half.add(window(i -> cosine(1)[i] + sine(1)[i]), cosine(-1), LENGTH);
        assertThat(half.share()).isCloseTo(0.5, within(ROUNDING));
        assertThat(half.commonDistanceHz()).isCloseTo(2, within(ROUNDING)); // of either sign
    }

    /** Of a window shorter than its arrays the rest is not looked at. */
    @Test
    void theRestOfAWindowIsLeftOut() {
        CommonSwing swing = new CommonSwing(0.001);
        double[] deviations = cosine(1);
        double[] powers = cosine(1);
        deviations[LENGTH - 1] = Double.NaN;
        powers[LENGTH - 1] = Double.NaN;
        swing.add(deviations, powers, PERIOD);
        assertThat(swing.deviation()).isCloseTo(Math.sqrt(0.5), within(ROUNDING));
        assertThat(swing.movesPower()).isCloseTo(Math.sqrt(0.5), within(ROUNDING));
    }

    /** Among 32 windows that move apart one a thousand times as large counts as eight: of 40, 8 are common. */
    @Test
    void aLargeWindowCountsAsEight() {
        CommonSwing swing = new CommonSwing(0.001);
        for (int i = 0; i < 32; i++) {
            swing.add(sine(1), cosine(1), LENGTH);
        }
        swing.add(cosine(1000), cosine(1000), LENGTH);
        assertThat(swing.share()).isCloseTo(0.04, within(1e-9)); // sums of large and small numbers
        assertThat(swing.deviation()).isGreaterThan(100); // which counts it as it is
    }

    /** The first ten count as they are: nothing is known to hold them against. */
    @Test
    void theFirstTenCountAsTheyAre() {
        CommonSwing swing = new CommonSwing(0.001);
        for (int i = 0; i < 9; i++) {
            swing.add(sine(1), cosine(1), LENGTH);
        }
        swing.add(cosine(1000), cosine(1000), LENGTH);
        assertThat(swing.share()).isGreaterThan(0.9999);
    }

    /** Before the tone and behind it: together nothing is common, of each by itself all is. The rate is 40 Hz. */
    @Test
    void aToneThatIsPassedIsToldWindowByWindow() {
        CommonSwing swing = new CommonSwing(0.001);
        swing.add(cosine(0.8), cosine(0.04), LENGTH);
        swing.add(cosine(-0.8), cosine(0.04), LENGTH);
        assertThat(swing.share()).isCloseTo(0, within(ROUNDING));
        assertThat(swing.windowsOfTones()).isEqualTo(2);
        assertThat(swing.shareApart()).isCloseTo(1, within(ROUNDING));
        assertThat(swing.fits()).isTrue();
        assertThat(swing.commonFits()).isFalse();

        // Half as much more deviation that is not the power's.
        swing.add(window(i -> cosine(0.8)[i] + sine(0.8)[i]), cosine(0.04), LENGTH);
        assertThat(swing.windowsOfTones()).isEqualTo(2); // just half is not enough
        assertThat(swing.shareApart()).isCloseTo(0.5, within(ROUNDING));
    }

    /** 80 Hz or 20 Hz of distance are not the 40 Hz of the rate, nor does power alone make a tone. */
    @Test
    void whatHasAnotherDistanceThanItsRateIsNoTone() {
        for (double deviation : new double[] {1.6, 0.4, 0}) {
            CommonSwing swing = new CommonSwing(0.001);
            swing.add(cosine(deviation), cosine(0.04), LENGTH);
            assertThat(swing.windowsOfTones()).isZero();
            assertThat(swing.shareApart()).isZero();
            assertThat(swing.fits()).isFalse();
            assertThat(swing.commonFits()).isFalse();
        }
    }

    @Test
    void nothingExplainsNothing() {
        CommonSwing swing = new CommonSwing(0.001);
        assertThat(swing.share()).isZero();
        assertThat(swing.deviation()).isZero();
        assertThat(swing.movesPower()).isZero();
        assertThat(swing.shareApart()).isZero();
        swing.add(new double[LENGTH], new double[LENGTH], LENGTH);
        assertThat(swing.share()).isZero();
    }
}
