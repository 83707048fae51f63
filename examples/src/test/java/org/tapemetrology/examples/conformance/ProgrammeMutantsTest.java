/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleFunction;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.detector.AverageDetector;
import org.tapemetrology.core.detector.Ballistics;
import org.tapemetrology.core.detector.Detector;
import org.tapemetrology.core.detector.TwoStagePeakDetector;
import org.tapemetrology.core.filter.AnalogFilter;
import org.tapemetrology.core.filter.Butterworth;
import org.tapemetrology.core.filter.Root;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.standard.Iec60268Part10;
import org.tapemetrology.core.standard.Iec60268Part17;
import org.tapemetrology.signals.conformance.Figure;
import org.tapemetrology.signals.conformance.ProgrammeMeterUnderTest;
import org.tapemetrology.signals.conformance.Suite;
import org.tapemetrology.signals.conformance.Suites;

/** Volume indicators and peak programme meters with faults. */
class ProgrammeMutantsTest {
    private static final class Around extends Faults.Around<ProgrammeMeterUnderTest.Asked>
            implements ProgrammeMeterUnderTest {
        Around(
                DoubleFunction<Detector> detector,
                UnaryOperator<Figure> change,
                boolean swapped,
                Optional<SecondOrderSections> filter) {
            super(new BlockProgrammeMeter(detector), change, swapped, filter);
        }
    }

    private final List<Mutant<ProgrammeMeterUnderTest>> mutants = new ArrayList<>();

    @BeforeEach
    void begin() {
        mutants.clear();
    }

    private void addCommon(DoubleFunction<Detector> sound) {
        mutants.add(
                Mutant.gross("gain 1 dB too high", () -> new Around(sound, Faults.louder(1), false, Optional.empty())));
        mutants.add(Mutant.fine(
                "gain 0.5 dB too low", () -> new Around(sound, Faults.louder(-0.5), false, Optional.empty())));
        mutants.add(Mutant.gross(
                "channel 1 for every channel", () -> new Around(sound, Faults.louder(0), true, Optional.empty())));
    }

    private void gross(String name, DoubleFunction<Detector> detector) {
        mutants.add(Mutant.gross(name, () -> new BlockProgrammeMeter(detector)));
    }

    private void fine(String name, DoubleFunction<Detector> detector) {
        mutants.add(Mutant.fine(name, () -> new BlockProgrammeMeter(detector)));
    }

    private void filtered(String name, SecondOrderSections filter, boolean isGross) {
        mutants.add(new Mutant<>(
                name,
                isGross,
                () -> new Around(Iec60268Part17::detector, Faults.louder(0), false, Optional.of(filter))));
    }

    private static DoubleFunction<Detector> movement(double damping, double angularFrequency) {
        double hertz = angularFrequency / (2 * Math.PI);
        Root pole = Root.pair(-damping * hertz, Math.sqrt(1 - damping * damping) * hertz);
        return rate -> new AverageDetector(new AnalogFilter(0, List.of(), List.of(pole)).bilinear(rate));
    }

    /** A true-RMS indicator: the movement follows the power. */
    private static Detector rms(double rate) {
        SecondOrderSections smoothing = new AnalogFilter(
                        0, List.of(), List.of(Root.pair(-Iec60268Part17.DAMPING * 2.1505, 2.1505 * 0.5827)))
                .bilinear(rate);
        return new Detector() {
            @Override
            public void process(double[] in, int inOffset, double[] out, int outOffset, int length) {
                for (int i = 0; i < length; i++) {
                    out[outOffset + i] = in[inOffset + i] * in[inOffset + i];
                }
                smoothing.process(out, outOffset, out, outOffset, length);
                for (int i = 0; i < length; i++) {
                    out[outOffset + i] = Math.sqrt(Math.max(0, out[outOffset + i]));
                }
            }

            @Override
            public void reset() {
                smoothing.reset();
            }
        };
    }

    @Test
    void volumeIndicator() throws IOException {
        double damping = Iec60268Part17.DAMPING;
        double angular = Iec60268Part17.ANGULAR_FREQUENCY;
        addCommon(Iec60268Part17::detector);
        gross("RMS instead of average", ProgrammeMutantsTest::rms);
        gross("peak programme meter instead", Iec60268Part10::typeTwoDetector);
        gross("no overswing", movement(0.9, angular));
        fine("damping times 0.8", movement(0.8 * damping, angular));
        fine("damping times 1.2", movement(1.2 * damping, angular));
        fine("natural frequency times 0.8", movement(damping, 0.8 * angular));
        fine("natural frequency times 1.2", movement(damping, 1.2 * angular));
        filtered("lower edge at 20 Hz", Butterworth.highPass(2, 20, 48_000), true);
        filtered("upper edge at 16 kHz", Butterworth.lowPass(2, 16_000, 48_000), true);
        filtered("response 0.5 dB off at 100 Hz", Faults.audio(Faults.bump(100, 1.4, 0.5, 1000)), true);
        filtered("response 0.5 dB off at 5 kHz", Faults.audio(Faults.bump(5000, 1.4, 0.5, 1000)), true);
        check(Suites.iec60268Part17(), Iec60268Part17::detector);
    }

    @Test
    void typeOne() throws IOException {
        addCommon(Iec60268Part10::typeOneDetector);
        gross("type II instead", Iec60268Part10::typeTwoDetector);
        gross("volume indicator instead", Iec60268Part17::detector);
        addConstants(Iec60268Part10.TYPE_I_FIRST_STAGE, Iec60268Part10.TYPE_I_SECOND_STAGE);
        check(Suites.iec60268Part10TypeOne(), Iec60268Part10::typeOneDetector);
    }

    @Test
    void typeTwo() throws IOException {
        addCommon(Iec60268Part10::typeTwoDetector);
        gross("type I instead", Iec60268Part10::typeOneDetector);
        gross("volume indicator instead", Iec60268Part17::detector);
        addConstants(Iec60268Part10.TYPE_II_FIRST_STAGE, Iec60268Part10.TYPE_II_SECOND_STAGE);
        check(Suites.iec60268Part10TypeTwo(), Iec60268Part10::typeTwoDetector);
    }

    private void addConstants(Ballistics first, Ballistics second) {
        for (double factor : new double[] {0.8, 1.2}) {
            fine("first attack times " + factor, rate -> detector(rate, changed(first, factor, 1), second));
            fine("first decay times " + factor, rate -> detector(rate, changed(first, 1, factor), second));
            fine("second attack times " + factor, rate -> detector(rate, first, changed(second, factor, 1)));
            fine("second decay times " + factor, rate -> detector(rate, first, changed(second, 1, factor)));
        }
    }

    private static Detector detector(double rate, Ballistics first, Ballistics second) {
        return new TwoStagePeakDetector(rate, first, second);
    }

    private static Ballistics changed(Ballistics right, double attack, double decay) {
        return new Ballistics(right.attackSeconds() * attack, right.decaySeconds() * decay);
    }

    private void check(Suite<ProgrammeMeterUnderTest> suite, DoubleFunction<Detector> sound) throws IOException {
        MutantMatrix.check(suite, new BlockProgrammeMeter(sound), mutants);
    }
}
