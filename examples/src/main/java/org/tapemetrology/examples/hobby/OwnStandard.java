/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.hobby;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.conformity.ConformityRisk;
import org.tapemetrology.core.filter.AnalogFilter;
import org.tapemetrology.core.filter.Root;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.flutter.DeviationSeries;
import org.tapemetrology.core.uncertainty.Budget;
import org.tapemetrology.core.uncertainty.Distribution;
import org.tapemetrology.core.uncertainty.UncertaintyComponent;
import org.tapemetrology.core.wav.WavReader;

/**
 * A standard of one's own: curve, detector, limit and verdict of an invented house rule of a radio archive, kept in one class with
 * its clauses, as the library keeps the published ones.
 *
 * <p>{@code java -cp metrology-core.jar OwnStandard.java tone.wav}
 */
public final class OwnStandard {
    /** Invented, as everything in it: no published document says this. */
    private static final String NAME = "archive house rule 3";

    /** Clause 2: one zero at 0 Hz, poles at 1 Hz and 16 Hz, so 0 dB and the peak at 4 Hz. */
    private static AnalogFilter weighting() {
        return new AnalogFilter(4, List.of(Root.real(0)), List.of(Root.real(-1), Root.real(-16)));
    }

    /** Clause 3: the highest RMS value of whole seconds, after 3 s of settling. */
    private static double highestSecond(double[] weighted, double rateHz) {
        int second = (int) Math.round(rateHz);
        double highest = 0;
        for (int from = 3 * second; from + second <= weighted.length; from += second) {
            double sum = 0;
            for (int i = from; i < from + second; i++) {
                sum += weighted[i] * weighted[i];
            }
            highest = Math.max(highest, Math.sqrt(sum / second));
        }
        return highest;
    }

    /** Clause 4, in per cent. */
    private static final double LIMIT_PERCENT = 0.08;

    /** Clause 5: what the tape brings along raises the reading; curve and rate of the filter are within 2 % of it. */
    private static Budget budget(double percent) {
        return Budget.of(
                UncertaintyComponent.oneSided("flutter of the test tape", 0.01, "its certificate (invented)"),
                UncertaintyComponent.typeB("filter", Distribution.RECTANGULAR, 0.02 * percent, "clause 5"));
    }

    private OwnStandard() {}

    /**
     * Judges channel 1 of a recording.
     *
     * @param arguments the file
     * @throws IOException where it can't be read
     */
    public static void main(String[] arguments) throws IOException {
        DeviationSeries deviation;
        try (WavReader reader = WavReader.open(Path.of(arguments[0]))) {
            RecordingMeter meter = RecordingMeter.builder(
                            reader.format().sampleRateHz(), reader.format().channels())
                    .keepDeviation()
                    .build();
            meter.measure(reader);
            deviation = meter.deviation(1).orElseThrow();
        }
        double[] values = deviation.part(0, deviation.size());
        SecondOrderSections filter = weighting().bilinear(deviation.rateHz());
        filter.process(values, 0, values, 0, values.length);
        double percent = 100 * highestSecond(values, deviation.rateHz());

        Budget budget = budget(percent);
        double guard = budget.expanded(0.95).halfWidth();
        double probability = ConformityRisk.probabilityOfConformity(percent, budget.combined(), 0, LIMIT_PERCENT);
        String verdict =
                percent + guard <= LIMIT_PERCENT ? "pass" : percent - guard > LIMIT_PERCENT ? "fail" : "undecided";
        System.out.printf(Locale.ROOT, "%s: %.4f +-%.4f %%, limit %.2f %%%n", NAME, percent, guard, LIMIT_PERCENT);
        System.out.printf(Locale.ROOT, "%s, probability of conformity %.2f%n", verdict, probability);
    }
}
