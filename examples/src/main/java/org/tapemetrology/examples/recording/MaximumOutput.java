/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.recording;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.alignment.MaximumOutputLevel;
import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.core.programme.ProgrammeMeasurement.StepMeasurement;
import org.tapemetrology.core.programme.Step;
import org.tapemetrology.core.programme.StepSignal;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;

/**
 * The maximum output level by the tones of a programme: those of one frequency on the same channels at three or more levels.
 * It is added to the readings of the strongest of them; where the levels do not enclose it, it has no value.
 */
public final class MaximumOutput {
    private static final int LEAST_LEVELS = 3;
    private static final String METHOD = "third harmonic of 3 %, between the levels of the programme";

    private MaximumOutput() {}

    /** Tones that belong together. */
    private record Key(double frequencyHz, Step.Side side) {}

    /** A level with its third harmonic, as they were read. */
    private record Point(Reading level, Reading third) {
        double levelDb() {
            return level.value().orElseThrow();
        }

        double percent() {
            return third.value().orElseThrow();
        }
    }

    /** The steps with the maximum output levels that they tell. */
    static List<StepMeasurement> added(Programme programme, List<StepMeasurement> measured) {
        Map<Key, List<StepMeasurement>> groups = new LinkedHashMap<>();
        for (StepMeasurement one : measured) {
            Step step = programme.steps().get(one.step().index());
            if (step.signal() instanceof StepSignal.Tone tone) {
                groups.computeIfAbsent(new Key(tone.frequencyHz(), step.side()), key -> new ArrayList<>())
                        .add(one);
            }
        }
        Map<StepMeasurement, List<Reading>> found = new LinkedHashMap<>();
        for (Map.Entry<Key, List<StepMeasurement>> group : groups.entrySet()) {
            List<StepMeasurement> byLevel = group.getValue().stream()
                    .sorted(Comparator.comparingDouble(one -> sentDbfs(programme, one)))
                    .toList();
            if (byLevel.stream()
                            .mapToDouble(one -> sentDbfs(programme, one))
                            .distinct()
                            .count()
                    >= LEAST_LEVELS) {
                found.put(byLevel.get(byLevel.size() - 1), readings(group.getKey(), byLevel));
            }
        }
        return measured.stream()
                .map(one -> found.containsKey(one) ? with(one, found.get(one)) : one)
                .toList();
    }

    private static double sentDbfs(Programme programme, StepMeasurement one) {
        return ((StepSignal.Tone) programme.steps().get(one.step().index()).signal()).levelDbfs();
    }

    private static StepMeasurement with(StepMeasurement one, List<Reading> more) {
        List<Reading> readings = new ArrayList<>(one.measurement().readings());
        readings.addAll(more);
        return new StepMeasurement(
                one.step(), new Measurement(readings, one.measurement().warnings()));
    }

    private static List<Reading> readings(Key key, List<StepMeasurement> byLevel) {
        List<Reading> readings = new ArrayList<>();
        for (int channel = 1; channel <= 2; channel++) {
            if (!key.side().carries(channel)) {
                continue;
            }
            List<Point> points = new ArrayList<>();
            for (StepMeasurement one : byLevel) {
                Optional<Reading> level =
                        one.measurement().find(Quantity.LEVEL, channel).filter(Reading::isValid);
                Optional<Reading> third = one.measurement()
                        .find(Quantity.DISTORTION_THIRD_HARMONIC, channel)
                        .filter(reading -> reading.value().orElse(0) > 0);
                if (level.isPresent() && third.isPresent()) {
                    points.add(new Point(level.get(), third.get()));
                }
            }
            if (!points.isEmpty()) {
                readings.add(reading(points).onChannel(channel).atFrequency(key.frequencyHz()));
            }
        }
        return readings;
    }

    private static Reading reading(List<Point> points) {
        OptionalDouble level = MaximumOutputLevel.between(points.stream()
                .map(point -> new MaximumOutputLevel.Point(point.levelDb(), point.percent()))
                .toList());
        if (level.isEmpty()) {
            return Reading.without(Quantity.LEVEL_MAXIMUM_OUTPUT, Status.INSUFFICIENT_DATA, METHOD);
        }
        Reading reading = Reading.valid(Quantity.LEVEL_MAXIMUM_OUTPUT, level.getAsDouble(), METHOD);
        return scatter(points, level.getAsDouble()).map(reading::withTypeA).orElse(reading);
    }

    /**
     * That of the nearest level and of its third harmonic, which rises with the square of the level: a change of its
     * logarithm by 2 dB is one of the level by 1 dB.
     */
    private static Optional<StandardUncertainty> scatter(List<Point> points, double level) {
        Point nearest = points.stream()
                .min(Comparator.comparingDouble(point -> Math.abs(point.levelDb() - level)))
                .orElseThrow();
        double decibelsPerPercent = 20 / StrictMath.log(10) / nearest.percent() / 2;
        return nearest.level()
                .typeA()
                .flatMap(own -> nearest.third().typeA().map(third -> own.and(third.times(decibelsPerPercent))));
    }
}
