/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.output;

import java.io.PrintStream;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.tapemetrology.core.diagnosis.Component;
import org.tapemetrology.core.diagnosis.Diagnosis;
import org.tapemetrology.core.diagnosis.Repair;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.transport.Attribution;
import org.tapemetrology.examples.recording.FoundParts;

/** A diagnosis for people: what to repair first, and the components with the parts that can have made them. */
public final class DiagnosisTable {
    private static final int SHOWN = 12;

    private DiagnosisTable() {}

    public static void print(FoundParts found, PrintStream out) {
        print(found.diagnosis(), out);
        for (FoundParts.Resonance resonance : found.resonances()) {
            out.printf(
                    Locale.ROOT,
                    "  scrape flutter: %.4f %% RMS at %.0f Hz within %.0f Hz    %s%n",
                    resonance.peak().rmsPercent(),
                    resonance.peak().frequencyHz(),
                    resonance.peak().halfWidthHz(),
                    parts(
                            resonance.attribution().parts(),
                            resonance.attribution().unexplained()));
        }
    }

    private static void print(Diagnosis diagnosis, PrintStream out) {
        out.printf(
                Locale.ROOT,
                "  weighted quasi-peak %s, from %.0f s of the recording%n",
                percent(quasiPeak(diagnosis.reading())),
                diagnosis.seconds());
        if (diagnosis.components().isEmpty()) {
            out.println("  no periodic component stands out of the random flutter");
            return;
        }
        if (!diagnosis.repairs().isEmpty()) {
            out.println("  what a repair would leave of it");
            for (Repair repair : diagnosis.repairs()) {
                out.printf(
                        Locale.ROOT,
                        "    %-24s %s  without %s%n",
                        repair.part(),
                        percent(quasiPeak(repair.without())),
                        hertz(repair.frequenciesHz()));
            }
        }
        out.println("  component        peak      over noise  left without  part");
        List<Component> shown = diagnosis
                .components()
                .subList(0, Math.min(SHOWN, diagnosis.components().size()));
        for (Component component : shown) {
            out.printf(
                    Locale.ROOT,
                    "  %9.3f Hz  %7.4f %%  %6.1f dB    %s    %s%n",
                    component.line().frequencyHz(),
                    component.line().amplitudePercent(),
                    component.line().noiseRatioDb(),
                    percent(component.weightedQuasiPeakWithout()),
                    parts(component.parts(), component.attribution().unexplained()));
        }
        int more = diagnosis.components().size() - shown.size();
        if (more > 0) {
            out.printf(Locale.ROOT, "  and %d more%n", more);
        }
    }

    private static String parts(List<Attribution.PartProbability> likely, double unexplained) {
        String parts = likely.stream()
                .filter(each -> each.probability() >= 0.05)
                .map(each -> String.format(
                        Locale.ROOT,
                        "%s%s %.0f %%",
                        each.part(),
                        each.harmonic() == 1 ? "" : " (harmonic " + each.harmonic() + ")",
                        100 * each.probability()))
                .collect(Collectors.joining(", "));
        String rest = unexplained < 0.05
                ? ""
                : unexplained > 0.995
                        ? "no part explains it"
                        : String.format(Locale.ROOT, "none of them %.0f %%", 100 * unexplained);
        return parts.isEmpty() ? rest : rest.isEmpty() ? parts : parts + ", " + rest;
    }

    private static OptionalDouble quasiPeak(Measurement measurement) {
        return measurement
                .find(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK)
                .orElseThrow()
                .value();
    }

    private static String percent(OptionalDouble value) {
        return value.isPresent() ? String.format(Locale.ROOT, "%7.4f %%", value.getAsDouble()) : "unknown  ";
    }

    private static String hertz(List<Double> frequencies) {
        return frequencies.stream()
                        .map(hz -> String.format(Locale.ROOT, "%.3f", hz))
                        .collect(Collectors.joining(", ")) + " Hz";
    }
}
