/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.tapemetrology.core.alignment.GuidedAlignment;
import org.tapemetrology.core.alignment.Instruction.State;
import org.tapemetrology.core.alignment.Outcome;
import org.tapemetrology.core.alignment.Request;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.signals.recorder.VirtualRecorder;

/**
 * The guided alignment on virtual recorders: it hears their recordings only; what they truly are is looked up afterwards.
 * Their trimmers have taper, dead travel and a hand that is a tenth off; the tape varies by 0.5 dB and jumps by 1 dB.
 */
class VirtualBenchTest {
    /** A machine that was aligned, with what the guide says and what is truly wrong. */
    private record Aligned(long seed, VirtualRecorder machine, GuidedAlignment guide, List<String> wrong) {
        String line() {
            return String.format(
                    Locale.ROOT,
                    "seed %d, %d channels, %d heads: %d own recordings, %s, wrong %s%s%n",
                    seed,
                    machine.channels(),
                    machine.threeHeads() ? 3 : 2,
                    guide.ownRecordings(),
                    guide.isReached() ? "reached" : "not reached",
                    wrong,
                    guide.outcomes().stream()
                            .filter(outcome -> !outcome.state().isReached())
                            .map(outcome -> "; " + outcome.sentence())
                            .collect(Collectors.joining()));
        }

        List<Outcome> outOfReach() {
            return guide.outcomes().stream()
                    .filter(outcome -> outcome.state() == State.OUT_OF_REACH)
                    .toList();
        }
    }

    private static Aligned align(long seed, VirtualRecorder machine) {
        VirtualBench bench = new VirtualBench(machine, 1000 * seed);
        GuidedAlignment guide = new GuidedAlignment(bench.plan());
        for (Optional<Request> next = guide.next(); next.isPresent(); next = guide.next()) {
            guide.take(bench.perform(next.get(), guide::stopped));
        }
        return new Aligned(seed, machine, guide, TruthCheck.wrong(machine, bench.plan()));
    }

    /** A mono machine of two heads; the demonstration's test takes a stereo one, the study two hundred of all kinds. */
    @ParameterizedTest
    @ValueSource(longs = 0)
    void aMaladjustedMachineEndsInsideItsLimits(long seed) {
        VirtualRecorder machine = VirtualRecorder.maladjusted(seed);
        assertThat(TruthCheck.wrong(machine, new VirtualBench(machine, 0).plan()))
                .isNotEmpty();
        Aligned aligned = align(seed, machine);
        assertThat(aligned.wrong()).isEmpty();
        assertThat(aligned.guide().isReached()).as(aligned.line()).isTrue();
    }

    @Test
    void aWornHeadIsToldByItsResponse() {
        Aligned aligned = align(3, VirtualRecorder.wornHead(3));
        assertThat(aligned.wrong()).isNotEmpty();
        assertThat(aligned.outOfReach())
                .extracting(Outcome::what)
                .anyMatch(what -> what.contains("response") || what.contains("equalisation"));
    }

    @Test
    void aWeakMotorIsToldByItsSpeed() {
        VirtualBench bench = new VirtualBench(VirtualRecorder.weakMotor(2), 2);
        GuidedAlignment guide = new GuidedAlignment(bench.plan());
        while (guide.next().orElseThrow().step().compareTo(ServiceStep.SPEED) <= 0) {
            guide.take(bench.perform(guide.next().orElseThrow(), guide::stopped));
        }
        assertThat(guide.outcomes()).hasSize(1);
        assertThat(guide.outcomes().get(0).what()).isEqualTo("speed");
        assertThat(guide.outcomes().get(0).state()).isEqualTo(State.OUT_OF_REACH);
    }

    /** The study of STUDIES.md: {@code -Dstudies=true -Dstudy.from=1000 -Dstudy.machines=200}. */
    @Test
    @EnabledIfSystemProperty(named = "studies", matches = "true")
    void study() {
        long from = Long.getLong("study.from", 1000);
        int machines = Integer.getInteger("study.machines", 200);
        int inside = 0;
        int silent = 0;
        for (long seed = from; seed < from + machines; seed++) {
            Aligned aligned = align(seed, VirtualRecorder.maladjusted(seed));
            inside += aligned.wrong().isEmpty() ? 1 : 0;
            silent += !aligned.wrong().isEmpty() && aligned.guide().isReached() ? 1 : 0;
            System.out.print(aligned.line());
        }
        System.out.printf(
                Locale.ROOT,
                "%d machines: %d inside all limits, %d outside although the guide said reached%n",
                machines,
                inside,
                silent);
        assertThat(inside).isGreaterThanOrEqualTo((int) Math.ceil(0.95 * machines));
    }
}
