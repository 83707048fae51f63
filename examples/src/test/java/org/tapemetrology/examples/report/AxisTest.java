/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** Places and marks of axes; they are plain arithmetic. */
class AxisTest {
    /** Rounding of doubles. */
    private static final double ROUNDING = 1e-12;

    @Test
    void aLinearAxisEndsAtItsMarks() {
        Axis axis = Axis.linear("level, dB", -1.3, 2.2, 5);
        assertThat(axis.low()).isEqualTo(-2);
        assertThat(axis.high()).isEqualTo(3);
        assertThat(axis.ticks()).containsExactly(-2.0, -1.0, 0.0, 1.0, 2.0, 3.0);
        assertThat(axis.place(-2)).isZero();
        assertThat(axis.place(0.5)).isCloseTo(0.5, within(ROUNDING));
        assertThat(axis.place(99)).isEqualTo(1);
        assertThat(axis.label(-1)).isEqualTo("\u22121");
    }

    @Test
    void aLogarithmicAxisMarksOneTwoFive() {
        Axis axis = Axis.logarithmic("frequency, Hz", 100, 10_000);
        assertThat(axis.ticks()).containsExactly(100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10_000.0);
        assertThat(axis.place(1000)).isCloseTo(0.5, within(ROUNDING));
        assertThat(axis.place(1)).isZero();
        assertThat(axis.label(10_000)).isEqualTo("10k");
    }

    /** A figure that does not move still has an axis. */
    @Test
    void aSingleValueHasAnAxis() {
        Axis axis = Axis.linear("level, dB", 3, 3, 5);
        assertThat(axis.place(3)).isCloseTo(0.5, within(ROUNDING));
        assertThat(Axis.exact("time, s", 0, 0, 5).high()).isEqualTo(1);
        assertThat(Axis.linear("speed, %", 1e6, 1e6 + 1e-7, 5).ticks()).hasSizeLessThan(20);
    }
}
