/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.loss;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Status;

/** Which explanations stand beside the best, and how findings are told. */
class LossFindingsTest {
    private static LossExplanation explanation(double aboveBest, LossCause... causes) {
        List<LossParameter> parameters = Arrays.stream(causes)
                .map(cause -> new LossParameter(cause, 1.25, 0.1))
                .toList();
        return new LossExplanation(parameters, 0.1, 0.05, 0.234, 10 + aboveBest, aboveBest);
    }

    private static LossFindings findings(double goodness, LossExplanation... ranked) {
        return new LossFindings(Status.VALID, List.of(ranked), OptionalDouble.of(goodness));
    }

    @Test
    void findingsAreTold() {
        LossExplanation spacing = explanation(0, LossCause.SPACING);
        LossExplanation gap = explanation(7, LossCause.GAP);
        LossExplanation azimuth = explanation(7, LossCause.AZIMUTH);
        assertThat(findings(0.5, spacing).sentence()).isEqualTo("spacing 1.25 um explains it, residual 0.23 dB");
        assertThat(findings(0.01, spacing, gap).sentence())
                .isEqualTo("spacing 1.25 um explains it, residual 0.23 dB; gap 1.25 um explains it as well");
        assertThat(findings(0.5, spacing, gap, azimuth).sentence())
                .isEqualTo("spacing 1.25 um explains it, residual 0.23 dB; "
                        + "gap 1.25 um or azimuth 1.25 arcmin explain it as well");
        assertThat(findings(0.0099, spacing, gap).sentence())
                .isEqualTo("nothing here explains it; nearest is spacing 1.25 um, residual 0.23 dB");
        assertThat(findings(0.5, explanation(0)).sentence()).isEqualTo("a plain offset explains it, residual 0.23 dB");
        assertThat(findings(0.5, explanation(0, LossCause.GAP, LossCause.TIME_CONSTANT))
                        .sentence())
                .startsWith("gap 1.25 um with time constant 1.25 us explains it");
        // Without a known uncertainty of the levels nothing is ruled out.
        assertThat(new LossFindings(Status.VALID, List.of(spacing), OptionalDouble.empty()).sentence())
                .startsWith("spacing");
    }

    /** At most 7 above the best, and none that only adds a cause to a better one. */
    @Test
    void othersAreAsGoodUpToALimit() {
        LossExplanation best = explanation(0, LossCause.SPACING);
        LossExplanation more = explanation(1, LossCause.SPACING, LossCause.GAP);
        LossExplanation other = explanation(6.9, LossCause.THICKNESS);
        LossExplanation far = explanation(7.1, LossCause.AZIMUTH);
        assertThat(findings(0.5, best, more, other, far).asGood()).containsExactly(other);
        assertThat(findings(0.5, best).asGood()).isEmpty();
        assertThat(findings(0.5, best).best()).isEqualTo(best);
        LossFindings none = new LossFindings(Status.INSUFFICIENT_DATA, List.of(), OptionalDouble.empty());
        assertThat(none.sentence()).isEqualTo("too few levels for a fit");
        assertThat(none.asGood()).isEmpty();
        assertThatThrownBy(none::best).isInstanceOf(IllegalStateException.class).hasMessageContaining("too few levels");
    }

    @Test
    void anExplanationKnowsItsDistance() {
        LossExplanation explanation = explanation(3, LossCause.GAP).relativeTo(11);
        assertThat(explanation.aboveBest()).isEqualTo(2); // 13 less 11
        assertThat(explanation.criterion()).isEqualTo(13);
        assertThat(explanation.causes()).containsExactly(LossCause.GAP);
    }
}
