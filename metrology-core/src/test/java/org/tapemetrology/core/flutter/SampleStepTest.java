/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The step of whole numbers of n bits over the range -1 to 1 is 2^(1 - n). */
class SampleStepTest {
    @ParameterizedTest
    @ValueSource(ints = {8, 12, 16, 20, 24})
    void theStepOfWholeNumbersIsFound(int bits) {
        float step = Math.scalb(1f, 1 - bits);
        float[] samples = {0, 4 * step, -3 * step, 2 * step, 0.5f};
        assertThat(SampleStep.of(samples, 0, 5)).isEqualTo(step);
        assertThat(SampleStep.of(samples, 3, 1)).isEqualTo(2 * step);
        assertThat(SampleStep.of(samples, 1, 1)).isEqualTo(4 * step);
    }

    @Test
    void thereIsNoneOfFinerNumbersOfSilenceAndOfNoNumbers() {
        assertThat(SampleStep.of(new float[] {0.5f, Math.scalb(1f, -24)}, 0, 2)).isZero();
        assertThat(SampleStep.of(new float[] {0.5f, 0.1f}, 0, 2)).isZero();
        assertThat(SampleStep.of(new float[4], 0, 4)).isZero();
        for (float bad : new float[] {Float.NaN, Float.POSITIVE_INFINITY, Float.NEGATIVE_INFINITY, 256}) {
            assertThat(SampleStep.of(new float[] {0.5f, bad}, 0, 2)).isZero();
        }
        // What stands outside of the range is not looked at, and full scale is no bound.
        assertThat(SampleStep.of(new float[] {0.1f, 0.5f, 0.1f}, 1, 1)).isEqualTo(0.5);
        assertThat(SampleStep.of(new float[] {-255, 2}, 0, 2)).isEqualTo(1);
    }
}
