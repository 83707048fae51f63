/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;

/** Decides which steps of the best alignment are certain enough to be named, and says what is missing. */
final class StepNaming {
    private static final double LEAST_MARGIN = 1.5;
    /** How far length and speed of a step that stands alone may disagree. */
    private static final double ALONE_SECONDS = 0.12;

    private static final double ALONE_SHARE = 0.015;
    private static final double MISSING_SECONDS = 0.3;
    private static final double MISSING_SHARE = 0.03;
    private static final double LONG_GAP_SECONDS = 0.5;
    private static final double INTERRUPTED_SHARE = 0.9;
    /** Parts of a sweep's ends, as logarithms of frequency, that a recording may lose. */
    private static final double LOST_AT_START = 0.5;

    private static final double LOST_AT_END = 0.8;
    /** What is taken for lost of a sweep is at most this part of what is heard of it. */
    private static final double MOST_LOST_SHARE = 0.5;

    /** The lowest frequency that a short frame tells, in Hz. */
    private static final double TOLD_FROM_HZ = 50;

    private static final double LOUD_DB = 20;
    private static final double PAUSE_EDGE_SECONDS = 0.2;
    /** Both ends are known to some 30 ms: what is longer or shorter by more holds a stop or a cut. */
    private static final double PAUSE_TOLERANCE_SECONDS = 0.15;

    /** How far a stretch may reach beyond the place that the other steps leave it. */
    private static final double BEYOND_SECONDS = 0.15;

    private static final double LEAST_PAUSE_SECONDS = 0.5;

    private final Programme programme;
    private final List<Step> steps;
    private final List<Segment> segments;
    private final Alignment alignment;
    private final double recordingSeconds;
    private final List<Warning> warnings = new ArrayList<>();
    private final TreeMap<Integer, RecognisedStep> found = new TreeMap<>();
    /** Start of the programme in the recording as each step that was found has it. */
    private final TreeMap<Integer, Double> origins = new TreeMap<>();

    StepNaming(Programme programme, List<Segment> segments, Alignment alignment, double recordingSeconds) {
        this.programme = programme;
        this.steps = programme.steps();
        this.segments = segments;
        this.alignment = alignment;
        this.recordingSeconds = recordingSeconds;
    }

    /** Pieces of one step, and the group of steps whose times agree to which they belong. */
    private record Group(List<Alignment.Node> nodes, Set<Integer> steps) {}

    Recognition recognition() {
        Alignment.Chain chain = alignment.best();
        for (Group group : groups(chain)) {
            name(chain, group);
        }
        double ratio = StrictMath.exp(chain.lnRatio());
        if (!found.isEmpty()) {
            namePauses(ratio);
        }
        warnOfMissing(ratio);
        if (chain.swapped() && !found.isEmpty()) {
            warnings.add(Warning.of(
                    WarningCode.CHANNELS_SWAPPED,
                    "what was sent on one channel stands on the other: the channels are swapped"));
        }
        List<String> missing = new ArrayList<>();
        for (int i = 0; i < steps.size(); i++) {
            if (!found.containsKey(i)) {
                missing.add(steps.get(i).name());
            }
        }
        List<RecognisedStep> inOrder = found.values().stream()
                .sorted(Comparator.comparingDouble(RecognisedStep::fromSeconds))
                .toList();
        return new Recognition(
                inOrder,
                missing,
                found.isEmpty() ? OptionalDouble.empty() : OptionalDouble.of(ratio),
                chain.swapped() && !found.isEmpty(),
                warnings);
    }

    /** The chain cut where it jumps. */
    private static List<Group> groups(Alignment.Chain chain) {
        List<Group> groups = new ArrayList<>();
        for (int n = 0; n < chain.nodes().size(); n++) {
            if (chain.jumps().get(n)) {
                groups.add(new Group(new ArrayList<>(), new TreeSet<>()));
            }
            Group last = groups.get(groups.size() - 1);
            last.nodes().add(chain.nodes().get(n));
            last.steps().add(chain.nodes().get(n).step());
        }
        return groups;
    }

    private void name(Alignment.Chain chain, Group group) {
        double ratio = StrictMath.exp(chain.lnRatio());
        double origin = origin(group.nodes());
        double[] margins = new double[steps.size()];
        TreeSet<Integer> certain = new TreeSet<>();
        for (int step : group.steps()) {
            margins[step] = alignment.margin(chain, step);
            if (margins[step] >= LEAST_MARGIN && !alignment.goesOnAlike(step)) {
                certain.add(step);
            }
        }
        for (int step : group.steps()) {
            List<Alignment.Node> pieces =
                    group.nodes().stream().filter(node -> node.step() == step).toList();
            RecognisedStep named = placed(step, pieces, origin, ratio, margins[step]);
            boolean anchored = certain.size() > 1 || isWhole(step, pieces, ratio);
            if (!certain.contains(step) || !anchored) {
                warnings.add(Warning.during(
                        WarningCode.STEP_UNCERTAIN,
                        "what stands here may be step " + steps.get(step).name()
                                + ", but other explanations are as good: it was not named",
                        named.fromSeconds(),
                        named.toSeconds()));
            } else if (seconds(found.get(step)) < seconds(named)) {
                // Of a step in which the tape was stopped the longer part counts.
                found.put(step, named);
                origins.put(step, origin);
            }
        }
    }

    private static double seconds(@Nullable RecognisedStep step) {
        return step == null ? 0 : step.toSeconds() - step.fromSeconds();
    }

    private static double origin(List<Alignment.Node> nodes) {
        double early = Double.NEGATIVE_INFINITY;
        double late = Double.POSITIVE_INFINITY;
        for (Alignment.Node node : nodes) {
            early = Math.max(early, node.early());
            late = Math.min(late, node.late());
        }
        return (early + late) / 2;
    }

    /** Whether the pieces have the length that the step has at this speed, so that it needs no other for a witness. */
    private boolean isWhole(int step, List<Alignment.Node> pieces, double ratio) {
        Segment first = segments.get(pieces.get(0).segment());
        Segment last = segments.get(pieces.get(pieces.size() - 1).segment());
        double length = ratio * (last.toSeconds() - first.fromSeconds());
        double sent = steps.get(step).seconds();
        return steps.get(step).signal() instanceof StepSignal.Sweep
                ? length > 0.5 * sent
                : Math.abs(length - sent) < ALONE_SECONDS + ALONE_SHARE * sent;
    }

    /** The longest row of pieces without a long gap: what is measured must hold the step, and a stop or a long mute does not. */
    private List<Alignment.Node> longestRow(List<Alignment.Node> pieces) {
        List<Alignment.Node> longest = List.of();
        double most = 0;
        int from = 0;
        double seconds = 0;
        for (int n = 0; n < pieces.size(); n++) {
            Segment piece = segments.get(pieces.get(n).segment());
            if (n > 0
                    && piece.fromSeconds()
                                    - segments.get(pieces.get(n - 1).segment()).toSeconds()
                            > LONG_GAP_SECONDS) {
                from = n;
                seconds = 0;
            }
            seconds += piece.seconds();
            if (seconds > most) {
                most = seconds;
                longest = pieces.subList(from, n + 1);
            }
        }
        return longest;
    }

    private RecognisedStep placed(
            int step, List<Alignment.Node> allPieces, double origin, double ratio, double margin) {
        List<Alignment.Node> pieces = longestRow(allPieces);
        Segment first = segments.get(pieces.get(0).segment());
        Segment last = segments.get(pieces.get(pieces.size() - 1).segment());
        double from = first.fromSeconds();
        double to = last.toSeconds();
        double sent = steps.get(step).seconds() / ratio;
        double start = origin + programme.startSeconds(step) / ratio;
        if (steps.get(step).signal() instanceof StepSignal.Sweep sweep) {
            double lowest = StrictMath.log(Math.max(TOLD_FROM_HZ, ratio * sweep.startHz()));
            double highest = StrictMath.log(ratio * sweep.endHz());
            double heardFrom = first.lnHz() + first.glide() * (from - first.middleSeconds());
            double heardTo = last.lnHz() + last.glide() * (to - last.middleSeconds());
            double most = MOST_LOST_SHARE * (to - from);
            double end = start + sent;
            from = heardFrom < lowest + LOST_AT_START && from - start < most ? Math.max(0, start) : from;
            to = heardTo > highest - LOST_AT_END && end - to < most ? Math.min(recordingSeconds, end) : to;
        } else {
            // A segment may run on into a step that sounds much like this one.
            double earliest = Math.max(from, start - BEYOND_SECONDS);
            double latest = Math.min(to, start + sent + BEYOND_SECONDS);
            if (latest - earliest > (to - from) / 2) {
                from = earliest;
                to = latest;
            }
        }
        double sum = 0;
        double lnRatio = 0;
        for (Alignment.Node piece : pieces) {
            double seconds = segments.get(piece.segment()).seconds();
            sum += seconds;
            lnRatio += seconds * piece.lnRatio();
        }
        boolean complete = to - from > sent - MISSING_SECONDS - MISSING_SHARE * sent;
        boolean interrupted = sum < INTERRUPTED_SHARE * (last.toSeconds() - first.fromSeconds());
        return new RecognisedStep(
                step,
                steps.get(step).name(),
                from,
                to,
                StrictMath.exp(lnRatio / sum),
                1 - StrictMath.exp(-Math.max(0, margin)),
                complete && !interrupted);
    }

    private void namePauses(double ratio) {
        double loud = loudness();
        for (int i = 0; i < steps.size(); i++) {
            if (steps.get(i).isPause()) {
                namePause(i, ratio, loud);
            }
        }
    }

    /** Level from which on something in a pause is no hum and no noise of the tape. */
    private double loudness() {
        List<Double> levels = segments.stream()
                .filter(segment -> found.values().stream()
                        .anyMatch(step -> segment.middleSeconds() > step.fromSeconds()
                                && segment.middleSeconds() < step.toSeconds()))
                .map(Segment::levelDbfs)
                .sorted()
                .toList();
        return levels.isEmpty() ? Double.POSITIVE_INFINITY : levels.get(levels.size() / 2) - LOUD_DB;
    }

    /**
     * Names a pause between two steps whose times agree: silence before the first or after the last may be anything, and where
     * the tape was stopped nothing tells the pause from the stop.
     */
    private void namePause(int i, double ratio, double loud) {
        Map.Entry<Integer, Double> originBefore = origins.lowerEntry(i);
        Map.Entry<Integer, Double> originAfter = origins.higherEntry(i);
        if (originBefore == null
                || originAfter == null
                || !originBefore.getValue().equals(originAfter.getValue())) {
            return;
        }
        RecognisedStep before = found.get(originBefore.getKey());
        RecognisedStep after = found.get(originAfter.getKey());
        if (before == null || after == null) {
            return;
        }
        double free = after.fromSeconds() - before.toSeconds();
        double expected = (programme.startSeconds(after.index()) - programme.startSeconds(before.index() + 1)) / ratio;
        if (Math.abs(free - expected) > PAUSE_TOLERANCE_SECONDS) {
            return;
        }
        double origin = originBefore.getValue();
        double sent = steps.get(i).seconds() / ratio;
        double from = origin + programme.startSeconds(i) / ratio;
        double to = from + sent;
        from = Math.max(from, before.toSeconds());
        to = Math.min(to, after.fromSeconds());
        double inFrom = from + PAUSE_EDGE_SECONDS;
        double inTo = to - PAUSE_EDGE_SECONDS;
        boolean quiet = segments.stream()
                .noneMatch(segment ->
                        segment.levelDbfs() > loud && segment.fromSeconds() < inTo && segment.toSeconds() > inFrom);
        if (to - from >= LEAST_PAUSE_SECONDS && quiet) {
            found.put(
                    i,
                    new RecognisedStep(
                            i,
                            steps.get(i).name(),
                            from,
                            to,
                            ratio,
                            Math.min(before.confidence(), after.confidence()),
                            to - from > sent - MISSING_SECONDS - MISSING_SHARE * sent));
        }
    }

    private void warnOfMissing(double ratio) {
        if (found.isEmpty()) {
            warnings.add(Warning.of(
                    WarningCode.STEP_MISSING,
                    "no step of the programme " + programme.name() + " was recognised: is this another tape?"));
            return;
        }
        for (int i = 0; i < steps.size(); i++) {
            String name = steps.get(i).name();
            RecognisedStep step = found.get(i);
            if (step == null) {
                warnings.add(Warning.of(WarningCode.STEP_MISSING, "step " + name + whyMissing(i, ratio)));
            } else if (!step.complete()) {
                warnings.add(Warning.during(
                        WarningCode.STEP_CUT_SHORT,
                        String.format(
                                Locale.ROOT,
                                "step %s is not whole: %.1f s of %.1f s stand here, or it has gaps",
                                name,
                                step.toSeconds() - step.fromSeconds(),
                                steps.get(i).seconds() / ratio),
                        step.fromSeconds(),
                        step.toSeconds()));
            }
        }
    }

    private String whyMissing(int step, double ratio) {
        Map.Entry<Integer, Double> near = origins.floorEntry(step);
        if (near == null) {
            near = origins.firstEntry();
        }
        double origin = near == null ? 0 : near.getValue();
        double from = origin + programme.startSeconds(step) / ratio;
        double to = origin + programme.startSeconds(step + 1) / ratio;
        if (step < origins.firstKey() && to < PAUSE_EDGE_SECONDS) {
            return " is missing: the recording begins after it";
        }
        if (step > origins.lastKey() && from > recordingSeconds - PAUSE_EDGE_SECONDS) {
            return " is missing: the recording ends before it";
        }
        String before = origins.keySet().stream()
                .filter(key -> key < step)
                .map(key -> steps.get(key).name())
                .collect(Collectors.collectingAndThen(
                        Collectors.toList(), names -> names.isEmpty() ? "" : names.get(names.size() - 1)));
        return " was not found" + (before.isEmpty() ? " at the start" : " after " + before);
    }
}
