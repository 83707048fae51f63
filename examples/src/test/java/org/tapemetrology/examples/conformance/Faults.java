/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.util.List;
import java.util.Optional;
import java.util.function.UnaryOperator;
import org.tapemetrology.core.filter.AnalogFilter;
import org.tapemetrology.core.filter.MatchedFilter;
import org.tapemetrology.core.filter.Root;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.signals.conformance.AskedFigure;
import org.tapemetrology.signals.conformance.Figure;
import org.tapemetrology.signals.conformance.MeterUnderTest;
import org.tapemetrology.signals.conformance.RecordingFormat;

/** Faults that can be put around or in front of a meter. */
final class Faults {
    private Faults() {}

    /** A response that is off around a frequency and right at another one. */
    static AnalogFilter bump(double hz, double q, double decibels, double rightAtHz) {
        double gain = Math.pow(10, decibels / 20);
        return new AnalogFilter(rightAtHz, List.of(pair(hz, q / gain)), List.of(pair(hz, q)));
    }

    private static Root pair(double hz, double q) {
        return Root.pair(-hz / (2 * q), hz * Math.sqrt(1 - 1 / (4 * q * q)));
    }

    /** The same on the way to the samples' meter. */
    static SecondOrderSections audio(AnalogFilter filter) {
        return new MatchedFilter(filter, 48_000).sections();
    }

    /** What may be wrong with every meter that is fed with samples. */
    static class Around<F extends AskedFigure> implements MeterUnderTest<F> {
        private final MeterUnderTest<F> meter;
        private final UnaryOperator<Figure> change;
        private final boolean swapped;
        private final Optional<SecondOrderSections> filter;

        Around(
                MeterUnderTest<F> meter,
                UnaryOperator<Figure> change,
                boolean swapped,
                Optional<SecondOrderSections> filter) {
            this.meter = meter;
            this.change = change;
            this.swapped = swapped;
            this.filter = filter;
        }

        @Override
        public void start(RecordingFormat format) {
            meter.start(format);
            filter.ifPresent(SecondOrderSections::reset);
        }

        @Override
        public void accept(double[][] block, int length) {
            filter.ifPresent(each -> each.process(block[0], 0, block[0], 0, length));
            meter.accept(block, length);
        }

        @Override
        public Optional<Figure> read(F asked, int channel) {
            return meter.read(asked, swapped ? 0 : channel).map(change);
        }
    }

    /** Decibels too much. */
    static UnaryOperator<Figure> louder(double decibels) {
        return figure -> new Figure(figure.value() + decibels, figure.unit());
    }

    /** A factor too much. */
    static UnaryOperator<Figure> times(double factor) {
        return figure -> new Figure(figure.value() * factor, figure.unit());
    }
}
