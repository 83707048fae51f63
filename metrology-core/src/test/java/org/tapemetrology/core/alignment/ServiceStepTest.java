/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Quantity;

/** The trade's order of a service (common practice, no source). */
class ServiceStepTest {
    @Test
    void replayIsSetBeforeRecordIsJudgedByIt() {
        List<ServiceStep> steps = ServiceStep.of(3, 2);
        assertThat(steps).isSorted().startsWith(ServiceStep.CLEANING, ServiceStep.TAPE_HANDLING, ServiceStep.SPEED);
        assertThat(steps.indexOf(ServiceStep.REPLAY_AZIMUTH)).isLessThan(steps.indexOf(ServiceStep.REPLAY_LEVEL));
        assertThat(steps.indexOf(ServiceStep.REPLAY_RESPONSE)).isLessThan(steps.indexOf(ServiceStep.BIAS));
        assertThat(steps.indexOf(ServiceStep.BIAS)).isLessThan(steps.indexOf(ServiceStep.RECORD_SENSITIVITY));
        assertThat(steps.indexOf(ServiceStep.RECORD_SENSITIVITY))
                .isLessThan(steps.indexOf(ServiceStep.RECORD_RESPONSE));
    }

    @Test
    void machinesNeedTheStepsThatTheyHave() {
        assertThat(ServiceStep.of(2, 2)).doesNotContain(ServiceStep.RECORD_AZIMUTH);
        assertThat(ServiceStep.of(2, 1)).doesNotContain(ServiceStep.SEPARATION_OF_CHANNELS);
        assertThat(ServiceStep.of(3, 2)).containsExactly(ServiceStep.values());
        assertThatThrownBy(() -> ServiceStep.of(4, 2)).hasMessageContaining("heads 4");
        assertThatThrownBy(() -> ServiceStep.of(2, 0)).hasMessageContaining("channels 0");
    }

    /** The reference tape is put away before anything is recorded. */
    @Test
    void referenceTapesServeTheReplaySideAlone() {
        for (ServiceStep step : ServiceStep.values()) {
            assertThat(step.needsReferenceTape())
                    .as(step.id())
                    .isEqualTo(
                            step.compareTo(ServiceStep.SPEED) >= 0 && step.compareTo(ServiceStep.REPLAY_RESPONSE) <= 0);
            assertThat(ServiceStep.ofId(step.id())).contains(step);
            assertThat(step.instruction()).isNotBlank();
        }
        assertThat(ServiceStep.ofId("unknown")).isEmpty();
        assertThat(ServiceStep.SPEED.judges(Quantity.SPEED_ERROR)).isTrue();
        assertThat(ServiceStep.SPEED.judges(Quantity.LEVEL)).isFalse();
        assertThat(ServiceStep.CLEANING.isByHand()).isTrue();
        assertThat(ServiceStep.NOISE.isByHand()).isFalse();
    }
}
