/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Every so-manieth value of the low-pass, whatever the blocks. */
class SectionsDecimatorTest {
    @ParameterizedTest(name = "{0} Hz to {1} Hz or more: every {2}")
    @CsvSource({"4000, 2000, 2", "5999, 2000, 2", "6000, 2000, 3", "3999, 2000, 1", "1000, 2000, 1"})
    void everySoManiethValueOfTheLowPass(double rate, double least, int factor) {
        double[] in = new SplittableRandom(4).doubles(3000).toArray();
        double[] whole = new double[in.length];
        SecondOrderSections lowPass = Butterworth.lowPass(8, 0.1 * rate, rate);
        lowPass.presetTo(0.5);
        lowPass.process(in, 0, whole, 0, in.length);

        SectionsDecimator decimator = new SectionsDecimator(Butterworth.lowPass(8, 0.1 * rate, rate), least);
        decimator.presetTo(0.5);
        assertThat(decimator.rateHz()).isCloseTo(rate / factor, within(1e-9));
        double[] out = new double[in.length];
        int count = 0;
        for (int at = 0, block = 1; at < in.length; block = 2 * block + 1) {
            int part = Math.min(block, in.length - at);
            int produced = decimator.process(in, at, part, out);
            for (int i = 0; i < produced; i++) {
                assertThat(out[i]).isEqualTo(whole[factor * count++]);
            }
            at += part;
        }
        assertThat(count).isEqualTo((in.length + factor - 1) / factor);
    }
}
