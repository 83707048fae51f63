/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.damage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.HashSet;
import java.util.Set;
import org.junit.jupiter.api.Test;

class DamagedRecordingsTest {
    private static final int MOST_SAMPLES = 100_000;

    @Test
    void theSameSeedGivesTheSameRecording() {
        int compared = 0;
        for (long seed = 1; compared < 5; seed++) {
            long samples = DamagedRecordings.samplesOf(seed);
            if (samples <= MOST_SAMPLES) {
                DamagedRecording one = DamagedRecordings.of(seed);
                DamagedRecording other = DamagedRecordings.of(seed);
                assertThat(one.interleaved()).isEqualTo(other.interleaved());
                assertThat(one.interleaved()).hasSize((int) samples);
                assertThat(one.faults()).isEqualTo(other.faults());
                assertThat(one.truth("level", 1)).isEqualTo(other.truth("level", 1));
                compared++;
            }
        }
    }

    /** Every fault, content and kind of truth is met within a few hundred drafts. */
    @Test
    void everythingIsDrawn() {
        Set<Draft.Content> contents = new HashSet<>();
        Set<Truth.Kind> kinds = new HashSet<>();
        for (long seed = 0; seed < 400; seed++) {
            contents.add(new Draft(seed).content);
            if (DamagedRecordings.samplesOf(seed) < MOST_SAMPLES / 10) {
                kinds.add(DamagedRecordings.of(seed).truth("speed.error", 1).kind());
            }
        }
        assertThat(contents).containsExactlyInAnyOrder(Draft.Content.values());
        assertThat(kinds).contains(Truth.Kind.KNOWN, Truth.Kind.NOT_DEFINED);
        for (Fault fault : Fault.values()) {
            Draft draft = new Draft(7);
            fault.applyTo(draft);
            assertThat(draft.finished(7).frames()).as(fault.name()).isPositive();
        }
    }

    /** Two hums of 60.03 Hz in 28 s: their power together depends on their phases, and no sum of powers is true. */
    @Test
    void humsThatHardlyBeatHaveNoPowerThatIsKnown() {
        DamagedRecording recording = DamagedRecordings.of(9_500_116);
        assertThat(recording.faults())
                .filteredOn(fault -> fault.startsWith("hum of 60.03 Hz"))
                .hasSize(2);
        assertThat(recording.truth("distortion.thd-plus-noise", 1).kind()).isEqualTo(Truth.Kind.NOT_STATED);
        assertThat(recording.truth("distortion.thd", 1).kind()).isEqualTo(Truth.Kind.KNOWN);
    }

    @Test
    void theIntegralOfAStopIsThatOfItsDeviation() {
        TransportStop stop = new TransportStop(1.5, 0.5, 1, 0.25);
        double sum = 0;
        int steps = 50_000;
        double step = 5.0 / steps;
        for (int i = 0; i < steps; i++) {
            double t = (i + 0.5) * step;
            sum += stop.at(t) * step;
            // The rule of the middle of each step is exact but at the four corners: 1e-4 s times a slope of 4.
            assertThat(stop.integralTo(t + step / 2)).isCloseTo(sum, within(1e-6));
        }
        assertThat(stop.at(2.5)).isEqualTo(-1);
        assertThat(stop.at(4)).isZero();
    }

    @Test
    void distanceIsFromTheNearerEnd() {
        Truth truth = Truth.between(2, 1);
        assertThat(truth.distance(1.5)).isZero();
        assertThat(truth.distance(0.5)).isEqualTo(0.5);
        assertThat(truth.distance(2.25)).isEqualTo(0.25);
        assertThat(Truth.NOT_DEFINED.distance(0)).isInfinite();
        assertThat(Truth.NOT_STATED.distance(7)).isZero();
    }

    @Test
    void theLaterWordCounts() {
        Truths truths = new Truths();
        assertThat(truths.of("level")).isEqualTo(Truth.NOT_STATED);
        truths.put("level", Truth.of(-3));
        truths.putGroup("", Truth.NOT_DEFINED);
        assertThat(truths.of("level")).isEqualTo(Truth.NOT_DEFINED);
        truths.putGroup("level", Truth.NOT_STATED);
        truths.put("level.median", Truth.of(-3));
        assertThat(truths.of("level")).isEqualTo(Truth.NOT_STATED);
        assertThat(truths.of("level.median")).isEqualTo(Truth.of(-3));
        assertThat(truths.of("speed.error")).isEqualTo(Truth.NOT_DEFINED);
    }
}
