/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

/**
 * How the figure of a case is got from a meter.
 *
 * @param <M> kind of meter
 */
@FunctionalInterface
interface Procedure<M> {
    /** The figure in the unit of the case; a {@link NotReadException} where there is none. */
    double measure(M meter, Bench bench);
}
