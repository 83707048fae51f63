/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

/**
 * A figure that a suite asks a meter for.
 *
 * <p>Its implementations are enumerations: immutable, any number of threads may use them.
 */
public interface AskedFigure {
    /**
     * What is asked for.
     *
     * @return an identifier, for example {@code flutter.weighted.two-sigma}
     */
    String id();

    /**
     * The unit in which the figure must be given.
     *
     * @return the symbol, ASCII only
     */
    String unit();
}
