/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.standard.ReplayEqualisation;
import org.tapemetrology.signals.conformance.EqualisationUnderTest;
import org.tapemetrology.signals.conformance.Figure;
import org.tapemetrology.signals.conformance.RecordingFormat;
import org.tapemetrology.signals.conformance.SpeedMeterUnderTest;
import org.tapemetrology.signals.conformance.Suites;

/** Speed meters and equalisations with faults. */
class SpeedAndEqualisationMutantsTest {
    /** A counter of zero crossings whose times are kept. */
    private static final class Counter implements SpeedMeterUnderTest {
        private final double clock;
        private final double forgetAfterSeconds;
        private final boolean wholeCycles;
        private final boolean median;
        private final OptionalDouble alwaysNominal;
        private final boolean swapped;
        private final List<List<Double>> crossings = new ArrayList<>();
        private double[] before = new double[0];
        private double nominalHz;
        private double rateHz;
        private long taken;

        Counter(
                double clock,
                double forgetAfterSeconds,
                boolean wholeCycles,
                boolean median,
                OptionalDouble alwaysNominal,
                boolean swapped) {
            this.clock = clock;
            this.forgetAfterSeconds = forgetAfterSeconds;
            this.wholeCycles = wholeCycles;
            this.median = median;
            this.alwaysNominal = alwaysNominal;
            this.swapped = swapped;
        }

        static Counter sound() {
            return new Counter(1, 1e9, false, false, OptionalDouble.empty(), false);
        }

        @Override
        public void start(RecordingFormat format) {
            crossings.clear();
            for (int i = 0; i < format.channels(); i++) {
                crossings.add(new ArrayList<>());
            }
            before = new double[format.channels()];
            rateHz = format.sampleRateHz();
            nominalHz = alwaysNominal.orElse(format.nominalHz().orElseThrow());
            taken = 0;
        }

        @Override
        public void accept(double[][] block, int length) {
            for (int channel = 0; channel < before.length; channel++) {
                for (int i = 0; i < length; i++) {
                    double x = block[channel][i];
                    double last = before[channel];
                    double seconds = (taken + i - x / (x - last)) / rateHz;
                    if (last < 0 && x >= 0 && seconds < forgetAfterSeconds) {
                        crossings.get(channel).add(seconds);
                    }
                    before[channel] = x;
                }
            }
            taken += length;
        }

        @Override
        public Optional<Figure> read(Asked asked, int channel) {
            double[] times = crossings.get(swapped ? 0 : channel).stream()
                    .mapToDouble(Double::doubleValue)
                    .toArray();
            int last = times.length - 1;
            double hz = wholeCycles ? Math.rint(times.length / (taken / rateHz)) : last / (times[last] - times[0]);
            if (median) {
                double[] periods = new double[last];
                Arrays.setAll(periods, i -> times[i + 1] - times[i]);
                Arrays.sort(periods);
                hz = 1 / periods[last / 2];
            }
            return Optional.of(new Figure(100 * (clock * hz / nominalHz - 1), "%"));
        }
    }

    @Test
    void speed() throws IOException {
        OptionalDouble none = OptionalDouble.empty();
        List<Mutant<SpeedMeterUnderTest>> mutants = List.of(
                Mutant.gross("clock 0.1 % off", () -> new Counter(1.001, 1e9, false, false, none, false)),
                Mutant.fine("clock 0.01 % off", () -> new Counter(1.0001, 1e9, false, false, none, false)),
                Mutant.gross("first 2 s alone", () -> new Counter(1, 2, false, false, none, false)),
                Mutant.fine("whole cycles in 1 s", () -> new Counter(1, 1e9, true, false, none, false)),
                Mutant.gross("median instead of mean", () -> new Counter(1, 1e9, false, true, none, false)),
                Mutant.gross(
                        "3150 Hz always taken for nominal",
                        () -> new Counter(1, 1e9, false, false, OptionalDouble.of(3150), false)),
                Mutant.gross("channel 1 for every channel", () -> new Counter(1, 1e9, false, false, none, true)));
        MutantMatrix.check(Suites.din45500Speed(), Counter.sound(), mutants);
    }

    private static EqualisationUnderTest curve(double bassFactor, double trebleFactor, UnaryOperator<Figure> change) {
        return (bass, treble, hz, referenceHz) -> {
            ReplayEqualisation curve = bass.isPresent()
                    ? ReplayEqualisation.of(bassFactor * bass.getAsDouble(), trebleFactor * treble)
                    : ReplayEqualisation.trebleOnly(trebleFactor * treble);
            return Optional.of(change.apply(new Figure(curve.fluxLevelDb(hz, referenceHz), "dB")));
        };
    }

    @Test
    void equalisation() throws IOException {
        UnaryOperator<Figure> asIs = figure -> figure;
        EqualisationUnderTest noLift = (bass, treble, hz, referenceHz) ->
                Optional.of(new Figure(ReplayEqualisation.trebleOnly(treble).fluxLevelDb(hz, referenceHz), "dB"));
        EqualisationUnderTest lift = (bass, treble, hz, referenceHz) -> Optional.of(
                new Figure(ReplayEqualisation.of(bass.orElse(3180), treble).fluxLevelDb(hz, referenceHz), "dB"));
        EqualisationUnderTest wrongReference =
                (bass, treble, hz, referenceHz) -> curve(1, 1, asIs).fluxLevel(bass, treble, hz, 1000);
        List<Mutant<EqualisationUnderTest>> mutants = List.of(
                Mutant.gross("gain of the amplifier instead of the flux", () -> curve(1, 1, Faults.times(-1))),
                Mutant.gross("always re 1 kHz", () -> wrongReference),
                Mutant.gross("no bass lift", () -> noLift),
                Mutant.gross("bass lift of 3180 us everywhere", () -> lift),
                Mutant.fine("0.5 dB too high", () -> curve(1, 1, Faults.louder(0.5))),
                Mutant.fine("shorter time constant times 0.8", () -> curve(1, 0.8, asIs)),
                Mutant.fine("shorter time constant times 1.2", () -> curve(1, 1.2, asIs)),
                Mutant.fine("longer time constant times 0.8", () -> curve(0.8, 1, asIs)),
                Mutant.fine("longer time constant times 1.2", () -> curve(1.2, 1, asIs)));
        MutantMatrix.check(Suites.iec60094Equalisation(), curve(1, 1, asIs), mutants);
    }
}
