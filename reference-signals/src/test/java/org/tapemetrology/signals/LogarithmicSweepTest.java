/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.math3.analysis.integration.IterativeLegendreGaussIntegrator;
import org.junit.jupiter.api.Test;

class LogarithmicSweepTest {
    private static final LogarithmicSweep SWEEP = new LogarithmicSweep(20, 20_000, 10, 0.5);

    @Test
    void runsThroughEachDecadeInTheSameTime() {
        // Three decades in 10 s; 1e-9: rounding of the logarithm and the exponential.
        assertThat(SWEEP.frequencyAt(0)).isCloseTo(20, within(1e-9));
        assertThat(SWEEP.frequencyAt(10 / 3.0)).isCloseTo(200, within(1e-9));
        assertThat(SWEEP.frequencyAt(20 / 3.0)).isCloseTo(2000, within(1e-9));
        assertThat(SWEEP.frequencyAt(10)).isCloseTo(20_000, within(1e-8));
        assertThat(SWEEP.secondsAt(2000)).isCloseTo(20 / 3.0, within(1e-12));
    }

    /** Truth: Gauss-Legendre quadrature of the frequency by a general-purpose library. */
    @Test
    void phaseIsTheIntegralOfTheFrequency() {
        var integrator = new IterativeLegendreGaussIntegrator(20, 1e-13, 1e-9, 1, 60);
        for (double time : new double[] {0.1, 1.234, 4.2, 7.654321, 9.99}) {
            double cycles = integrator.integrate(10_000_000, SWEEP::frequencyAt, 0, time);
            // 1e-7: quadrature and its 29 000 cycles, which a double holds to some 4e-12.
            assertThat(SWEEP.at(time)).isCloseTo(0.5 * Math.sin(2 * Math.PI * cycles), within(1e-7));
        }
    }

    @Test
    void isSilentBeforeAndAfter() {
        assertThat(SWEEP.at(-0.001)).isZero();
        assertThat(SWEEP.at(10)).isZero();
        assertThat(SWEEP.at(11.3)).isZero();
    }

    @Test
    void badValuesAreNamed() {
        assertThatThrownBy(() -> new LogarithmicSweep(0, 20_000, 10, 1)).hasMessageContaining("start in Hz is 0.0");
        assertThatThrownBy(() -> new LogarithmicSweep(200, 20, 10, 1)).hasMessageContaining("end is 20.0 Hz");
        assertThatThrownBy(() -> new LogarithmicSweep(20, 20_000, -1, 1)).hasMessageContaining("duration in s is -1.0");
        assertThatThrownBy(() -> new LogarithmicSweep(20, 20_000, 1, Double.NaN))
                .hasMessageContaining("amplitude is NaN");
    }
}
