/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Plays recordings to meters and reads figures. A figure that was read once is kept for the run, since many cases refer to
 * the same recording. Only finite figures in the unit that was asked for come out of here.
 */
final class Bench {
    /** An indication is looked at this often; no ballistics of the documents moves by a hundredth of a limit in it. */
    private static final int LOOKS_PER_SECOND = 1000;

    private static final int BLOCK = 4096;

    private final Map<List<Object>, Double> known = new HashMap<>();
    private final Player player;

    Bench(Player player) {
        this.player = player;
    }

    /** A figure at the end of a recording; the channel counts from 0. */
    <F extends AskedFigure> double read(MeterUnderTest<F> meter, Recording recording, F asked, int channel) {
        List<Object> key = List.of(recording.name(), asked, channel);
        Double before = known.get(key);
        if (before != null) {
            return before;
        }
        player.play(meter, recording, BLOCK, () -> {});
        double value = value(meter.read(asked, channel), asked.id(), asked.unit());
        known.put(key, value);
        return value;
    }

    /** An indication from a moment on, a thousand times a second; NaN where there is none. */
    <F extends AskedFigure> Trace trace(MeterUnderTest<F> meter, Recording recording, F asked, double fromSeconds) {
        int block = recording.sampleRateHz() / LOOKS_PER_SECOND;
        if (block * LOOKS_PER_SECOND != recording.sampleRateHz()) {
            throw new IllegalStateException(recording.name() + " has no whole number of samples per millisecond");
        }
        int first = (int) Math.round(fromSeconds * LOOKS_PER_SECOND);
        List<Double> values = new ArrayList<>();
        int[] looks = {0};
        player.play(meter, recording, block, () -> {
            looks[0]++;
            if (looks[0] > first) {
                Optional<Figure> figure = meter.read(asked, 0);
                values.add(figure.isEmpty() ? Double.NaN : value(figure, asked.id(), asked.unit()));
            }
        });
        return new Trace(
                1.0 / LOOKS_PER_SECOND,
                values.stream().mapToDouble(Double::doubleValue).toArray());
    }

    /** The value of a figure, or why it is none. */
    static double value(Optional<Figure> figure, String id, String unit) {
        if (figure.isEmpty()) {
            throw new NotReadException("the meter gave no " + id);
        }
        Figure given = figure.get();
        if (!given.unit().equals(unit)) {
            throw new NotReadException(id + " was given in '" + given.unit() + "', asked: '" + unit + "'");
        }
        if (!Double.isFinite(given.value())) {
            throw new NotReadException(id + " is " + given.value());
        }
        return given.value();
    }

    /** What an indication did: value i is what it was (i + 1) intervals after the first moment. */
    static final class Trace {
        private final double intervalSeconds;
        private final double[] values;

        private Trace(double intervalSeconds, double[] values) {
            this.intervalSeconds = intervalSeconds;
            this.values = values;
        }

        double last() {
            return read(values[values.length - 1]);
        }

        double highest() {
            double highest = read(values[0]);
            for (double value : values) {
                highest = Math.max(highest, read(value));
            }
            return highest;
        }

        double lowest() {
            double lowest = read(values[0]);
            for (double value : values) {
                lowest = Math.min(lowest, read(value));
            }
            return lowest;
        }

        /** When the indication first is at a level or above it; what is not read is not above. */
        double secondsToReach(double level) {
            for (int i = 0; i < values.length; i++) {
                if (values[i] >= level) {
                    return (i + 1) * intervalSeconds;
                }
            }
            throw new NotReadException("the indication never reached " + level);
        }

        /** When the indication first is at a level or below it; what is not read is not below. */
        double secondsToFallTo(double level) {
            for (int i = 0; i < values.length; i++) {
                if (values[i] <= level) {
                    return (i + 1) * intervalSeconds;
                }
            }
            throw new NotReadException("the indication never fell to " + level);
        }

        private static double read(double value) {
            if (Double.isNaN(value)) {
                throw new NotReadException("the indication was not there all the time");
            }
            return value;
        }
    }
}
