/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

/** Means of what has come to a sum since the last look, by hand. */
class RunningMeanTest {
    @Test
    void theMeanIsOfWhatIsNew() {
        RunningMean mean = new RunningMean();
        assertThat(mean.next(0, 0)).isNaN();
        assertThat(mean.next(6, 3)).isEqualTo(2);
        assertThat(mean.next(6, 3)).as("nothing new").isNaN();
        assertThat(mean.next(16, 5)).isEqualTo(5);
        // A sum of fewer values has begun anew.
        assertThat(mean.next(12, 4)).isEqualTo(3);
        assertThat(mean.next(0, 0)).isNaN();
        assertThat(mean.next(8, 2)).isEqualTo(4);
        mean.restart();
        assertThat(mean.next(9, 3)).isEqualTo(3);
    }
}
