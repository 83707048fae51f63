/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Set;
import org.tapemetrology.core.internal.Require;

/**
 * A sequence of steps, each following the other without a gap. For what a programme needs so that all of its steps can be
 * recognised see {@link ProgrammeRecogniser}. Immutable; may be shared between threads.
 *
 * <p>Lengths are in s, frequencies in Hz; the form is this project's own, no source. Cost: none. Numbers that are not
 * finite are refused here and in {@link Step}.
 *
 * <p>Not for signals that overlap: a step is over when the next one begins.
 */
public final class Programme {
    /** Most steps of a programme. */
    public static final int MOST_STEPS = 200;

    private final String name;
    private final List<Step> steps;
    private final OptionalDouble referenceHz;
    private final double[] starts;

    /**
     * A programme.
     *
     * @param name its name
     * @param steps 1 to 200 steps in their order, each with a name of its own, at least one of which is no pause
     * @param referenceHz frequency in Hz that responses are given re; without it the one nearest to 1 kHz
     */
    public Programme(String name, List<Step> steps, OptionalDouble referenceHz) {
        this.name = name;
        this.steps = List.copyOf(steps);
        this.referenceHz = referenceHz;
        if (steps.isEmpty() || steps.size() > MOST_STEPS) {
            throw new IllegalArgumentException(
                    "the programme has " + steps.size() + " steps, allowed: 1 to " + MOST_STEPS);
        }
        if (steps.stream().allMatch(Step::isPause)) {
            throw new IllegalArgumentException("the programme has nothing but pauses");
        }
        referenceHz.ifPresent(
                hertz -> Require.inRange("referenceHz", hertz, StepSignal.LOWEST_HZ, StepSignal.HIGHEST_HZ));
        Set<String> names = new HashSet<>();
        this.starts = new double[steps.size() + 1];
        for (int i = 0; i < steps.size(); i++) {
            if (!names.add(steps.get(i).name())) {
                throw new IllegalArgumentException(
                        "name " + steps.get(i).name() + " of step " + i + " stands for an earlier step already");
            }
            starts[i + 1] = starts[i] + steps.get(i).seconds();
        }
    }

    /**
     * The name.
     *
     * @return the name
     */
    public String name() {
        return name;
    }

    /**
     * The steps.
     *
     * @return the steps in their order
     */
    public List<Step> steps() {
        return steps;
    }

    /**
     * Frequency that responses are given re.
     *
     * @return frequency in Hz, empty where the one nearest to 1 kHz is to be taken
     */
    public OptionalDouble referenceHz() {
        return referenceHz;
    }

    /**
     * Where a step begins.
     *
     * @param step number of the step from 0; the number of steps itself gives the end of the last
     * @return time from the start of the programme, in s
     */
    public double startSeconds(int step) {
        return starts[step];
    }

    /**
     * Length of the programme.
     *
     * @return length in s
     */
    public double seconds() {
        return starts[starts.length - 1];
    }

    /**
     * The tones that belong to one response: tones of the same level on the same channels, of at least three frequencies,
     * that follow each other with nothing but pauses between.
     *
     * @return numbers of the steps of each such sequence
     */
    List<List<Integer>> toneSequences() {
        List<List<Integer>> sequences = new ArrayList<>();
        List<Integer> open = new ArrayList<>();
        for (int i = 0; i <= steps.size(); i++) {
            if (i < steps.size() && steps.get(i).isPause()) {
                continue;
            }
            if (i == steps.size() || (!open.isEmpty() && !belong(steps.get(open.get(0)), steps.get(i)))) {
                if (open.stream().map(n -> toneHz(steps.get(n))).distinct().count() >= 3) {
                    sequences.add(List.copyOf(open));
                }
                open.clear();
            }
            if (i < steps.size() && steps.get(i).signal() instanceof StepSignal.Tone) {
                open.add(i);
            }
        }
        return sequences;
    }

    private static boolean belong(Step first, Step next) {
        return next.signal() instanceof StepSignal.Tone
                && first.side() == next.side()
                && first.levelDbfs() == next.levelDbfs();
    }

    /** Frequency of a step that is a tone. */
    static double toneHz(Step step) {
        return ((StepSignal.Tone) step.signal()).frequencyHz();
    }
}
