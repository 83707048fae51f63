/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.conformity.Decision;
import org.tapemetrology.core.conformity.Verdict;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.uncertainty.Budget;

/**
 * What the report of a service says. Immutable; everything that is shown anywhere stands here, so that page, JSON and CSV
 * cannot differ.
 *
 * @param machine what the machine is called
 * @param made the day of the report
 * @param facts machine and setup, group by group
 * @param steps every step that the machine needs, in the trade's order
 * @param handReadings what was read by hand, or done
 * @param recordings every recording, in the order of the service file, once for each step that it serves
 * @param combined figures that several recordings make together
 * @param problems what went wrong: bad entries, missing recordings, wrong tapes
 * @param missing what the report would need to be whole
 */
public record Report(
        String machine,
        LocalDate made,
        List<Facts> facts,
        List<Step> steps,
        List<HandReading> handReadings,
        List<Recorded> recordings,
        List<Combined> combined,
        List<Problem> problems,
        List<String> missing) {

    /**
     * A report, its lists copied.
     *
     * @param machine what the machine is called
     * @param made the day of the report
     * @param facts machine and setup
     * @param steps every step
     * @param handReadings what was read by hand
     * @param recordings every recording
     * @param combined figures of several recordings
     * @param problems what went wrong
     * @param missing what is missing
     */
    public Report {
        facts = List.copyOf(facts);
        steps = List.copyOf(steps);
        handReadings = List.copyOf(handReadings);
        recordings = List.copyOf(recordings);
        combined = List.copyOf(combined);
        problems = List.copyOf(problems);
        missing = List.copyOf(missing);
    }

    /** Before the repair, or after it. */
    public enum Stage {
        /** Before. */
        BEFORE("before"),
        /** After. */
        AFTER("after");

        private final String id;

        Stage(String id) {
            this.id = id;
        }

        /**
         * The word for this stage, in files and for a person.
         *
         * @return the word
         */
        public String id() {
            return id;
        }
    }

    /**
     * A group of facts.
     *
     * @param title what they are about
     * @param facts the facts
     */
    public record Facts(String title, List<Fact> facts) {
        /**
         * A group, its list copied.
         *
         * @param title what they are about
         * @param facts the facts
         */
        public Facts {
            facts = List.copyOf(facts);
        }
    }

    /**
     * A fact.
     *
     * @param name its name
     * @param value what it is
     */
    public record Fact(String name, String value) {}

    /**
     * What a step says before and after.
     *
     * @param step the step
     * @param before empty where nothing was recorded or entered
     * @param after empty where nothing was recorded or entered
     */
    public record Step(ServiceStep step, Optional<Outcome> before, Optional<Outcome> after) {
        /**
         * What holds now: what stands after the repair, else before it.
         *
         * @return empty where nothing was recorded or entered
         */
        public Optional<Outcome> now() {
            return after.or(() -> before);
        }
    }

    /**
     * The outcome of a step at one stage: that of its worst place.
     *
     * @param verdict the verdict
     * @param deciding the figure that decided it, or why there is none
     * @param place where on the tape, in which direction, at which speed; empty where it is not said
     */
    public record Outcome(Verdict verdict, String deciding, String place) {}

    /**
     * What was read by hand, or done.
     *
     * @param step the step it belongs to
     * @param stage before or after
     * @param date the day
     * @param place where on the tape, in which direction, at which speed; empty where it is not said
     * @param counts whether it is the last one of its name and place, and no repair has made it due again
     * @param name what it is
     * @param value the figure, empty for a thing that was done
     * @param unit its unit
     * @param lower lower limit
     * @param upper upper limit
     * @param verdict whether it keeps its limit, or was done; empty for a figure without a limit
     */
    public record HandReading(
            ServiceStep step,
            Stage stage,
            LocalDate date,
            String place,
            boolean counts,
            String name,
            OptionalDouble value,
            String unit,
            OptionalDouble lower,
            OptionalDouble upper,
            Optional<Verdict> verdict) {}

    /**
     * A recording with what it says.
     *
     * @param number place in the service file, from 1
     * @param step the step it belongs to
     * @param stage before or after
     * @param date the day
     * @param place where on the tape, in which direction, at which speed; empty where it is not said
     * @param tape name of the test tape, empty where none is named
     * @param source the file
     * @param counts whether it is the last one of its place; else a later one counts
     * @param doubts what makes it doubtful, so that it passes nothing
     * @param measurement readings and warnings
     * @param parts the step of its programme that each reading is of, in their order; empty without a programme
     * @param error why it could not be measured
     * @param judgements its verdicts
     * @param budgets the uncertainty budgets of its readings
     * @param curves what it shows over time and over frequency
     */
    public record Recorded(
            int number,
            ServiceStep step,
            Stage stage,
            LocalDate date,
            String place,
            String tape,
            Source source,
            boolean counts,
            List<String> doubts,
            Measurement measurement,
            List<String> parts,
            Optional<Failure> error,
            List<Judgement> judgements,
            List<Budgeted> budgets,
            Curves curves) {
        /**
         * A recording, its lists copied.
         *
         * @param number place in the service file
         * @param step the step
         * @param stage before or after
         * @param date the day
         * @param place where on the tape
         * @param tape name of the test tape
         * @param source the file
         * @param counts whether it counts
         * @param doubts what makes it doubtful
         * @param measurement readings and warnings
         * @param parts steps of its programme
         * @param error why it could not be measured
         * @param judgements its verdicts
         * @param budgets the budgets
         * @param curves the curves
         */
        public Recorded {
            doubts = List.copyOf(doubts);
            parts = List.copyOf(parts);
            judgements = List.copyOf(judgements);
            budgets = List.copyOf(budgets);
        }

        /**
         * The step of the programme that a reading is of.
         *
         * @param index place of the reading among those of the recording
         * @return its name, empty without a programme
         */
        public Optional<String> part(int index) {
            return parts.isEmpty() ? Optional.empty() : Optional.of(parts.get(index));
        }

        /**
         * The readings of a quantity that have a value.
         *
         * @param quantity the quantity
         * @return its readings in order
         */
        public List<Reading> valid(Quantity quantity) {
            return measurement.readings().stream()
                    .filter(reading -> reading.quantity() == quantity && reading.isValid())
                    .toList();
        }

        /**
         * Step, stage and place in words, which tell recordings apart.
         *
         * @return for example {@code speed, before, end}
         */
        public String label() {
            return step.id() + ", " + stage.id() + (place.isEmpty() ? "" : ", " + place);
        }
    }

    /**
     * What several recordings of a step say together.
     *
     * @param step the step
     * @param stage before or after
     * @param readings the figures
     * @param judgements their verdicts
     * @param notes sentences for a person
     */
    public record Combined(
            ServiceStep step, Stage stage, List<Reading> readings, List<Judgement> judgements, List<String> notes) {
        /**
         * Figures, their lists copied.
         *
         * @param step the step
         * @param stage before or after
         * @param readings the figures
         * @param judgements their verdicts
         * @param notes sentences
         */
        public Combined {
            readings = List.copyOf(readings);
            judgements = List.copyOf(judgements);
            notes = List.copyOf(notes);
        }
    }

    /**
     * Why a recording could not be measured.
     *
     * @param code a word for programs
     * @param message a sentence for a person
     */
    public record Failure(String code, String message) {}

    /**
     * A file.
     *
     * @param file its name
     * @param sampleRateHz sampling rate in Hz, 0 where it is not known
     * @param channels number of channels, 0 where it is not known
     * @param durationSeconds length in seconds
     */
    public record Source(String file, int sampleRateHz, int channels, double durationSeconds) {}

    /**
     * A verdict with what would help.
     *
     * @param decision the decision
     * @param advice what would turn it into a decision, where it is none
     */
    public record Judgement(Decision decision, List<String> advice) {
        /**
         * A verdict, its list copied.
         *
         * @param decision the decision
         * @param advice the advice
         */
        public Judgement {
            advice = List.copyOf(advice);
        }
    }

    /**
     * A reading with its budget.
     *
     * @param reading the reading
     * @param budget its budget
     */
    public record Budgeted(Reading reading, Budget budget) {}

    /**
     * What a recording shows over time and over frequency.
     *
     * @param speed relative speed deviation over time, in %, of the first channel with a tone
     * @param levels level over time of each channel, in dBFS
     * @param spectrum spectrum of the flutter
     */
    public record Curves(Optional<Strip> speed, List<Strip> levels, Optional<Spectrum> spectrum) {
        /** Of a recording that shows nothing. */
        public static final Curves NONE = new Curves(Optional.empty(), List.of(), Optional.empty());

        /**
         * Curves, their list copied.
         *
         * @param speed speed over time
         * @param levels levels over time
         * @param spectrum spectrum of the flutter
         */
        public Curves {
            levels = List.copyOf(levels);
        }
    }

    /**
     * A figure over time.
     *
     * @param channel 1-based channel
     * @param intervalSeconds what each point stands for
     * @param points points in order
     */
    public record Strip(int channel, double intervalSeconds, List<StripPoint> points) {
        /**
         * A strip, its list copied.
         *
         * @param channel 1-based channel
         * @param intervalSeconds what each point stands for
         * @param points points in order
         */
        public Strip {
            points = List.copyOf(points);
        }
    }

    /**
     * An interval of a strip.
     *
     * @param seconds its middle
     * @param low the lowest value in it
     * @param mean the mean value in it
     * @param high the highest value in it
     */
    public record StripPoint(double seconds, double low, double mean, double high) {}

    /**
     * Spectrum of the relative speed deviation.
     *
     * @param channel 1-based channel
     * @param points amplitude over frequency, thinned to what can be drawn, each the highest of its neighbours
     * @param lines the periodic components, the largest first
     */
    public record Spectrum(int channel, List<SpectrumPoint> points, List<NamedLine> lines) {
        /**
         * A spectrum, its lists copied.
         *
         * @param channel 1-based channel
         * @param points amplitude over frequency
         * @param lines the periodic components
         */
        public Spectrum {
            points = List.copyOf(points);
            lines = List.copyOf(lines);
        }
    }

    /**
     * A point of a spectrum.
     *
     * @param frequencyHz frequency in Hz
     * @param amplitudePercent peak amplitude that a periodic component has there, or random flutter feigns
     */
    public record SpectrumPoint(double frequencyHz, double amplitudePercent) {}

    /**
     * A periodic component with the parts that can have caused it.
     *
     * @param frequencyHz frequency in Hz
     * @param frequencyUncertaintyHz its expanded uncertainty
     * @param peakPercent peak deviation in %
     * @param peakUncertaintyPercent its expanded uncertainty
     * @param parts parts with their probability, the likeliest first
     * @param unexplained probability that no part of the list caused it
     * @param weightedWithout weighted quasi-peak figure in % that would be left without it
     */
    public record NamedLine(
            double frequencyHz,
            double frequencyUncertaintyHz,
            double peakPercent,
            double peakUncertaintyPercent,
            List<Suspect> parts,
            double unexplained,
            OptionalDouble weightedWithout) {
        /**
         * A component, its list copied.
         *
         * @param frequencyHz frequency in Hz
         * @param frequencyUncertaintyHz its uncertainty
         * @param peakPercent peak deviation in %
         * @param peakUncertaintyPercent its uncertainty
         * @param parts parts with their probability
         * @param unexplained probability of none
         * @param weightedWithout what would be left
         */
        public NamedLine {
            parts = List.copyOf(parts);
        }
    }

    /**
     * A part that can have caused a component.
     *
     * @param part its name
     * @param harmonic which harmonic of its rate
     * @param probability probability from 0 to 1
     */
    public record Suspect(String part, int harmonic, double probability) {}

    /**
     * Something that went wrong.
     *
     * @param where which entry or file
     * @param message what, and what follows from it
     */
    public record Problem(String where, String message) {}

    /**
     * How grave a verdict is: the graver one counts where several places were measured.
     *
     * @return an order from pass to fail
     */
    public static Comparator<Verdict> gravity() {
        return Comparator.comparingInt(verdict -> switch (verdict) {
            case PASS -> 0;
            case CONDITIONAL_PASS -> 1;
            case UNDECIDED -> 2;
            case CONDITIONAL_FAIL -> 3;
            case FAIL -> 4;
        });
    }

    /**
     * Which decision is worse: the graver verdict, and of the same verdicts the one that lies further towards or beyond its
     * limit, in guard bands; without a guard band nothing is known, which comes first.
     *
     * @return an order from the worst decision on
     */
    public static Comparator<Decision> worstFirst() {
        return Comparator.comparing(Decision::verdict, gravity())
                .reversed()
                .thenComparingDouble(Report::guardBandsInside);
    }

    private static double guardBandsInside(Decision decision) {
        if (decision.reading().value().isEmpty() || decision.guardBand().isEmpty()) {
            return Double.NEGATIVE_INFINITY;
        }
        double margin = decision.limit().margin(decision.reading().value().getAsDouble());
        return margin / Math.max(1e-12, decision.guardBand().getAsDouble());
    }

    /**
     * This report with more problems.
     *
     * @param more the problems
     * @return the report
     */
    public Report withProblems(List<Problem> more) {
        List<Problem> all = new ArrayList<>(problems);
        all.addAll(more);
        return new Report(machine, made, facts, steps, handReadings, recordings, combined, all, missing);
    }

    /**
     * The steps that stand at a verdict now.
     *
     * @param verdict the verdict
     * @return the steps in order
     */
    public List<Step> standingAt(Verdict verdict) {
        return steps.stream()
                .filter(step -> step.now().map(Outcome::verdict).equals(Optional.of(verdict)))
                .toList();
    }

    /**
     * The steps of which nothing is known.
     *
     * @return the steps in order
     */
    public List<Step> unknown() {
        return steps.stream().filter(step -> step.now().isEmpty()).toList();
    }

    /**
     * Whether every step was passed after the repair and nothing went wrong.
     *
     * @return true where the repair is proven
     */
    public boolean isProven() {
        return problems.isEmpty()
                && !steps.isEmpty()
                && steps.stream()
                        .allMatch(step -> step.after().map(Outcome::verdict).equals(Optional.of(Verdict.PASS)));
    }

    /**
     * The recordings of a stage that count.
     *
     * @param stage before or after
     * @return the recordings in order
     */
    public List<Recorded> counting(Stage stage) {
        return recordings.stream()
                .filter(recorded -> recorded.counts() && recorded.stage() == stage)
                .toList();
    }
}
