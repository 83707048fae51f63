/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.quantity.Measurement;

/** A step that is done by hand: asked for once. */
final class HandProcedure implements Procedure {
    private final ServiceStep step;
    private boolean done;

    HandProcedure(ServiceStep step) {
        this.step = step;
    }

    @Override
    public Optional<Request> request() {
        return done
                ? Optional.empty()
                : Optional.of(Request.of(step, Request.Source.HAND, List.of(), step.instruction()));
    }

    @Override
    public List<Instruction> take(List<Measurement> takes) {
        done = true;
        return List.of();
    }

    @Override
    public void stopped(String trimmer) {}

    @Override
    public List<Outcome> outcomes() {
        return List.of();
    }
}
