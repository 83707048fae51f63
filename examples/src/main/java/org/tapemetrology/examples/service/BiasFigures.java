/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import org.tapemetrology.core.alignment.BiasCurve;
import org.tapemetrology.core.conformity.Limit;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.examples.service.ServiceRecord.Measured;

/**
 * The bias by recordings that were made with several biases, or by one with stepped bias: the level of the shortest
 * wavelength that was recorded, and the third harmonic of the longest. The bias that is set is that of the last recording with
 * one bias alone; its drop below the peak is negative where the bias has not reached the peak.
 */
public final class BiasFigures {
    private static final String METHOD = "bias curve of the shortest wavelength recorded";
    private static final int LEAST_BIASES = 6;

    private BiasFigures() {}

    static CombinedFigures of(List<Measured> latest, ServiceFile service) {
        Map<Double, List<Measurement>> byBias = new TreeMap<>();
        OptionalDouble set = OptionalDouble.empty();
        for (Measured one : latest) {
            List<Double> biases = one.recorded().contents().biases();
            if (one.result().error().isPresent()) {
                continue;
            }
            if (biases.size() == 1) {
                byBias.computeIfAbsent(biases.get(0), bias -> new ArrayList<>()).addAll(one.measurements());
                set = OptionalDouble.of(biases.get(0));
            } else {
                List<String> parts = one.recorded().contents().parts();
                one.parts()
                        .forEach(part -> byBias.computeIfAbsent(
                                        biases.get(parts.indexOf(part.step().name())), bias -> new ArrayList<>())
                                .add(part.measurement()));
            }
        }
        List<Reading> readings = new ArrayList<>();
        List<String> notes = new ArrayList<>();
        for (int channel = 1; channel <= service.channels() && !byBias.isEmpty(); channel++) {
            addChannel(byBias, channel, set, wantedDrop(service), readings, notes);
        }
        return new CombinedFigures(readings, notes);
    }

    /** The drop that the limits ask for: the middle between them, or the one there is. */
    private static OptionalDouble wantedDrop(ServiceFile service) {
        return service.limits().limits().stream()
                .filter(limit -> limit.quantity() == Quantity.BIAS_DROP)
                .mapToDouble(BiasFigures::middle)
                .filter(drop -> drop > 0)
                .findFirst();
    }

    private static double middle(Limit limit) {
        double lower = limit.lower().orElseGet(() -> limit.upper().orElseThrow());
        return (lower + limit.upper().orElse(lower)) / 2;
    }

    /** What was read at one bias. */
    private record Point(double bias, Reading level, OptionalDouble thirdHarmonicPercent) {
        double levelDb() {
            return level.value().orElseThrow();
        }

        BiasCurve.Point ofCurve() {
            return new BiasCurve.Point(bias, levelDb(), thirdHarmonicPercent);
        }
    }

    private static void addChannel(
            Map<Double, List<Measurement>> byBias,
            int channel,
            OptionalDouble set,
            OptionalDouble wanted,
            List<Reading> readings,
            List<String> notes) {
        List<Point> points = new ArrayList<>();
        byBias.forEach((bias, measured) -> ToneReadings.levelOfHighest(measured, channel)
                .ifPresent(level -> points.add(new Point(
                        bias,
                        level,
                        ToneReadings.thirdHarmonicOfLowest(measured, channel)
                                .map(Reading::value)
                                .orElse(OptionalDouble.empty())))));
        if (points.size() < LEAST_BIASES) {
            readings.add(Reading.without(Quantity.BIAS_DROP, Status.INSUFFICIENT_DATA, METHOD)
                    .onChannel(channel));
            notes.add("channel " + channel + ": " + points.size() + " biases make no curve, it takes " + LEAST_BIASES);
            return;
        }
        BiasCurve curve = BiasCurve.of(points.stream().map(Point::ofCurve).toList());
        readings.add(drop(curve, points, set).onChannel(channel));
        notes.add("channel " + channel + ": " + sentence(curve, wanted));
        if (curve.peakBias().isPresent() && set.isEmpty()) {
            notes.add("channel " + channel
                    + ": set the bias, and record once more with it so that the setting can be judged");
        }
    }

    private static Reading drop(BiasCurve curve, List<Point> points, OptionalDouble set) {
        OptionalDouble peak = curve.peakBias();
        Optional<Point> present = points.stream()
                .filter(point -> set.isPresent() && point.bias() == set.getAsDouble())
                .findFirst();
        if (peak.isEmpty() || present.isEmpty()) {
            return Reading.without(Quantity.BIAS_DROP, Status.INSUFFICIENT_DATA, METHOD);
        }
        double bias = present.get().bias();
        double drop = curve.dropDb(bias);
        Reading reading = Reading.valid(Quantity.BIAS_DROP, bias < peak.getAsDouble() ? -drop : drop, METHOD);
        return curve.dropUncertainty(bias).map(reading::withTypeA).orElse(reading);
    }

    private static String sentence(BiasCurve curve, OptionalDouble wanted) {
        OptionalDouble peak = curve.peakBias();
        if (peak.isEmpty()) {
            return "the level has no peak over these biases: record with lower and higher ones";
        }
        StringBuilder text =
                new StringBuilder(String.format(Locale.ROOT, "highest level at a bias of %.3g", peak.getAsDouble()));
        if (wanted.isPresent()) {
            OptionalDouble recommended = curve.biasForDrop(wanted.getAsDouble());
            text.append(
                    recommended.isPresent()
                            ? String.format(
                                    Locale.ROOT,
                                    "; for a drop of %.3g dB set it to %.3g",
                                    wanted.getAsDouble(),
                                    recommended.getAsDouble())
                            : String.format(
                                    Locale.ROOT,
                                    "; a drop of %.3g dB was not reached: record with higher biases",
                                    wanted.getAsDouble()));
        }
        curve.leastDistortionBias()
                .ifPresent(least -> text.append(String.format(Locale.ROOT, "; least third harmonic at %.3g", least)));
        return text.toString();
    }
}
