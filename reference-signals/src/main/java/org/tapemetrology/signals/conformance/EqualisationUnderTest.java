/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * A replay equalisation: it tells the level of the recorded flux that it takes for flat. It is asked; a filter that is fed
 * with samples answers through {@link FedEqualisation}.
 *
 * <p>All calls come from one thread. A level that is not finite fails its case.
 */
public interface EqualisationUnderTest {
    /** Unit of the level. */
    String UNIT = "dB";

    /**
     * Level of the recorded short-circuit flux at a frequency re that at another one.
     *
     * @param bassMicroseconds longer time constant; empty where the flux has no bass lift
     * @param trebleMicroseconds shorter time constant
     * @param frequencyHz frequency, Hz
     * @param referenceHz frequency of 0 dB, Hz
     * @return the level in dB; empty where there is none, which fails the case
     */
    Optional<Figure> fluxLevel(
            OptionalDouble bassMicroseconds, double trebleMicroseconds, double frequencyHz, double referenceHz);
}
