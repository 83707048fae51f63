/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.recording;

import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.diagnosis.Diagnosis;
import org.tapemetrology.core.flutter.DeviationSeries;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.spectrum.ScrapeSpectrum;
import org.tapemetrology.core.transport.Attribution;
import org.tapemetrology.core.transport.ObservedFamily;
import org.tapemetrology.core.transport.Transport;
import org.tapemetrology.examples.files.Failures;

/** What was found in a recording; the scrape band is missing where the tone leaves no room for it. */
public record FoundParts(Diagnosis diagnosis, Optional<ScrapeSpectrum> scrape, List<Resonance> resonances) {
    /** A resonance of the scrape band with the parts that can have made it. */
    public record Resonance(ScrapeSpectrum.Peak peak, Attribution attribution) {}

    private static List<Resonance> resonances(Optional<ScrapeSpectrum> scrape, Optional<Transport> transport) {
        return scrape.map(ScrapeSpectrum::peaks).orElse(List.of()).stream()
                .map(peak -> new Resonance(
                        peak,
                        transport
                                .map(known -> Attribution.of(
                                        ObservedFamily.alone(peak.frequencyHz(), peak.halfWidthHz()), known, 1))
                                .orElse(new Attribution(List.of(), 1))))
                .toList();
    }

    /** The tape moves past both tracks alike: the first channel with a tone tells. */
    public static FoundParts of(String file, Recording.Measured measured, Optional<Transport> transport) {
        for (int channel = 1; channel <= measured.result().channels(); channel++) {
            Reading speed = measured.result()
                    .measurement()
                    .find(Quantity.SPEED_ERROR, channel)
                    .orElseThrow();
            Optional<DeviationSeries> deviation = measured.meter().deviation(channel);
            if (speed.isValid() && deviation.isPresent()) {
                double ratio = 1 + speed.value().orElseThrow() / 100;
                try {
                    Optional<ScrapeSpectrum> scrape = measured.meter().scrape(channel);
                    return new FoundParts(
                            Diagnosis.of(deviation.get(), transport, ratio), scrape, resonances(scrape, transport));
                } catch (IllegalArgumentException tooShort) {
                    throw new IllegalArgumentException(file + ": " + Failures.message(tooShort), tooShort);
                }
            }
        }
        throw new IllegalArgumentException(file + ": no test tone whose flutter could be looked at was found");
    }
}
