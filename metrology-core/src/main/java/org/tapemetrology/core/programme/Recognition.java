/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.quantity.Warning;

/**
 * Which steps of a programme a recording holds.
 *
 * <p>Made by {@link ProgrammeRecogniser}; its numbers are not checked.
 *
 * @param found the steps that were recognised, in the order of the recording
 * @param missing names of the steps that were not, in the order of the programme
 * @param speedRatio ratio of the speed of the machine to that of the programme; empty where nothing was recognised
 * @param swapped whether the channels are swapped
 * @param warnings what is missing, cut short, in doubt or swapped
 */
public record Recognition(
        List<RecognisedStep> found,
        List<String> missing,
        OptionalDouble speedRatio,
        boolean swapped,
        List<Warning> warnings) {
    /**
     * A recognition, its lists copied.
     *
     * @param found the steps that were recognised
     * @param missing names of those that were not
     * @param speedRatio speed of the machine
     * @param swapped whether the channels are swapped
     * @param warnings what must be known
     */
    public Recognition {
        found = List.copyOf(found);
        missing = List.copyOf(missing);
        warnings = List.copyOf(warnings);
    }

    /**
     * The step of a name.
     *
     * @param name the name
     * @return where it is, empty where it was not recognised
     */
    public Optional<RecognisedStep> find(String name) {
        return found.stream().filter(step -> step.name().equals(name)).findFirst();
    }
}
