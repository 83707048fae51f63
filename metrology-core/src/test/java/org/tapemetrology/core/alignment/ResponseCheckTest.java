/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.alignment.Instruction.State;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

class ResponseCheckTest {
    private static final ResponseCheck CHECK = new ResponseCheck(ServiceStep.REPLAY_RESPONSE, 2, 500);

    /** A table of both channels in takes of their own; each line is channel, frequency, level. */
    private static List<Measurement> takes(double[]... lines) {
        List<Measurement> all = new ArrayList<>();
        for (double[] line : lines) {
            all.add(take(Reading.valid(Quantity.RESPONSE, line[2], "table")
                    .onChannel((int) line[0])
                    .atFrequency(line[1])));
        }
        return all;
    }

    private static Measurement take(Reading reading) {
        return new Measurement(List.of(reading), List.of());
    }

    @Test
    void theWorstOfEachChannelIsToldWithItsSign() {
        List<Outcome> said = CHECK.of(
                takes(
                        new double[] {1, 1000, 0.5},
                        new double[] {1, 6300, -2},
                        new double[] {1, 10_000, 1.9},
                        new double[] {2, 500, 2.5},
                        new double[] {2, 1000, -2.25}),
                2,
                7);
        assertThat(said).hasSize(2);
        assertThat(said.get(0).state()).isEqualTo(State.DONE);
        assertThat(said.get(0).sentence())
                .isEqualTo("response of channel 1: at worst -2.0 dB, at 6300 Hz, within 2.0 dB");
        assertThat(said.get(0).reading().orElseThrow().value()).hasValue(-2);
        assertThat(said.get(0).step()).isEqualTo(ServiceStep.REPLAY_RESPONSE);
        assertThat(said.get(0).what()).isEqualTo("response of channel 1");
        assertThat(said.get(0).rounds()).isEqualTo(7);
        assertThat(said.get(1).state()).isEqualTo(State.OUT_OF_REACH);
        assertThat(said.get(1).sentence())
                .isEqualTo("response of channel 2: at worst +2.5 dB, at 500 Hz, which no trimmer brings within 2.0 dB");
    }

    /** Below the limit the tape's fringing is read, not the machine. */
    @Test
    void whatLiesBelowTheLimitDoesNotCount() {
        List<Outcome> said = CHECK.of(takes(new double[] {1, 499, 4}, new double[] {1, 1000, 1}), 1, 1);
        assertThat(said).hasSize(1);
        assertThat(said.get(0).state()).isEqualTo(State.DONE);
    }

    @Test
    void aResponseThatCouldNotBeReadEverywhereIsNoResponse() {
        List<Measurement> some = takes(new double[] {1, 1000, 1});
        some.add(take(Reading.without(Quantity.RESPONSE, Status.NO_CARRIER, "table")
                .onChannel(1)
                .atFrequency(8000)));
        some.add(take(Reading.valid(Quantity.LEVEL, 0, "table").onChannel(2).atFrequency(8000)));
        List<Outcome> said = CHECK.of(some, 2, 1);
        assertThat(said).extracting(Outcome::state).containsExactly(State.NO_READING, State.NO_READING);
        assertThat(said.get(0).reading().orElseThrow().status()).isEqualTo(Status.NO_CARRIER);
        assertThat(said.get(0).sentence()).isEqualTo("response of channel 1: not every frequency could be read");
        assertThat(said.get(1).reading()).isEmpty();
    }
}
