/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.diagnosis;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import org.tapemetrology.core.flutter.DeviationSeries;
import org.tapemetrology.core.flutter.FlutterWithout;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.spectrum.HarmonicFamily;
import org.tapemetrology.core.spectrum.Line;
import org.tapemetrology.core.spectrum.LineFit;
import org.tapemetrology.core.transport.Attribution;
import org.tapemetrology.core.transport.ObservedFamily;
import org.tapemetrology.core.transport.Part;
import org.tapemetrology.core.transport.PartKind;
import org.tapemetrology.core.transport.Transport;

/**
 * Why a machine flutters: the periodic components of its deviation, the parts of its transport that can make each, and the
 * readings that would remain without each component and without everything that one part makes.
 *
 * <p>At most {@value #MOST_SECONDS} s from the middle of the recording are looked at, and they need
 * {@value #LEAST_SECONDS} s. Components are those of {@link LineFit}, families of harmonics stand together, and from
 * {@value #TREND_SECONDS} s on it counts whether a frequency moves, as that of a pack does. Readings without a part come from the bands and detectors of the meter itself.
 *
 * <p>Made by {@link #of}, which refuses a deviation that is not finite and a speed ratio that is not finite and above
 * 0; its numbers themselves are not checked. Not for a tone shorter than {@value #LEAST_SECONDS} s, nor for what
 * happens once: a diagnosis looks for what comes back.
 *
 * @param seconds length of the part that was looked at, in s
 * @param reading what the machine reads of that part
 * @param components components by falling gain: the one whose removal leaves the least weighted quasi-peak first
 * @param repairs parts by the weighted quasi-peak that their repair would leave, the least first
 */
public record Diagnosis(double seconds, Measurement reading, List<Component> components, List<Repair> repairs) {
    /** Most seconds of a recording that are looked at. */
    public static final int MOST_SECONDS = 180;

    /** Least seconds that are needed. */
    public static final int LEAST_SECONDS = 10;

    /** Least seconds from which a frequency can be seen to move. */
    public static final int TREND_SECONDS = 50;

    /** More lines than this are told but not taken out one by one: the weakest hardly count. */
    private static final int MOST_TAKEN_OUT = 24;
    /** A part with this probability is taken to turn at the rate that was found. */
    private static final double CERTAIN = 0.9;
    /** Slip and drift within a recording leave the rate of a part this uncertain. */
    private static final double STEADY_RATE = 5e-4;
    /** From here on a line is fitted with a drift of its frequency. */
    private static final double TREND_FROM_DB = 20;
    /**
     * Uncertainty of a drift re that of the frequency over the length of the record, of a line in white noise: the bounds
     * of Cramer and Rao for a phase of second degree have the ratio sqrt(60) (computed).
     */
    private static final double DRIFT_TO_FREQUENCY = 7.746;

    /**
     * A diagnosis; its lists are copied.
     *
     * @param seconds length of the part that was looked at
     * @param reading what the machine reads of it
     * @param components components by falling gain
     * @param repairs parts by falling gain
     */
    public Diagnosis {
        components = List.copyOf(components);
        repairs = List.copyOf(repairs);
    }

    /**
     * Diagnoses a machine.
     *
     * @param series deviation of a tone of at least {@value #LEAST_SECONDS} s
     * @param transport the parts of the machine, where they are known
     * @param speedRatio measured speed over the nominal one
     * @return what was found
     */
    public static Diagnosis of(DeviationSeries series, Optional<Transport> transport, double speedRatio) {
        if (series.seconds() < LEAST_SECONDS) {
            throw new IllegalArgumentException("a tone of " + series.seconds() + " s is shorter than the "
                    + LEAST_SECONDS + " s that a diagnosis needs");
        }
        DeviationSeries part = middle(series);
        double[] values = part.part(0, part.size());
        LineFit fit = LineFit.of(values, part.rateHz());
        List<Family> families = families(fit);
        List<Found> found = attributed(families, part.seconds(), transport, speedRatio);
        found.sort(Comparator.comparingDouble((Found each) -> each.line().amplitude())
                .reversed());
        return read(part, fit, found);
    }

    /**
     * Attributes the families, the strongest first. A part that is then known to turn at the rate of one has no other rate:
     * what comes after is held against that.
     */
    private static List<Found> attributed(
            List<Family> families, double seconds, Optional<Transport> transport, double speedRatio) {
        Optional<Transport> known = transport;
        List<Found> found = new ArrayList<>();
        families.sort(Comparator.comparingDouble(Family::power).reversed());
        for (Family family : families) {
            Attribution attribution = new Attribution(List.of(), 1);
            if (known.isPresent()) {
                attribution = Attribution.of(observed(family, seconds), known.get(), speedRatio);
                known = Optional.of(refined(known.get(), attribution, family, speedRatio));
            }
            for (Map.Entry<Integer, Line> member : family.members().entrySet()) {
                found.add(new Found(member.getValue(), member.getKey(), attribution));
            }
        }
        return found;
    }

    private static Transport refined(Transport transport, Attribution attribution, Family family, double speedRatio) {
        if (attribution.parts().isEmpty()) {
            return transport;
        }
        Attribution.PartProbability likeliest = attribution.parts().get(0);
        Part part = transport.parts().stream()
                .filter(each -> each.name().equals(likeliest.part()))
                .findFirst()
                .orElseThrow();
        boolean steady = part.kind() != PartKind.PACK && part.kind() != PartKind.GUIDE;
        if (!steady || likeliest.harmonic() > 1 || likeliest.probability() < CERTAIN) {
            return transport;
        }
        double nominalHz = family.fundamentalHz() / speedRatio;
        double uncertainty = Math.max(STEADY_RATE, family.uncertaintyHz() / family.fundamentalHz());
        return transport.with(new Part(part.name(), part.kind(), nominalHz, nominalHz, Math.min(0.5, uncertainty)));
    }

    private static DeviationSeries middle(DeviationSeries series) {
        int most = (int) (MOST_SECONDS * series.rateHz());
        return series.size() <= most ? series : series.slice((series.size() - most) / 2, most);
    }

    /** A fundamental with its harmonics, by order. */
    private record Family(double fundamentalHz, double uncertaintyHz, Map<Integer, Line> members) {
        double power() {
            return members.values().stream()
                    .mapToDouble(line -> line.amplitude() * line.amplitude())
                    .sum();
        }
    }

    private record Found(Line line, int order, Attribution attribution) {}

    private static List<Family> families(LineFit fit) {
        List<Line> alone = new ArrayList<>(fit.lines());
        List<Family> families = new ArrayList<>();
        for (HarmonicFamily family : fit.families()) {
            Map<Integer, Line> members = new LinkedHashMap<>();
            for (HarmonicFamily.Member member : family.members()) {
                members.put(member.order(), member.line());
                alone.remove(member.line());
            }
            families.add(new Family(family.fundamentalHz(), family.fundamentalUncertaintyHz(), members));
        }
        for (Line line : alone) {
            families.add(new Family(line.frequencyHz(), line.frequencyUncertaintyHz(), Map.of(1, line)));
        }
        return families;
    }

    /** A family with the movement of its fundamental, where its noise is low enough to tell. */
    private static ObservedFamily observed(Family family, double seconds) {
        ObservedFamily observed = new ObservedFamily(
                family.fundamentalHz(),
                family.uncertaintyHz(),
                List.copyOf(family.members().keySet()),
                Optional.empty());
        Map.Entry<Integer, Line> clearest = family.members().entrySet().stream()
                .max(Comparator.comparingDouble(member -> member.getValue().noiseRatioDb()))
                .orElseThrow();
        Line line = clearest.getValue();
        if (line.noiseRatioDb() < TREND_FROM_DB || seconds < TREND_SECONDS) {
            return observed;
        }
        double uncertainty = line.driftUncertaintyHzPerSecond() > 0
                ? line.driftUncertaintyHzPerSecond()
                : DRIFT_TO_FREQUENCY * line.frequencyUncertaintyHz() / seconds;
        return observed.withTrend(new ObservedFamily.Trend(
                line.driftHzPerSecond() / line.frequencyHz(), uncertainty / line.frequencyHz()));
    }

    private static Diagnosis read(DeviationSeries part, LineFit fit, List<Found> found) {
        int taken = Math.min(found.size(), MOST_TAKEN_OUT);
        Map<String, List<Found>> byPart = new LinkedHashMap<>();
        for (Found each : found.subList(0, taken)) {
            if (!each.attribution().parts().isEmpty()) {
                Attribution.PartProbability likeliest =
                        each.attribution().parts().get(0);
                if (likeliest.probability() > 0.5) {
                    byPart.computeIfAbsent(likeliest.part(), name -> new ArrayList<>())
                            .add(each);
                }
            }
        }
        List<DoubleUnaryOperator> out = new ArrayList<>();
        out.add(seconds -> 0);
        for (Found each : found.subList(0, taken)) {
            out.add(deviation(List.of(each), fit.middleSeconds()));
        }
        byPart.values().forEach(all -> out.add(deviation(all, fit.middleSeconds())));
        List<Measurement> readings = new FlutterWithout(part).without(out);

        List<Component> components = new ArrayList<>();
        for (int i = 0; i < found.size(); i++) {
            Found each = found.get(i);
            components.add(
                    new Component(each.line(), each.order(), each.attribution(), readings.get(i < taken ? i + 1 : 0)));
        }
        List<Repair> repairs = new ArrayList<>();
        int next = taken + 1;
        for (Map.Entry<String, List<Found>> entry : byPart.entrySet()) {
            repairs.add(new Repair(
                    entry.getKey(),
                    entry.getValue().stream()
                            .map(each -> each.line().frequencyHz())
                            .sorted()
                            .toList(),
                    readings.get(next++)));
        }
        components.sort(Comparator.comparingDouble(component -> rank(component.without())));
        repairs.sort(Comparator.comparingDouble(repair -> rank(repair.without())));
        return new Diagnosis(part.seconds(), readings.get(0), components, repairs);
    }

    private static double rank(Measurement without) {
        return without.find(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK)
                .orElseThrow()
                .value()
                .orElse(0);
    }

    /** The deviation that lines make, over seconds from the first value of the series. */
    private static DoubleUnaryOperator deviation(List<Found> lines, double middleSeconds) {
        return seconds -> {
            double sum = 0;
            for (Found each : lines) {
                Line line = each.line();
                double t = seconds - middleSeconds;
                double turns = (line.frequencyHz() + line.driftHzPerSecond() * t / 2) * t;
                double angle = 2 * Math.PI * turns + line.phaseRad();
                sum += line.amplitude() * Math.cos(angle);
            }
            return sum;
        };
    }
}
