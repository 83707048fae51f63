/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.tapemetrology.signals.internal.Require;

/**
 * The cases of one edition of a document. Immutable; a run belongs to one thread.
 *
 * <p>The verdicts are those of the limits in the document, which each case names with clause and confidence. The
 * signals are closed forms: each run plays the same samples. A figure that is not finite is {@link Verdict#NOT_READ}.
 *
 * @param <M> kind of meter that it is for
 */
public final class Suite<M> {
    private final String id;
    private final String document;
    private final List<String> notCovered;
    private final List<Exercise<M>> exercises;

    Suite(String id, String document, List<String> notCovered, List<Exercise<M>> exercises) {
        this.id = id;
        this.document = document;
        this.notCovered = List.copyOf(notCovered);
        this.exercises = List.copyOf(exercises);
        Require.that(!exercises.isEmpty(), "the suite " + id + " has no cases, allowed: at least one");
        Set<String> ids = new HashSet<>();
        for (Exercise<M> exercise : exercises) {
            Require.that(
                    ids.add(exercise.about().id()),
                    "the case " + exercise.about().id() + " is there twice");
        }
    }

    /**
     * A short name.
     *
     * @return lower-case letters, digits and hyphens
     */
    public String id() {
        return id;
    }

    /**
     * The document with its edition, and those that are equivalent.
     *
     * @return the name
     */
    public String document() {
        return document;
    }

    /**
     * What of the document no case is about.
     *
     * @return one entry for each subject, with the reason
     */
    public List<String> notCovered() {
        return notCovered;
    }

    /**
     * The cases.
     *
     * @return all of them in fixed order, at least one
     */
    public List<ConformanceCase> cases() {
        return exercises.stream().map(Exercise::about).toList();
    }

    /**
     * How many cases there are.
     *
     * @return the number, above 0
     */
    public int caseCount() {
        return exercises.size();
    }

    /**
     * Runs every case on a meter. A case whose figure cannot be read, is no number or has another unit is {@link
     * Verdict#NOT_READ}, as is one in which the meter throws an exception.
     *
     * @param meter the meter
     * @return a result for every case, in the order of the cases
     */
    public SuiteReport run(M meter) {
        Bench bench = new Bench(Player.streaming());
        return report(exercises.stream()
                .map(exercise -> result(exercise, meter, bench))
                .toList());
    }

    /**
     * Runs every case on several meters, and makes the samples once for all of them, which is faster. The samples of up to
     * three recordings are kept at a time.
     *
     * @param meters the meters, in any number
     * @return a report for each meter, the same as {@link #run(Object)} gives
     */
    public List<SuiteReport> runAll(List<? extends M> meters) {
        Player player = Player.keeping();
        List<Bench> benches = new ArrayList<>();
        List<List<CaseResult>> results = new ArrayList<>();
        for (int i = 0; i < meters.size(); i++) {
            benches.add(new Bench(player));
            results.add(new ArrayList<>());
        }
        for (Exercise<M> exercise : exercises) {
            for (int i = 0; i < meters.size(); i++) {
                results.get(i).add(result(exercise, meters.get(i), benches.get(i)));
            }
        }
        return results.stream().map(this::report).toList();
    }

    /**
     * Runs one case on a meter, for a test framework that wants each case by itself.
     *
     * @param caseId identifier of the case
     * @param meter the meter
     * @return its result
     */
    public CaseResult run(String caseId, M meter) {
        for (Exercise<M> exercise : exercises) {
            if (exercise.about().id().equals(caseId)) {
                return result(exercise, meter, new Bench(Player.streaming()));
            }
        }
        throw new IllegalArgumentException("the suite " + id + " has no case " + caseId);
    }

    SuiteReport report(List<CaseResult> results) {
        return new SuiteReport(id, document, notCovered, cases(), results);
    }

    // Whatever a meter throws is its failure, and must not hide those that follow.
    private static <M> CaseResult result(Exercise<M> exercise, M meter, Bench bench) {
        try {
            double value = exercise.procedure().measure(meter, bench);
            return CaseResult.of(
                    exercise.about(), new Figure(value, exercise.about().unit()));
        } catch (NotReadException why) {
            return CaseResult.notRead(exercise.about(), String.valueOf(why.getMessage()));
        } catch (RuntimeException thrown) {
            return CaseResult.notRead(exercise.about(), "the meter threw " + thrown);
        }
    }
}
