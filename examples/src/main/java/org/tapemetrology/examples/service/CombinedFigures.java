/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.examples.service.ServiceRecord.Measured;

/**
 * What several recordings of a step say together.
 *
 * @param readings the figures
 * @param notes sentences for a person
 */
public record CombinedFigures(List<Reading> readings, List<String> notes) {
    static final CombinedFigures NONE = new CombinedFigures(List.of(), List.of());

    public Measurement measurement() {
        return new Measurement(readings, List.of());
    }

    /**
     * The figures of a step.
     *
     * @param all every recording of it at a stage, in the order of the file
     * @param latest those that count
     */
    static CombinedFigures of(ServiceFile service, ServiceStep step, List<Measured> all, List<Measured> latest) {
        return switch (step) {
            case COMPANDING -> CompandingFigures.of(latest);
            case BIAS -> BiasFigures.of(latest, service);
            case REPLAY_AZIMUTH, RECORD_AZIMUTH -> service.channels() == 1 ? PeakAzimuth.of(all) : NONE;
            default -> NONE;
        };
    }

    /** A reading that is the difference of two, with the uncertainty that their scatter gives it. */
    static Reading withScatterOf(Reading difference, Reading one, Reading other) {
        Optional<StandardUncertainty> both =
                one.typeA().flatMap(own -> other.typeA().map(own::and));
        return both.map(difference::withTypeA).orElse(difference);
    }
}
