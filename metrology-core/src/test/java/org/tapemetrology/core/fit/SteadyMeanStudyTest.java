/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.fit;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.Locale;
import java.util.function.DoubleUnaryOperator;
import java.util.function.Supplier;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * How near the truth the shown mean of a jumping level stays, and how fast it shows a change of 1 dB: as it is, and beside it
 * the plain mean since the start, the mean of the last 3 s and one that is told when the change comes.
 *
 * <p>The plain mean of 20 s of such a level has a standard deviation of {@code sqrt(2 x 0.5 s/20 s) = 0.22 dB} (JCGM
 * 100:2008 for correlated values; the integral of the autocorrelation), so 63 of 100 lie within 0.2 dB, and no estimator that
 * does not know the level before does better. The mean of 3 s has one of 0.53 dB, so that at the end of 3 s at most 65 of 100
 * changes of 1 dB stand 0.8 dB off.
 *
 * <p>With -Dstudies=true a larger run prints the rates.
 */
class SteadyMeanStudyTest {
    private static final boolean STUDY = Boolean.getBoolean("studies");
    private static final int RUNS = STUDY ? 4000 : 200;
    private static final int PER_SECOND = 10;
    private static final int START = 20 * PER_SECOND;
    private static final int CHANGE = 60 * PER_SECOND;
    private static final int END = 75 * PER_SECOND;
    private static final double WITHIN_DB = 0.2;
    private static final double SHOWN = 0.8;

    /** What a mean reached. */
    private record Rates(
            double within,
            double rootMeanSquare,
            double withinLater,
            double threeSeconds,
            double medianSeconds,
            double response) {
        String line(String name) {
            return String.format(
                    Locale.ROOT,
                    "%s: at 20 s within 0.2 dB %.1f %%, RMS error %.3f dB; at 60 s within 0.2 dB %.1f %%; 1 dB shows 80 %% "
                            + "within 3 s in %.1f %%, median %.1f s; mean response after 3 s %.2f",
                    name,
                    100 * within,
                    rootMeanSquare,
                    100 * withinLater,
                    100 * threeSeconds,
                    medianSeconds,
                    response);
        }
    }

    private static Rates rates(
            JumpingLevel.Kind kind, Supplier<DoubleUnaryOperator> means, int told, SteadyMean[] toTell) {
        int within = 0;
        int later = 0;
        int fast = 0;
        double squares = 0;
        double response = 0;
        double[] seconds = new double[RUNS];
        for (int run = 0; run < RUNS; run++) {
            JumpingLevel level = new JumpingLevel(kind, 7_000_000L + run);
            DoubleUnaryOperator mean = means.get();
            double step = run % 2 == 0 ? 1 : -1;
            double before = 0;
            seconds[run] = Double.POSITIVE_INFINITY;
            for (int i = 0; i < END; i++) {
                if (i == told) {
                    toTell[0].restart();
                }
                double shown = mean.applyAsDouble(level.next() + (i < CHANGE ? 0 : step));
                if (i == START - 1) {
                    within += Math.abs(shown) <= WITHIN_DB ? 1 : 0;
                    squares += shown * shown;
                }
                if (i == CHANGE - 1) {
                    later += Math.abs(shown) <= WITHIN_DB ? 1 : 0;
                    before = shown;
                }
                double moved = step * (shown - before);
                if (i >= CHANGE && moved >= SHOWN && seconds[run] == Double.POSITIVE_INFINITY) {
                    seconds[run] = (double) (i + 1 - CHANGE) / PER_SECOND;
                }
                if (i == CHANGE + 3 * PER_SECOND - 1) {
                    response += moved;
                }
            }
            fast += seconds[run] <= 3 ? 1 : 0;
        }
        Arrays.sort(seconds);
        return new Rates(
                (double) within / RUNS,
                Math.sqrt(squares / RUNS),
                (double) later / RUNS,
                (double) fast / RUNS,
                seconds[RUNS / 2],
                response / RUNS);
    }

    private static DoubleUnaryOperator plain() {
        double[] sums = new double[2];
        return value -> {
            sums[0] += value;
            sums[1]++;
            return sums[0] / sums[1];
        };
    }

    private static DoubleUnaryOperator steady(SteadyMean[] kept) {
        SteadyMean mean = new SteadyMean(0.7, 2e-3);
        kept[0] = mean;
        return value -> {
            mean.add(value);
            return mean.mean();
        };
    }

    private static DoubleUnaryOperator recent() {
        SteadyMean mean = new SteadyMean(0.7, 2e-3);
        return value -> {
            mean.add(value);
            return mean.recentMean();
        };
    }

    @ParameterizedTest
    @EnumSource
    void theShownMeanIsSteadyAndFollows(JumpingLevel.Kind kind) {
        SteadyMean[] last = new SteadyMean[1];
        Rates best = rates(kind, SteadyMeanStudyTest::plain, -1, last);
        Rates steady = rates(kind, () -> steady(last), -1, last);
        Rates recent = rates(kind, SteadyMeanStudyTest::recent, -1, last);
        Rates told = rates(kind, () -> steady(last), CHANGE, last);
        if (STUDY) {
            System.out.println(kind + " " + best.line("plain mean since the start"));
            System.out.println(kind + " " + steady.line("steady mean"));
            System.out.println(kind + " " + recent.line("mean of the last 3 s"));
            System.out.println(kind + " " + told.line("steady mean that is told of the change"));
        }
        // By principle 63 %; of 200 runs the share has a deviation of 3.4 %, and three of these are left.
        assertThat(best.within()).isBetween(0.52, 0.74);
        // What following changes may cost; measured with 4000 runs in STUDIES.md.
        assertThat(steady.within()).isGreaterThan(0.35);
        assertThat(steady.rootMeanSquare()).isLessThan(0.45);
        assertThat(steady.withinLater()).isGreaterThan(0.55);
        assertThat(steady.medianSeconds()).isLessThan(15);
        // The mean of 3 s of the new level alone responds whole; 200 runs know it to 0.53 sqrt(2/200) = 0.05 three
        // times.
        assertThat(recent.response()).isBetween(0.85, 1.15);
        assertThat(told.response()).isBetween(0.85, 1.15);
        assertThat(told.threeSeconds()).isGreaterThan(0.6);
    }
}
