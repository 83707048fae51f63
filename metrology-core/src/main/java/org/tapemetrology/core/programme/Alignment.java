/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Lays the segments of a recording against the steps of a programme. A node says that a segment is (a piece of) a step; a
 * chain of nodes in the order of both earns what the segments fit and pays for steps left out, for times that do not agree
 * and for levels that do not. The best chain is found by dynamic programming for each speed ratio and for both orders of the
 * channels; how much worse the best chain is that does without the nodes of a step is the margin of that step.
 */
final class Alignment {
    /** What a step earns that fits in everything. */
    private static final double EARNED = 4;
    /** What a chain pays where the tape was stopped, cut or joined: one that needs it must fit much better. */
    private static final double JUMP_COST = 2.2;

    private static final double MISSING_COST = 0.7;
    private static final double PIECE_COST = 0.1;
    private static final double SWAPPED_COST = 3;
    private static final double LN_STEP = 0.0015;
    /** Chains that are so much worse need not be looked at: no margin depends on them. */
    private static final double HOPELESS = 5;

    private static final double LN_SPREAD = 0.004;
    private static final double BIN_SPREAD = 0.12;
    private static final double MOST_SPREADS = 3;
    private static final double TIME_TOLERANCE = 0.2;
    private static final double TIME_SHARE = 0.004;
    private static final double TOO_LONG = 0.35;
    private static final double WHOLE_SHARE = 0.7;
    private static final double LEAST_SWEPT = 0.12;
    private static final double ONE_SIDED_DB = 12;
    private static final double SAME_FREQUENCY = 0.2;
    private static final double SAME_LEVEL_SPREAD_DB = 1.5;
    /** Levels of steps that sound like one although they differ. */
    private static final double UNTOLD_LEVEL_DB = 3;

    private static final double LEVEL_FREE_DB = 6;
    private static final double LEVEL_SPREAD_DB = 6;
    private static final double MOST_WITHIN_STEP_DB = 12;
    private static final double MOST_TO_NOISE_DB = 25;
    /** Noise that is so much weaker than it was sent is that of the tape: no level is set so low. */
    private static final double MOST_LOST_OF_NOISE_DB = 30;

    private static final double LEAST_LOUD_SECONDS = 0.5;
    private static final int LOOK_BACK = 400;

    private final Programme programme;
    private final List<Step> steps;
    private final List<Segment> segments;
    private final double binHz;
    private final boolean pair;
    /** Nothing in the recording was sent at a higher level than the loudest step, so noise has at least this gain. */
    private final double leastGainOfNoise;

    /**
     * A segment as a piece of a step.
     *
     * @param early earliest start of the programme in the recording that agrees with it
     * @param late latest one
     */
    record Node(int segment, int step, double reward, double early, double late, double gain, double lnRatio) {}

    /**
     * The best chain of one hypothesis.
     *
     * @param nodes its nodes in order
     * @param jumps whether the chain jumps before each of them
     */
    record Chain(double score, double lnRatio, boolean swapped, List<Node> nodes, List<Boolean> jumps) {}

    Alignment(Programme programme, List<Segment> segments, double binHz, boolean pair) {
        this.programme = programme;
        this.steps = programme.steps();
        this.segments = segments;
        this.binHz = binHz;
        this.pair = pair;
        double loudest = segments.stream()
                .filter(segment -> segment.seconds() > LEAST_LOUD_SECONDS)
                .mapToDouble(Segment::levelDbfs)
                .max()
                .orElse(Double.NEGATIVE_INFINITY);
        double sent = steps.stream().mapToDouble(Step::levelDbfs).max().orElse(0);
        this.leastGainOfNoise = Math.max(-MOST_LOST_OF_NOISE_DB, loudest - sent - MOST_TO_NOISE_DB);
    }

    private final List<Hypothesis> hypotheses = new ArrayList<>();

    /** One speed ratio with one order of the channels. */
    private record Hypothesis(double lnRatio, boolean swapped, List<Node> nodes, double score) {}

    /** The best chain of all. */
    Chain best() {
        hypotheses.clear();
        Chain best = new Chain(0, 0, false, List.of(), List.of());
        boolean sided = pair && steps.stream().anyMatch(step -> step.side() != Step.Side.BOTH);
        int half = (int) StrictMath.round(BroadMatch.LN_RANGE / LN_STEP);
        for (int order = 0; order < (sided ? 2 : 1); order++) {
            for (int n = -half; n <= half; n++) {
                boolean swapped = order == 1;
                List<Node> nodes = nodes(n * LN_STEP, swapped);
                Chain chain = chain(n * LN_STEP, swapped, nodes);
                hypotheses.add(new Hypothesis(n * LN_STEP, swapped, nodes, chain.score()));
                if (chain.score() > best.score()) {
                    best = chain;
                }
            }
        }
        return best;
    }

    /** By how much the best chain without the nodes that this one has for a step is worse. */
    double margin(Chain best, int step) {
        List<Integer> pieces = best.nodes().stream()
                .filter(node -> node.step() == step)
                .map(Node::segment)
                .toList();
        double other = Math.max(0, best.score() - HOPELESS);
        for (Hypothesis hypothesis : hypotheses) {
            if (hypothesis.score() > other) {
                List<Node> allowed = hypothesis.nodes().stream()
                        .filter(node -> node.step() != step || !pieces.contains(node.segment()))
                        .toList();
                other = Math.max(
                        other,
                        chain(hypothesis.lnRatio(), hypothesis.swapped(), allowed)
                                .score());
            }
        }
        return best.score() - other;
    }

    private List<Node> nodes(double lnRatio, boolean swapped) {
        List<Node> nodes = new ArrayList<>();
        for (int k = 0; k < segments.size(); k++) {
            for (int i = 0; i < steps.size(); i++) {
                Node node = node(k, i, lnRatio, swapped);
                if (node != null) {
                    nodes.add(node);
                }
            }
        }
        return nodes;
    }

    private @Nullable Node node(int k, int i, double lnRatio, boolean swapped) {
        Segment segment = segments.get(k);
        Step step = steps.get(i);
        double ratio = StrictMath.exp(lnRatio);
        double length = ratio * segment.seconds();
        if (step.isPause() || length > 1.01 * step.seconds() + TOO_LONG) {
            return null;
        }
        double side = pair ? sideCost(segment, swapped ? step.side().swapped() : step.side()) : 0;
        if (side == Double.POSITIVE_INFINITY) {
            return null;
        }
        double gain = segment.levelDbfs() - step.levelDbfs();
        if (step.signal() instanceof StepSignal.Noise && gain < leastGainOfNoise) {
            return null;
        }
        double start = programme.startSeconds(i) / ratio;
        double end = programme.startSeconds(i + 1) / ratio;
        double early = segment.toSeconds() - end;
        double late = segment.fromSeconds() - start;
        double whole = WHOLE_SHARE * step.seconds();
        double cost;
        double own = lnRatio;
        if (step.signal() instanceof StepSignal.Tone tone) {
            double off = segment.lnHz() - StrictMath.log(tone.frequencyHz());
            own = off;
            cost = toneCost(segment, off - lnRatio, ratio * tone.frequencyHz());
        } else if (step.signal() instanceof StepSignal.Sweep sweep) {
            double growth = StrictMath.log(sweep.endHz() / sweep.startHz()) / step.seconds();
            double at = (segment.lnHz() - lnRatio - StrictMath.log(sweep.startHz())) / growth;
            cost = at < 0 || at > step.seconds() ? Double.POSITIVE_INFINITY : sweepCost(segment, growth * ratio);
            double middle = segment.middleSeconds() - (programme.startSeconds(i) + at) / ratio;
            early = middle - TIME_TOLERANCE / 2;
            late = middle + TIME_TOLERANCE / 2;
            whole = 0.5 * step.seconds();
        } else {
            cost = segment.fit().cost(i);
            if (step.signal() instanceof StepSignal.Multitone) {
                own = segment.fit().lnRatio(i);
                double off = (own - lnRatio) / LN_SPREAD;
                cost += off * off / 4;
            } else if (segment.line()) {
                return null;
            }
        }
        cost += side;
        double share = Math.min(1, length / whole);
        if (!(cost < EARNED)) {
            return null;
        }
        if (early > late) {
            double mean = (early + late) / 2;
            early = mean;
            late = mean;
        }
        return new Node(k, i, share * (EARNED - cost), early, late, gain, own);
    }

    private double toneCost(Segment segment, double off, double hertz) {
        double spread = Math.hypot(LN_SPREAD, BIN_SPREAD * binHz / hertz);
        if (!segment.line()
                || Math.abs(off) > MOST_SPREADS * spread
                || Math.abs(segment.glide()) > 0.015 + 0.3 * binHz / hertz / segment.seconds()) {
            return Double.POSITIVE_INFINITY;
        }
        double rest = segment.restDb() > 6 ? 2.5 : segment.restDb() > -3 ? 1 : 0;
        return off * off / (2 * spread * spread) + rest;
    }

    private static double sweepCost(Segment segment, double growth) {
        double swept = segment.glide() * segment.seconds();
        double spread = 0.015 + 0.02 / Math.abs(swept);
        double off = segment.glide() / growth - 1;
        return !segment.line() || swept < LEAST_SWEPT || Math.abs(off) > MOST_SPREADS * spread
                ? Double.POSITIVE_INFINITY
                : off * off / (2 * spread * spread);
    }

    private static double sideCost(Segment segment, Step.Side side) {
        double balance = segment.balanceDb();
        if (side == Step.Side.BOTH) {
            double over = Math.max(0, Math.abs(balance) - 5) / 3;
            return Math.abs(balance) > 15 ? Double.POSITIVE_INFINITY : over * over / 2;
        }
        double prevails = side == Step.Side.LEFT ? balance : -balance;
        double under = Math.max(0, ONE_SIDED_DB - prevails) / 3;
        return prevails < 4 ? Double.POSITIVE_INFINITY : under * under / 2;
    }

    /**
     * The best chain that ends with a node: one that jumps to it or begins with it, and one that goes on. Both are kept, since
     * times that agree with the past may be worth less than being free to agree with the future.
     */
    private static final class End {
        private final Node node;
        private final boolean jumps;
        private double score;
        private @Nullable End before;
        private double early;
        private double late;
        /** Seconds of the step of the node that are used up. */
        private double used;

        End(Node node, boolean jumps) {
            this.node = node;
            this.jumps = jumps;
        }
    }

    private Chain chain(double lnRatio, boolean swapped, List<Node> nodes) {
        double ratio = StrictMath.exp(lnRatio);
        List<End> ends = new ArrayList<>();
        End best = null;
        for (Node node : nodes) {
            End fresh = new End(node, true);
            End going = new End(node, false);
            going.score = Double.NEGATIVE_INFINITY;
            for (int p = ends.size() - 1; p >= Math.max(0, ends.size() - LOOK_BACK); p--) {
                End from = ends.get(p);
                if (from.node.segment() < node.segment() && from.node.step() <= node.step()) {
                    double stay = cost(from, node, false, ratio);
                    if (from.score - stay > going.score) {
                        going.score = from.score - stay;
                        going.before = from;
                    }
                    double jump = cost(from, node, true, ratio);
                    if (from.score - jump > fresh.score) {
                        fresh.score = from.score - jump;
                        fresh.before = from;
                    }
                }
            }
            best = better(best, ended(fresh, ends));
            if (going.before != null) {
                best = better(best, ended(going, ends));
            }
        }
        List<Node> chosen = new ArrayList<>();
        List<Boolean> jumps = new ArrayList<>();
        for (End end = best; end != null; end = end.before) {
            chosen.add(0, end.node);
            jumps.add(0, end.jumps);
        }
        double score = best == null ? 0 : best.score - (swapped ? SWAPPED_COST : 0);
        return new Chain(score, lnRatio, swapped, chosen, jumps);
    }

    private static End better(@Nullable End best, End end) {
        return best == null || end.score > best.score ? end : best;
    }

    private End ended(End end, List<End> ends) {
        end.score += end.node.reward();
        end.early = end.node.early();
        end.late = end.node.late();
        end.used = segments.get(end.node.segment()).seconds();
        if (end.before != null) {
            carry(end.before, end);
        }
        ends.add(end);
        return end;
    }

    /** Hands on what start of the programme still agrees with everything since the last jump. */
    private static void carry(End before, End end) {
        if (before.node.step() == end.node.step()) {
            end.used += before.used;
        }
        if (!end.jumps) {
            end.early = Math.max(before.early, end.node.early());
            end.late = Math.min(before.late, end.node.late());
            if (end.early > end.late) {
                double mean = (end.early + end.late) / 2;
                end.early = mean;
                end.late = mean;
            }
        }
    }

    private static double apart(End before, Node node) {
        return Math.max(0, Math.max(node.early() - before.late, before.early - node.late()));
    }

    private double tolerance(Node from, Node node) {
        return TIME_TOLERANCE
                + TIME_SHARE
                        * (segments.get(node.segment()).fromSeconds()
                                - segments.get(from.segment()).toSeconds());
    }

    private double cost(End before, Node node, boolean jumps, double ratio) {
        Node from = before.node;
        if (levelsCannotBe(from, node)) {
            return Double.POSITIVE_INFINITY;
        }
        double share = apart(before, node) / tolerance(from, node);
        if (!jumps && share > 1) {
            return Double.POSITIVE_INFINITY;
        }
        double cost = levelCost(from, node) + (jumps ? JUMP_COST : 0.5 * share * share);
        if (from.step() == node.step()) {
            double used = before.used + segments.get(node.segment()).seconds();
            return ratio * used > 1.01 * steps.get(node.step()).seconds() + TOO_LONG
                    ? Double.POSITIVE_INFINITY
                    : cost + PIECE_COST;
        }
        for (int i = from.step() + 1; i < node.step(); i++) {
            cost += steps.get(i).isPause() ? 0 : MISSING_COST;
        }
        return cost;
    }

    /** The noise of the tape has the spectrum of a step of noise, and what follows a step may have its spectrum: levels tell. */
    private boolean levelsCannotBe(Node from, Node node) {
        double off = Math.abs(from.gain() - node.gain());
        StepSignal signal = steps.get(node.step()).signal();
        return from.step() == node.step()
                ? off > MOST_WITHIN_STEP_DB && !(signal instanceof StepSignal.Sweep)
                : off > MOST_TO_NOISE_DB
                        && (signal instanceof StepSignal.Noise
                                || steps.get(from.step()).signal() instanceof StepSignal.Noise);
    }

    private double levelCost(Node from, Node node) {
        double off = Math.abs(from.gain() - node.gain());
        boolean near =
                alike(steps.get(from.step()).signal(), steps.get(node.step()).signal());
        if (near) {
            double spreads = off / SAME_LEVEL_SPREAD_DB;
            return Math.min(4, spreads * spreads / 2);
        }
        double spreads = Math.max(0, off - LEVEL_FREE_DB) / LEVEL_SPREAD_DB;
        return Math.min(3, spreads * spreads);
    }

    /**
     * Whether the step before or after one sounds like it, and nothing is between them: what of a stretch belongs to the one and
     * what to the other is not to be heard, so that neither length nor time of a stretch are those of a step.
     */
    boolean goesOnAlike(int step) {
        return (step > 0 && soundAlike(step - 1, step)) || (step + 1 < steps.size() && soundAlike(step, step + 1));
    }

    private boolean soundAlike(int one, int other) {
        Step first = steps.get(one);
        Step next = steps.get(other);
        if (first.side() != next.side() || Math.abs(first.levelDbfs() - next.levelDbfs()) >= UNTOLD_LEVEL_DB) {
            return false;
        }
        if (first.signal() instanceof StepSignal.Tone low && next.signal() instanceof StepSignal.Tone high) {
            double off = StrictMath.log(low.frequencyHz() / high.frequencyHz());
            return Math.abs(off) < MOST_SPREADS * LN_SPREAD;
        }
        return alike(first.signal(), next.signal());
    }

    /** Whether nothing but the level tells two steps apart, as far as their spectra go. */
    private static boolean alike(StepSignal one, StepSignal other) {
        if (one instanceof StepSignal.Tone first && other instanceof StepSignal.Tone next) {
            return Math.abs(StrictMath.log(first.frequencyHz() / next.frequencyHz())) < SAME_FREQUENCY;
        } else if (one instanceof StepSignal.Multitone first && other instanceof StepSignal.Multitone next) {
            return first.frequenciesHz().equals(next.frequenciesHz());
        }
        return one instanceof StepSignal.Noise first
                && other instanceof StepSignal.Noise next
                && first.pink() == next.pink();
    }
}
