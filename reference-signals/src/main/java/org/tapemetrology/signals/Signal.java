/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

/**
 * A signal in closed form: its value at any moment is computed from the time alone, so nothing accumulates and any part
 * of it can be made on its own.
 */
@FunctionalInterface
public interface Signal {
    /**
     * The value of the signal at a moment.
     *
     * @param seconds time from the start
     * @return the value; full scale is 1
     */
    double at(double seconds);
}
