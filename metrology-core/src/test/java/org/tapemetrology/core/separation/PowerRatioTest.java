/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/** When a residue is known, and what is said where it is not. */
class PowerRatioTest {
    /** Student's t of 10 degrees of freedom is 2.228 at 95 % (tables). */
    @Test
    void theHalfWidthIsThatOfStudentsT() {
        PowerRatio ratio = PowerRatio.of(0.01, 0.001, 10);
        assertThat(ratio.ratio()).isEqualTo(0.01);
        assertThat(ratio.halfWidth()).isCloseTo(0.002228, within(5e-7));
    }

    /** Up to four tenths of the ratio; the reading's scatter is that of the wider side: of 0.6, 2.22 dB. */
    @Test
    void aResidueIsKnownUpToFourTenths() {
        PowerRatio edge = new PowerRatio(0.01, 0.004);
        assertThat(edge.isKnown()).isTrue();
        Reading reading = edge.reading(Quantity.SEPARATION, "test");
        assertThat(reading.value().orElseThrow()).isCloseTo(20, within(1e-12));
        assertThat(reading.uncertainty().orElseThrow().halfWidth()).isCloseTo(-10 * Math.log10(0.6), within(1e-9));
        assertThat(new PowerRatio(0.01, 0.0041).isKnown()).isFalse();
        assertThat(new PowerRatio(0, 0).isKnown()).isFalse();
        assertThat(new PowerRatio(-0.01, -1).isKnown()).isFalse();
        assertThat(new PowerRatio(0.01, Double.NaN).isKnown()).isFalse();
    }

    @Test
    void whatIsNotKnownIsALimitInWords() {
        Reading limit = new PowerRatio(0.006, 0.004).reading(Quantity.SEPARATION, "selective");
        assertThat(limit.status()).isEqualTo(Status.INSUFFICIENT_DATA);
        assertThat(limit.method()).isEqualTo("selective; greater than 20.0 dB"); // 0.006 + 0.004
        // Below zero, which noise makes of it, the half-width alone is the most.
        PowerRatio below = new PowerRatio(-0.5, 0.001);
        assertThat(below.most()).isEqualTo(0.001);
        assertThat(below.leastDecibels().orElseThrow()).isCloseTo(30, within(1e-12));
        assertThat(new PowerRatio(0, 0).leastDecibels()).isEmpty();
        assertThat(new PowerRatio(0, 0)
                        .reading(Quantity.SEPARATION, "selective")
                        .method())
                .isEqualTo("selective; no residue at all");
        assertThat(new PowerRatio(0, Double.POSITIVE_INFINITY).leastDecibels()).isEmpty();
    }
}
