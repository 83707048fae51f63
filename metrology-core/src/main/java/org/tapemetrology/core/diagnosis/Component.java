/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.diagnosis;

import java.util.List;
import java.util.OptionalDouble;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.spectrum.Line;
import org.tapemetrology.core.transport.Attribution;

/**
 * A periodic component of the flutter.
 *
 * @param line the component with its uncertainties
 * @param order how many times the fundamental of its family it is; 1 for one that stands alone
 * @param attribution the parts that can have made it; without a transport none, and all of it unexplained
 * @param without what the machine would read without it
 */
public record Component(Line line, int order, Attribution attribution, Measurement without) {
    /**
     * What the weighted quasi-peak would be without this component.
     *
     * @return value in %, empty where the recording is too short for that figure
     */
    public OptionalDouble weightedQuasiPeakWithout() {
        return without.find(Quantity.FLUTTER_WEIGHTED_QUASI_PEAK).orElseThrow().value();
    }

    /**
     * The parts that can have made this component itself, by falling probability.
     *
     * @return parts, with the harmonic of the part that this component is
     */
    public List<Attribution.PartProbability> parts() {
        return attribution.parts().stream()
                .map(each -> new Attribution.PartProbability(each.part(), order * each.harmonic(), each.probability()))
                .toList();
    }
}
