/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

/** A filter that is fed with samples in the suite of the replay equalisation. */
class FedEqualisationTest {
    private static final Suite<EqualisationUnderTest> SUITE = Suites.iec60094Equalisation();

    /** A replay equaliser that is exact for a pure tone: it finds the frequency and applies the gain. */
    private static final class ExactForTones implements ReplayFilterUnderTest {
        private final DoubleUnaryOperator spoil;
        private OptionalDouble bass = OptionalDouble.empty();
        private double treble;
        private int rateHz;

        ExactForTones(DoubleUnaryOperator spoil) {
            this.spoil = spoil;
        }

        @Override
        public void start(int sampleRateHz, OptionalDouble bassMicroseconds, double trebleMicroseconds) {
            rateHz = sampleRateHz;
            bass = bassMicroseconds;
            treble = trebleMicroseconds;
        }

        @Override
        public void process(double[] in, double[] out, int length) {
            double neighbours = 0;
            double power = 0;
            for (int i = 1; i < length - 1; i++) {
                neighbours += (in[i - 1] + in[i + 1]) * in[i];
                power += in[i] * in[i];
            }
            // Neighbours of a sine add up to 2 cos(w) times the sample between them.
            double angular = Math.acos(neighbours / (2 * power)) * rateHz;
            double lift = bass.isPresent() ? 1 / Math.hypot(1, 1e6 / (angular * bass.getAsDouble())) : 1;
            double gain = spoil.applyAsDouble(lift * Math.hypot(1, 1e-6 * angular * treble));
            for (int i = 0; i < length; i++) {
                out[i] = gain * in[i];
            }
        }
    }

    private static SuiteReport run(DoubleUnaryOperator spoil) {
        return SUITE.run(new FedEqualisation(new ExactForTones(spoil)));
    }

    @Test
    void theRightGainIsReferenceGradeWhateverItsScale() {
        assertThat(run(gain -> gain).isReferenceGrade()).isTrue();
        assertThat(run(gain -> 3 * gain).isReferenceGrade()).isTrue();
    }

    @Test
    void theInverseGainFailsEverywhereButWhereThereIsNone() {
        SuiteReport report = run(gain -> 1 / gain);
        assertThat(report.results().stream().filter(result -> result.verdict() != Verdict.FAILS))
                .allSatisfy(result -> assertThat(result.about().expected()).isBetween(-0.25, 0.25));
    }

    @Test
    void aFilterThatGivesNothingIsNotRead() {
        assertThat(run(gain -> 0).count(Verdict.NOT_READ)).isEqualTo(SUITE.caseCount());
    }
}
