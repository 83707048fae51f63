/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.io.IOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.detector.QuasiPeakConstants;
import org.tapemetrology.core.standard.Iec60386Edition1972;
import org.tapemetrology.examples.conformance.BlockFlutterMeter.Detector;
import org.tapemetrology.examples.conformance.BlockFlutterMeter.Parts;
import org.tapemetrology.signals.conformance.Figure;
import org.tapemetrology.signals.conformance.FlutterMeterUnderTest;
import org.tapemetrology.signals.conformance.Suite;
import org.tapemetrology.signals.conformance.Suites;

/** Flutter meters with faults. */
class FlutterMutantsTest {
    private final Map<String, BlockFlutterMeter.Values> demodulated = new HashMap<>();

    private final class Around extends Faults.Around<FlutterMeterUnderTest.Asked> implements FlutterMeterUnderTest {
        Around(UnaryOperator<Figure> change, boolean swapped) {
            super(block(parts -> {}), change, swapped, Optional.empty());
        }
    }

    private BlockFlutterMeter block(Consumer<Parts> spoil) {
        Parts parts = new Parts();
        spoil.accept(parts);
        return new BlockFlutterMeter(parts, demodulated);
    }

    private Mutant<FlutterMeterUnderTest> gross(String name, Consumer<Parts> spoil) {
        return Mutant.gross(name, () -> block(spoil));
    }

    private Mutant<FlutterMeterUnderTest> fine(String name, Consumer<Parts> spoil) {
        return Mutant.fine(name, () -> block(spoil));
    }

    private List<Mutant<FlutterMeterUnderTest>> always() {
        return new ArrayList<>(List.of(
                Mutant.gross("gain 10 % too high", () -> new Around(Faults.times(1.1), false)),
                Mutant.fine("gain 2 % too low", () -> new Around(Faults.times(0.98), false)),
                Mutant.gross("channel 1 for every channel", () -> new Around(Faults.times(1), true)),
                gross("no weighting", parts -> parts.weighting = Optional.empty()),
                fine("in per cent of the nominal speed", parts -> parts.overNominal = true),
                gross("start-up transient counted", parts -> {
                    parts.preset = false;
                    parts.settlingSeconds = 0;
                })));
    }

    /** Rates, each with the sign that its row of the table makes the harder one to see. */
    private void addBumps(List<Mutant<FlutterMeterUnderTest>> mutants, double... signedRates) {
        for (double signed : signedRates) {
            double rate = Math.abs(signed);
            double db = Math.copySign(0.5, signed);
            mutants.add(fine(
                    "weighting " + db + " dB off at " + rate + " Hz",
                    parts -> parts.spoiltBy = Optional.of(Faults.bump(rate, 5, db, 4))));
        }
    }

    private void check(Suite<FlutterMeterUnderTest> suite, List<Mutant<FlutterMeterUnderTest>> mutants)
            throws IOException {
        MutantMatrix.check(suite, block(parts -> {}), mutants);
    }

    @Test
    void quasiPeak() throws IOException {
        List<Mutant<FlutterMeterUnderTest>> mutants = always();
        mutants.add(gross("plain peak hold", parts -> parts.plainPeak = true));
        mutants.add(gross("faster speed alone counted", parts -> parts.rectified = x -> 2 * Math.max(0, x)));
        mutants.add(gross("slower speed alone counted", parts -> parts.rectified = x -> 2 * Math.min(0, x)));
        mutants.add(gross("peak to peak shown", parts -> parts.rectified = x -> 2 * x));
        for (int constant = 0; constant < 5; constant++) {
            for (double factor : new double[] {0.8, 1.2}) {
                int which = constant;
                mutants.add(fine(
                        NAMES.get(constant) + " times " + factor, parts -> parts.constants = changed(which, factor)));
            }
        }
        check(Suites.iec60386QuasiPeak(), mutants);
    }

    private static final List<String> NAMES =
            List.of("hold attack", "hold decay", "smoothing attack", "smoothing decay", "meter time constant");

    private static QuasiPeakConstants changed(int which, double factor) {
        QuasiPeakConstants right = Iec60386Edition1972.QUASI_PEAK;
        double[] c = {
            right.holdAttackSeconds(),
            right.holdDecaySeconds(),
            right.smoothAttackSeconds(),
            right.smoothDecaySeconds(),
            right.meterSeconds()
        };
        c[which] *= factor;
        return new QuasiPeakConstants(c[0], c[1], c[2], c[3], c[4]);
    }

    @Test
    void twoSigma() throws IOException {
        List<Mutant<FlutterMeterUnderTest>> mutants = always();
        mutants.add(gross("twice the standard deviation", parts -> parts.twoSigma = Detector.TWICE_DEVIATION));
        mutants.add(gross("peak", parts -> parts.twoSigma = Detector.PEAK));
        mutants.add(fine("exceeded for 10 % of the time", parts -> parts.exceeded = 0.1));
        addBumps(mutants, -0.2, -0.315, -0.4, 0.63, 0.8, 1, -1.6, -2, -6.3, 10, -20, 40, -63, 100, -200);
        check(Suites.iec60386TwoSigma(), mutants);
    }

    @Test
    void nab() throws IOException {
        List<Mutant<FlutterMeterUnderTest>> mutants = always();
        mutants.add(gross("RMS instead of average", parts -> parts.average = Detector.RMS));
        mutants.add(gross("peak instead of average", parts -> parts.average = Detector.PEAK));
        mutants.add(gross("flat band from 3 Hz", parts -> parts.flatFromHz = 3));
        mutants.add(gross("flat band from 9 Hz", parts -> parts.flatFromHz = 9));
        mutants.add(gross("flat band to 50 Hz", parts -> parts.flatToHz = 50));
        addBumps(mutants, 0.63, -6.3, 40);
        check(Suites.nab1965(), mutants);
    }

    @Test
    void jis() throws IOException {
        List<Mutant<FlutterMeterUnderTest>> mutants = always();
        mutants.add(gross("average instead of RMS", parts -> parts.rms = Detector.AVERAGE));
        mutants.add(gross("peak instead of RMS", parts -> parts.rms = Detector.PEAK));
        addBumps(mutants, 0.63, -6.3, 40);
        check(Suites.jisC5551(), mutants);
    }
}
