/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.diagnosis.Component;
import org.tapemetrology.core.diagnosis.Diagnosis;
import org.tapemetrology.core.flutter.DeviationSeries;
import org.tapemetrology.core.spectrum.FlutterSpectrum;
import org.tapemetrology.core.spectrum.Line;
import org.tapemetrology.core.transport.Transport;
import org.tapemetrology.core.uncertainty.ReadingBudgets;
import org.tapemetrology.examples.report.Report.NamedLine;
import org.tapemetrology.examples.report.Report.Spectrum;
import org.tapemetrology.examples.report.Report.SpectrumPoint;
import org.tapemetrology.examples.report.Report.Suspect;

/** The spectrum of the flutter of a tone, with the parts that can cause its components, as a report shows it. */
final class SpectrumOfRecording {
    /** What is drawn: slower and faster flutter has its own figures. */
    private static final double LOWEST_HZ = 0.2;

    private static final double HIGHEST_HZ = 250;
    private static final int POINTS = 300;
    private static final int MOST_LINES = 24;

    private SpectrumOfRecording() {}

    /** The spectrum of a channel; empty where the tone is too short for it. */
    static Optional<Spectrum> of(
            int channel, DeviationSeries deviation, Optional<Transport> transport, double speedRatio) {
        if (deviation.seconds() < Diagnosis.LEAST_SECONDS) {
            return Optional.empty();
        }
        Diagnosis diagnosis = Diagnosis.of(deviation, transport, speedRatio);
        int length = (int) Math.min(deviation.size(), Diagnosis.MOST_SECONDS * deviation.rateHz());
        FlutterSpectrum spectrum =
                FlutterSpectrum.of(deviation.part((deviation.size() - length) / 2, length), deviation.rateHz());
        return Optional.of(new Spectrum(
                channel,
                thinned(spectrum),
                diagnosis.components().stream()
                        .map(SpectrumOfRecording::named)
                        .sorted(Comparator.comparingDouble(NamedLine::peakPercent)
                                .reversed())
                        .limit(MOST_LINES)
                        .toList()));
    }

    private static NamedLine named(Component component) {
        Line line = component.line();
        double factor = line.coverageFactor(ReadingBudgets.COVERAGE);
        List<Suspect> suspects = component.parts().stream()
                .map(part -> new Suspect(part.part(), part.harmonic(), part.probability()))
                .toList();
        return new NamedLine(
                line.frequencyHz(),
                factor * line.frequencyUncertaintyHz(),
                line.amplitudePercent(),
                factor * 100 * line.amplitudeUncertainty(),
                suspects,
                component.attribution().unexplained(),
                component.weightedQuasiPeakWithout());
    }

    /** The highest amplitude within each of equal steps of a logarithmic scale. */
    private static List<SpectrumPoint> thinned(FlutterSpectrum spectrum) {
        double lowest = Math.max(LOWEST_HZ, spectrum.frequencyHz(0));
        double highest = Math.min(HIGHEST_HZ, spectrum.frequencyHz(spectrum.size() - 1));
        double ratio = Math.pow(highest / lowest, 1.0 / POINTS);
        List<SpectrumPoint> points = new ArrayList<>();
        int from = spectrum.indexOf(lowest);
        for (int step = 1; step <= POINTS; step++) {
            int to = spectrum.indexOf(lowest * Math.pow(ratio, step));
            int best = from;
            for (int i = from; i < to; i++) {
                best = spectrum.amplitude(i) > spectrum.amplitude(best) ? i : best;
            }
            if (to > from) {
                points.add(new SpectrumPoint(spectrum.frequencyHz(best), spectrum.amplitude(best)));
                from = to;
            }
        }
        return points;
    }
}
