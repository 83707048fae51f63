/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.quantity.Measurement;

/** A part of an alignment: asks for takes, reads them, says what to turn, until nothing more is to be done. */
interface Procedure {
    /** What is to be done next; empty where the procedure is over. The same until {@link #take} was called. */
    Optional<Request> request();

    /** Takes the measurement of each take of the request; returns what it says, for a person. */
    List<Instruction> take(List<Measurement> takes);

    /** A turn of the request ended at the stop of a trimmer. */
    void stopped(String trimmer);

    /** How each thing ended, or stands. */
    List<Outcome> outcomes();
}
