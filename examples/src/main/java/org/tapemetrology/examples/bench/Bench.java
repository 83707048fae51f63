/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.bench;

import java.io.IOException;
import java.util.List;
import java.util.function.Consumer;
import org.tapemetrology.core.alignment.Request;
import org.tapemetrology.core.quantity.Measurement;

/** Where a machine stands that is to be aligned: does what an alignment asks for, and measures it. */
public interface Bench {
    /** What is left out at either end of a take, in s: what a hand needs to start and stop. */
    double EDGE_SECONDS = 0.2;

    /**
     * Makes the turns, plays or records the takes, and measures them.
     *
     * @param request what is asked for
     * @param stopped is told the name of each trimmer that came to its stop
     * @return a measurement for each take
     * @throws IOException where a recording cannot be read
     */
    List<Measurement> perform(Request request, Consumer<String> stopped) throws IOException;
}
