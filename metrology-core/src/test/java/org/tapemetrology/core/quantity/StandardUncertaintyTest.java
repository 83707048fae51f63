/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.quantity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class StandardUncertaintyTest {
    /** The example of JCGM 100:2008, G.4.1 (from memory): 0.25 %, 0.57 %, 0.82 % with 9, 4, 14 degrees of freedom give 1.03 % with 19.0. */
    @Test
    void independentFiguresCombineAsInTheGuide() {
        StandardUncertainty combined = new StandardUncertainty(0.25, 9)
                .and(new StandardUncertainty(0.57, 4))
                .and(new StandardUncertainty(0.82, 14));
        // Half a unit of the last digit that the guide prints.
        assertThat(combined.value()).isCloseTo(1.03, within(0.005));
        assertThat(combined.degreesOfFreedom()).isCloseTo(19.0, within(0.05));
        StandardUncertainty exact = StandardUncertainty.of(3).and(StandardUncertainty.of(4));
        assertThat(exact.value()).isEqualTo(5);
        assertThat(exact.degreesOfFreedom()).isInfinite();
    }
}
