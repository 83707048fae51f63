/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.diagnosis;

import java.util.List;
import org.tapemetrology.core.quantity.Measurement;

/**
 * What the repair of a part would win: every component that most likely comes from it is taken out at once.
 *
 * <p>Its numbers are not checked.
 *
 * @param part name of the part
 * @param frequenciesHz the components that are taken out, in Hz
 * @param without what the machine would read without them
 */
public record Repair(String part, List<Double> frequenciesHz, Measurement without) {
    /**
     * A repair; its list is copied.
     *
     * @param part name of the part
     * @param frequenciesHz the components
     * @param without what the machine would read
     */
    public Repair {
        frequenciesHz = List.copyOf(frequenciesHz);
    }
}
