/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.apache.commons.math3.stat.descriptive.SummaryStatistics;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;

/**
 * A bias law of the textbook's form: sensitivity rises with the bias and falls as exp(-k b), faster the shorter the wave
 * (form from memory of handbooks of magnetic recording). The trimmer is tapered, levels jump, the hand is a tenth off.
 */
class SteppedBiasTest {
    private static final AlignmentPlan PLAN = AlignmentPlan.cassette(2, 2, -12, 2.5);
    private static final double STEP = 0.05;

    private static double levelDb(double bias, double fall) {
        return 20 * Math.log10(Math.pow(bias, 2.9) * Math.exp(-fall * (bias - 1)));
    }

    /** Drop of 2.5 dB at the recommended bias of 1 for the short wave; where the trimmer begins is told in dB of bias. */
    private static SteppedBias stepped(double fromDb, double jump, Random random) {
        List<Measurement> takes = new ArrayList<>();
        double turns = 0;
        for (int i = 0; i < 16; i++) {
            double bias = Math.pow(10, (fromDb + 12 * turns * (1 + 0.2 * turns)) / 20);
            double jumped = jump * random.nextGaussian();
            double reference = levelDb(bias, 2.9) + jumped;
            double shortWave = levelDb(bias, 4.38) + jumped + 0.03 * random.nextGaussian();
            double treble = levelDb(bias, 5.2) + jumped + 0.03 * random.nextGaussian();
            takes.add(new Measurement(
                    List.of(
                            Reading.valid(Quantity.LEVEL, shortWave - 40, "law")
                                    .onChannel(1)
                                    .atFrequency(6300),
                            Reading.valid(Quantity.RESPONSE, shortWave - reference, "law")
                                    .onChannel(1)
                                    .atFrequency(6300),
                            Reading.valid(Quantity.RESPONSE, treble - reference, "law")
                                    .onChannel(1)
                                    .atFrequency(10_000)),
                    List.of()));
            turns += STEP * (1 + 0.1 * random.nextGaussian());
        }
        SteppedBias stepped = new SteppedBias(PLAN, 1);
        stepped.take(takes, STEP);
        return stepped;
    }

    /** The ratio of the waves at the recommended bias is known, 0 dB here; the drop changes by 1 dB for 1 dB of the ratio. */
    @Test
    void theBiasOfTheDropIsFoundOnAnUnevenTape() {
        SummaryStatistics errors = new SummaryStatistics();
        for (int seed = 0; seed < 100; seed++) {
            errors.addValue(stepped(-6, 0.4, new Random(seed)).target().orElseThrow());
        }
        // A cubic through 16 levels that jump by 0.4 dB leaves 0.24 dB in a trial of 400 curves, and some 0.1 dB at the
        // mean.
        assertThat(Math.sqrt(errors.getSecondMoment() / 99)).isLessThan(0.32);
        assertThat(errors.getMean()).isCloseTo(0, within(0.2));
    }

    /** The law of the means of many curves: the mean square of the errors is what was foretold, within a third. */
    @Test
    void howWellItIsKnownIsToldByTheScatterOfTheTakes() {
        double errors = 0;
        double foretold = 0;
        int known = 0;
        for (int seed = 0; seed < 100; seed++) {
            SteppedBias stepped = stepped(-6, 0.4, new Random(seed));
            if (stepped.deviation().isPresent()) {
                errors += Math.pow(stepped.target().orElseThrow(), 2);
                foretold += Math.pow(stepped.deviation().orElseThrow(), 2);
                known++;
            }
        }
        assertThat(known).isGreaterThan(90);
        // A mean square of 100 is known to 14 % (sqrt(2/100)); the jackknife is known to be a little too large.
        assertThat(Math.sqrt(foretold / errors)).isBetween(0.8, 1.6);
    }

    @Test
    void withoutJumpsItIsFoundToATenthOfADecibel() {
        // A cubic is not quite the law.
        assertThat(stepped(-6, 0, new Random(1)).target().orElseThrow()).isCloseTo(0, within(0.25));
    }

    /** The peak of this law lies 3.6 dB below the recommended bias; here the trimmer begins 0.5 dB above it. */
    @Test
    void aPeakJustBeyondTheStopIsSupposed() {
        assertThat(stepped(-3.1, 0, new Random(1)).target().orElseThrow()).isCloseTo(0, within(0.5));
    }

    @Test
    void aPeakFarBeyondTheStopIsNot() {
        assertThat(stepped(4, 0, new Random(1)).target()).isEmpty();
    }

    @Test
    void aCurveThatEndsBeforeTheDropHasNoTarget() {
        assertThat(stepped(-16, 0, new Random(1)).target()).isEmpty();
    }
}
