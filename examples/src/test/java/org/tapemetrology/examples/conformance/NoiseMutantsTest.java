/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.detector.Ballistics;
import org.tapemetrology.core.filter.AnalogFilter;
import org.tapemetrology.core.standard.Iec61672Edition2013;
import org.tapemetrology.core.standard.ItuRBs468Edition4;
import org.tapemetrology.examples.conformance.BlockNoiseMeter.Parts;
import org.tapemetrology.signals.conformance.Figure;
import org.tapemetrology.signals.conformance.NoiseMeterUnderTest;
import org.tapemetrology.signals.conformance.Suites;

/** Noise meters with faults. */
class NoiseMutantsTest {
    private static final double REFERENCE_HZ = 1000;

    private static final class Around extends Faults.Around<NoiseMeterUnderTest.Asked> implements NoiseMeterUnderTest {
        Around(BlockNoiseMeter meter, UnaryOperator<Figure> change, boolean swapped, Optional<AnalogFilter> filter) {
            super(meter, change, swapped, filter.map(Faults::audio));
        }
    }

    private final List<Mutant<NoiseMeterUnderTest>> mutants = new ArrayList<>();
    private Consumer<Parts> kind = parts -> {};

    private BlockNoiseMeter block(Consumer<Parts> spoil) {
        Parts parts = new Parts();
        kind.accept(parts);
        spoil.accept(parts);
        return new BlockNoiseMeter(parts);
    }

    private BlockNoiseMeter sound() {
        return block(parts -> {});
    }

    private void gross(String name, Consumer<Parts> spoil) {
        mutants.add(Mutant.gross(name, () -> block(spoil)));
    }

    private void fine(String name, Consumer<Parts> spoil) {
        mutants.add(Mutant.fine(name, () -> block(spoil)));
    }

    /** The low gain has to lie beyond a limit of the kind and not on it, where rounding would decide. */
    private void addCommon(double tooLow) {
        mutants.add(Mutant.gross(
                "gain 1 dB too high", () -> new Around(sound(), Faults.louder(1), false, Optional.empty())));
        mutants.add(Mutant.fine(
                "gain " + tooLow + " dB too low",
                () -> new Around(sound(), Faults.louder(-tooLow), false, Optional.empty())));
        mutants.add(Mutant.gross(
                "channel 1 for every channel", () -> new Around(sound(), Faults.louder(0), true, Optional.empty())));
        gross("no weighting", parts -> parts.weighted = false);
        gross("start-up transient counted", parts -> {
            parts.settlingSeconds = 0;
            parts.onset = 0.9;
        });
    }

    private void addBumps(double q, double... frequencies) {
        for (double hz : frequencies) {
            mutants.add(Mutant.fine(
                    "weighting 0.5 dB off at " + Math.round(hz) + " Hz",
                    () -> new Around(
                            sound(), Faults.louder(0), false, Optional.of(Faults.bump(hz, q, 0.5, REFERENCE_HZ)))));
        }
    }

    @Test
    void aWeighting() throws IOException {
        kind = Parts::aWeighted;
        addCommon(0.55);
        gross("average instead of RMS", parts -> parts.power = 1);
        gross("noise weighting of ITU-R BS.468", parts -> parts.weighting = ItuRBs468Edition4.weighting());
        addBumps(1.4, 11, 16, 25, 45, 80, 140, 250, 440);
        addBumps(4, 630, 800, 1250, 1600);
        addBumps(1.4, 2500, 4500, 8000, 14_000, 19_000);
        MutantMatrix.check(Suites.iec61672AWeighting(), sound(), mutants);
    }

    @Test
    void quasiPeak() throws IOException {
        addCommon(0.5);
        gross("A-weighting", parts -> parts.weighting = Iec61672Edition2013.aWeighting());
        gross("RMS over 200 ms instead of quasi-peak", parts -> {
            parts.first = new Ballistics(0.2, 0.2);
            parts.second = new Ballistics(0.2, 0.2);
        });
        gross("one half-wave alone", parts -> parts.rectified = x -> 2 * Math.max(0, x));
        gross("amplifier that overloads at a sixth", parts -> parts.input = x -> Math.max(-0.16, Math.min(0.16, x)));
        gross("needle that swings over", parts -> parts.needleHz = 2);
        Ballistics first = ItuRBs468Edition4.FIRST_STAGE;
        Ballistics second = ItuRBs468Edition4.SECOND_STAGE;
        for (double factor : new double[] {0.8, 1.2}) {
            fine("first attack times " + factor, parts -> parts.first = changed(first, factor, 1));
            fine("first decay times " + factor, parts -> parts.first = changed(first, 1, factor));
            fine("second attack times " + factor, parts -> parts.second = changed(second, factor, 1));
            fine("second decay times " + factor, parts -> parts.second = changed(second, 1, factor));
        }
        addBumps(4, 200, 800, 4000, 6300);
        addBumps(1.4, 11_500);
        MutantMatrix.check(Suites.ituRBs468(), sound(), mutants);
    }

    private static Ballistics changed(Ballistics right, double attack, double decay) {
        return new Ballistics(right.attackSeconds() * attack, right.decaySeconds() * decay);
    }
}
