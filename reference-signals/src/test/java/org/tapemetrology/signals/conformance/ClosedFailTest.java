/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;

/** A suite must not pass what it has not seen. */
class ClosedFailTest {
    private static final Suite<EqualisationUnderTest> SUITE = Suites.iec60094Equalisation();

    /** The formula, with something done to the answer. */
    private record Answering(UnaryOperator<Optional<Figure>> answer) implements EqualisationUnderTest {
        @Override
        public Optional<Figure> fluxLevel(OptionalDouble bass, double treble, double hz, double referenceHz) {
            double level = level(bass, treble, hz) - level(bass, treble, referenceHz);
            return answer.apply(Optional.of(new Figure(level, "dB")));
        }

        private static double level(OptionalDouble bass, double treble, double hz) {
            double w = 2e-6 * Math.PI * hz;
            double lift = bass.isPresent() ? 1 + 1 / Math.pow(w * bass.getAsDouble(), 2) : 1;
            return 10 * Math.log10(lift / (1 + Math.pow(w * treble, 2)));
        }
    }

    private static SuiteReport run(UnaryOperator<Optional<Figure>> answer) {
        return SUITE.run(new Answering(answer));
    }

    @Test
    void theRightAnswersPass() {
        SuiteReport report = run(figure -> figure);
        assertThat(report.isReferenceGrade()).isTrue();
        assertThat(report.results()).hasSize(SUITE.caseCount());
    }

    @Test
    void anUnreadFigureFails() {
        assertNothingRead(run(figure -> Optional.empty()), "gave no");
    }

    @Test
    void noNumberFails() {
        assertNothingRead(run(figure -> Optional.of(new Figure(Double.NaN, "dB"))), "NaN");
        assertNothingRead(run(figure -> Optional.of(new Figure(Double.NEGATIVE_INFINITY, "dB"))), "Infinity");
    }

    @Test
    void anotherUnitFails() {
        assertNothingRead(run(figure -> figure.map(f -> new Figure(f.value(), "%"))), "'%', asked: 'dB'");
    }

    @Test
    void aMeterThatThrowsFailsThatCaseAlone() {
        int[] asked = {0};
        SuiteReport report = run(figure -> {
            if (++asked[0] == 2) {
                throw new IllegalStateException("out of order");
            }
            return figure;
        });
        assertThat(report.count(Verdict.NOT_READ)).isEqualTo(1);
        assertThat(report.count(Verdict.REFERENCE_GRADE)).isEqualTo(SUITE.caseCount() - 1);
        assertThat(report.passes()).isFalse();
        assertThat(report.worstShare()).isEmpty();
    }

    @Test
    void aReportWithoutACaseIsRefused() {
        SuiteReport whole = run(figure -> figure);
        List<CaseResult> fewer = whole.results().subList(1, whole.results().size());
        assertThatThrownBy(() -> new SuiteReport("x", "x", List.of(), whole.cases(), fewer))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("one for each of the");
        assertThatThrownBy(() -> new ConformanceReport(List.of())).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new Suite<>("empty", "none", List.of(), List.of()))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("empty");
    }

    @Test
    void aVerdictCannotBeClaimed() {
        ConformanceCase about = SUITE.cases().get(0);
        assertThatThrownBy(() -> new CaseResult(about, OptionalDouble.of(99), Verdict.CONFORMS, ""))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("fails");
        assertThatThrownBy(() -> new CaseResult(about, OptionalDouble.empty(), Verdict.REFERENCE_GRADE, ""))
                .isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new CaseResult(about, OptionalDouble.of(Double.NaN), Verdict.CONFORMS, ""))
                .isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void severalMetersAtOnceReadTheSameAsEachAlone() {
        Suite<ProgrammeMeterUnderTest> suite = Suites.iec60268Part10TypeTwo();
        assertThat(suite.runAll(List.of(new LastSample(1), new LastSample(-1))))
                .containsExactly(suite.run(new LastSample(1)), suite.run(new LastSample(-1)));
    }

    /** Reads the last sample of a channel, which tells one recording from another, and spoils what it was given. */
    private static final class LastSample implements ProgrammeMeterUnderTest {
        private final double sign;
        private double[] last = new double[0];

        LastSample(double sign) {
            this.sign = sign;
        }

        @Override
        public void start(RecordingFormat format) {
            last = new double[format.channels()];
        }

        @Override
        public void accept(double[][] block, int length) {
            for (int i = 0; i < last.length; i++) {
                last[i] = sign * block[i][length - 1];
                block[i][length - 1] = Double.NaN;
            }
        }

        @Override
        public Optional<Figure> read(Asked asked, int channel) {
            return Optional.of(new Figure(last[channel], "dBFS"));
        }
    }

    @Test
    void anUnknownCaseIsRefused() {
        assertThatThrownBy(() -> SUITE.run("no-such-case", new Answering(figure -> figure)))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("no-such-case");
    }

    @Test
    void anIndicationThatGoesMissingIsNotReadAsFallen() {
        ProgrammeMeterUnderTest silentAfterTwoSeconds = new ProgrammeMeterUnderTest() {
            private double seconds;

            @Override
            public void start(RecordingFormat format) {
                seconds = 0;
            }

            @Override
            public void accept(double[][] block, int length) {
                seconds += length / 48_000.0;
            }

            @Override
            public Optional<Figure> read(Asked asked, int channel) {
                return seconds > 2 ? Optional.empty() : Optional.of(new Figure(0, "dBFS"));
            }
        };
        CaseResult result = Suites.iec60268Part10TypeOne().run("ppm1-return", silentAfterTwoSeconds);
        assertThat(result.verdict()).isEqualTo(Verdict.NOT_READ);
        assertThat(result.reason()).contains("never fell");
    }

    private static void assertNothingRead(SuiteReport report, String reason) {
        assertThat(report.passes()).isFalse();
        assertThat(report.count(Verdict.NOT_READ)).isEqualTo(SUITE.caseCount());
        assertThat(report.results())
                .allSatisfy(result -> assertThat(result.reason()).contains(reason));
    }
}
