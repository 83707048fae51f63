/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.core.programme.Step;
import org.tapemetrology.core.programme.StepSignal;
import org.tapemetrology.examples.bench.VirtualBench;
import org.tapemetrology.signals.Signal;

/** One channel of a programme in closed form, for a virtual recorder to record; noise has none and is refused. */
final class ProgrammeSignal implements Signal {
    private final Programme programme;
    private final Signal[] steps;

    ProgrammeSignal(Programme programme, int channel) {
        this.programme = programme;
        ProgrammeSound sound = new ProgrammeSound(programme, VirtualBench.RATE_HZ);
        this.steps = new Signal[programme.steps().size()];
        for (int i = 0; i < steps.length; i++) {
            Step step = programme.steps().get(i);
            if (step.signal() instanceof StepSignal.Noise) {
                throw new IllegalArgumentException("step " + step.name() + " is noise, which has no closed form");
            }
            steps[i] = step.side().carries(channel) ? sound.signal(step, i) : moment -> 0;
        }
    }

    @Override
    public double at(double seconds) {
        int step = 0;
        while (step < steps.length && seconds >= programme.startSeconds(step + 1)) {
            step++;
        }
        return step < steps.length ? steps[step].at(seconds - programme.startSeconds(step)) : 0;
    }
}
