/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.util.function.Supplier;

/**
 * A meter with a known fault.
 *
 * @param name the fault in words
 * @param gross whether the limits of the document must break, and not the narrower ones alone
 * @param meter makes the meter
 * @param <M> kind of meter
 */
record Mutant<M>(String name, boolean gross, Supplier<? extends M> meter) {
    static <M> Mutant<M> gross(String name, Supplier<? extends M> meter) {
        return new Mutant<>(name, true, meter);
    }

    static <M> Mutant<M> fine(String name, Supplier<? extends M> meter) {
        return new Mutant<>(name, false, meter);
    }
}
