/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import java.util.function.ToDoubleFunction;

/**
 * How the results follow from the inputs (JCGM 100:2008, 4.1).
 *
 * <p>Called by the thread that propagates. A result that is not finite is handed on by {@link LinearPropagation}.
 */
@FunctionalInterface
public interface MeasurementModel {
    /**
     * The results for a set of inputs.
     *
     * @param inputs values of the inputs, not to be changed
     * @return values of the results, the same number each time
     */
    double[] outputs(double[] inputs);

    /**
     * A model of one result.
     *
     * @param model the result for a set of inputs
     * @return the model
     */
    static MeasurementModel of(ToDoubleFunction<double[]> model) {
        return inputs -> new double[] {model.applyAsDouble(inputs)};
    }
}
