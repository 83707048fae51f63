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
 * {@value #TREND_SECONDS} s on it is looked at whether a frequency moves from the first half to the second, as that of a
 * pack does. Readings without a part come from the bands and detectors of the meter itself.
 *
 * @param seconds length of the part that was looked at
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
    public static final int TREND_SECONDS = 60;

    /** More lines than this are told but not taken out one by one: the weakest hardly count. */
    private static final int MOST_TAKEN_OUT = 24;
    /** A part with this probability is taken to turn at the rate that was found. */
    private static final double CERTAIN = 0.9;
    /** Slip and drift within a recording leave the rate of a part this uncertain. */
    private static final double STEADY_RATE = 5e-4;
    /** Two halves see the same line where it lies within so many resolution widths. */
    private static final double SAME_LINE = 1.5;

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
        List<Trends> halves = trends(part, values);
        List<Found> found = attributed(families, halves, transport, speedRatio);
        found.sort(Comparator.comparingDouble((Found each) -> each.line().amplitude())
                .reversed());
        return read(part, fit, found);
    }

    /**
     * Attributes the families, the strongest first. A part that is then known to turn at the rate of one has no other rate:
     * what comes after is held against that.
     */
    private static List<Found> attributed(
            List<Family> families, List<Trends> halves, Optional<Transport> transport, double speedRatio) {
        Optional<Transport> known = transport;
        List<Found> found = new ArrayList<>();
        families.sort(Comparator.comparingDouble(Family::power).reversed());
        for (Family family : families) {
            Attribution attribution = new Attribution(List.of(), 1);
            if (known.isPresent()) {
                attribution = Attribution.of(observed(family, halves), known.get(), speedRatio);
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

    /** The lines of one half of the recording. */
    private record Trends(double middleSeconds, double widthHz, List<Line> lines) {
        Optional<Line> near(double hz) {
            return lines.stream()
                    .filter(line -> Math.abs(line.frequencyHz() - hz) < SAME_LINE * widthHz)
                    .min(Comparator.comparingDouble(line -> Math.abs(line.frequencyHz() - hz)));
        }
    }

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

    private static List<Trends> trends(DeviationSeries part, double[] values) {
        List<Trends> halves = new ArrayList<>();
        if (part.seconds() < TREND_SECONDS) {
            return halves;
        }
        int length = values.length / 2;
        for (int half = 0; half < 2; half++) {
            LineFit fit = LineFit.of(values, half * length, length, part.rateHz());
            halves.add(new Trends((half + 0.5) * length / part.rateHz(), 1 / fit.seconds(), fit.lines()));
        }
        return halves;
    }

    private static ObservedFamily observed(Family family, List<Trends> halves) {
        ObservedFamily observed = new ObservedFamily(
                family.fundamentalHz(),
                family.uncertaintyHz(),
                List.copyOf(family.members().keySet()),
                Optional.empty());
        if (halves.isEmpty()) {
            return observed;
        }
        Optional<Line> first = halves.get(0).near(family.fundamentalHz());
        Optional<Line> second = halves.get(1).near(family.fundamentalHz());
        if (first.isEmpty() || second.isEmpty()) {
            return observed;
        }
        double apart = halves.get(1).middleSeconds() - halves.get(0).middleSeconds();
        double scale = 1 / (family.fundamentalHz() * apart);
        return observed.withTrend(new ObservedFamily.Trend(
                scale * (second.get().frequencyHz() - first.get().frequencyHz()),
                scale
                        * Math.hypot(
                                first.get().frequencyUncertaintyHz(),
                                second.get().frequencyUncertaintyHz())));
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
                double angle = 2 * Math.PI * line.frequencyHz() * (seconds - middleSeconds) + line.phaseRad();
                sum += line.amplitude() * Math.cos(angle);
            }
            return sum;
        };
    }
}
