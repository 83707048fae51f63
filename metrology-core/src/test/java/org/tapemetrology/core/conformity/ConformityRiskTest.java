/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.conformity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.uncertainty.Distribution;

/** Risks of JCGM 106:2012, 9. */
class ConformityRiskTest {
    private static final double INFINITE = Double.POSITIVE_INFINITY;

    /**
     * Deaver's example (second-hand): process N(0, 4), test N(0, 1), limits of 8 to either side. False accept 0.008 and false reject 0.015
     * come out where 4 and 1 are standard deviations; half a unit of the last digit.
     */
    @Test
    void thePublishedExampleIsReproduced() {
        ConformityRisk risk = ConformityRisk.global(0, 4, 1, -8, 8, 0);
        assertThat(risk.falseAccept()).isCloseTo(0.008, within(5e-4));
        assertThat(risk.falseReject()).isCloseTo(0.015, within(5e-4));
        // Negative control: with variances of 4 and 1 the process hardly ever leaves the limits.
        assertThat(ConformityRisk.global(0, 2, 1, -8, 8, 0).falseReject()).isLessThan(0.001);
    }

    /** Counted over 400 000 items; three times the scatter of a count of p, with p below 0.1, is 0.0014. */
    @ParameterizedTest
    @ValueSource(doubles = {-2, 0, 1, 2})
    void theIntegralIsWhatOneCounts(double guardBand) {
        SplittableRandom random = new SplittableRandom(9);
        int falseAccepts = 0;
        int falseRejects = 0;
        int items = 400_000;
        for (int i = 0; i < items; i++) {
            double item = 1 + Distribution.NORMAL.sample(random, 4);
            double measured = item + Distribution.NORMAL.sample(random, 1);
            boolean conforms = Math.abs(item) <= 8;
            boolean accepted = Math.abs(measured) <= 8 - guardBand;
            falseAccepts += accepted && !conforms ? 1 : 0;
            falseRejects += conforms && !accepted ? 1 : 0;
        }
        ConformityRisk risk = ConformityRisk.global(1, 4, 1, -8, 8, guardBand);
        assertThat(risk.falseAccept()).isCloseTo(falseAccepts / (double) items, within(0.0014));
        assertThat(risk.falseReject()).isCloseTo(falseRejects / (double) items, within(0.0014));
    }

    @Test
    void aGuardBandTradesOneRiskForTheOther() {
        ConformityRisk simple = ConformityRisk.global(0, 4, 1, -INFINITE, 8, 0);
        ConformityRisk guarded = ConformityRisk.global(0, 4, 1, -INFINITE, 8, 2);
        assertThat(guarded.falseAccept()).isLessThan(0.05 * simple.falseAccept());
        assertThat(guarded.falseReject()).isGreaterThan(2 * simple.falseReject());
    }

    /** JCGM 106:2012, 8.3.2 (memory): two standard uncertainties inside, 2.28 % at most do not conform; digits printed. */
    @Test
    void theSpecificRiskAtTheAcceptanceLimit() {
        assertThat(1 - ConformityRisk.probabilityOfConformity(6, 1, -INFINITE, 8))
                .isCloseTo(0.0228, within(5e-5));
        assertThat(ConformityRisk.probabilityOfConformity(8, 1, -8, 8)).isCloseTo(0.5, within(1e-9));
    }

    @Test
    void whatCannotBeIsRefused() {
        assertThatThrownBy(() -> ConformityRisk.global(0, 0, 1, -8, 8, 0)).hasMessageContaining("deviation 0.0");
        assertThatThrownBy(() -> ConformityRisk.global(0, 4, 1, 8, 8, 0)).hasMessageContaining("lower limit 8.0");
    }

    /** The normal distribution between -1 and 2: 0.8186 (0.9772 - 0.1587, tables of the normal distribution). */
    @Test
    void bothLimitsCount() {
        assertThat(ConformityRisk.probabilityOfConformity(0, 1, -1, 2)).isCloseTo(0.8186, within(5e-5));
        assertThat(ConformityRisk.probabilityOfConformity(10, 2, 8, 14)).isCloseTo(0.8186, within(5e-5));
        assertThat(ConformityRisk.probabilityOfConformity(0, 1, -INFINITE, 2)).isCloseTo(0.9772, within(5e-5));
        assertThatThrownBy(() -> ConformityRisk.probabilityOfConformity(0, 1, 2, 2))
                .hasMessage("lower limit 2.0 is not below the upper limit 2.0");
    }
}
