/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.standard.Iec61672Edition2013;
import org.tapemetrology.core.standard.ItuRBs468Edition4;

/** Weightings at rates of converters, and at odd ones at which a fit over the whole band has a root on the unit circle. */
class MatchedFilterTest {
    private static void follows(AnalogFilter analog, double rate) {
        MatchedFilter filter = new MatchedFilter(analog, rate);
        for (int i = 0; i <= 200; i++) {
            double hz = 20 * Math.pow(filter.reachHz() / 20, i / 200.0);
            // 0.01 dB of the fit, and some of it more for a band that is up to 5 % narrower.
            assertThat(20 * Math.log10(filter.magnitude(hz) / analog.magnitude(hz)))
                    .as("%s Hz at %s", hz, rate)
                    .isCloseTo(0, within(0.02));
        }
    }

    @ParameterizedTest
    @ValueSource(doubles = {8000, 10_703, 12_240, 12_293, 44_100, 48_000, 192_000})
    void followsTheAnalogueFilter(double rate) {
        follows(Iec61672Edition2013.aWeighting(), rate);
        follows(ItuRBs468Edition4.weighting(), rate);
    }
}
