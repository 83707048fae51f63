/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.standard.ReplayEqualisation;
import org.tapemetrology.signals.conformance.EqualisationUnderTest;
import org.tapemetrology.signals.conformance.Figure;

/** The replay equalisation of this library, to be tested. */
public final class LibraryEqualisation implements EqualisationUnderTest {
    /** The equalisation. */
    public LibraryEqualisation() {}

    @Override
    public Optional<Figure> fluxLevel(
            OptionalDouble bassMicroseconds, double trebleMicroseconds, double frequencyHz, double referenceHz) {
        ReplayEqualisation curve = bassMicroseconds.isPresent()
                ? ReplayEqualisation.of(bassMicroseconds.getAsDouble(), trebleMicroseconds)
                : ReplayEqualisation.trebleOnly(trebleMicroseconds);
        return Optional.of(new Figure(curve.fluxLevelDb(frequencyHz, referenceHz), UNIT));
    }
}
