/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.Optional;
import org.tapemetrology.core.alignment.Instruction.State;
import org.tapemetrology.core.quantity.Reading;

/**
 * How the alignment of one thing ended.
 *
 * @param step step of the service
 * @param what the trimmer, or what was checked
 * @param state where it stands
 * @param reading the last reading of it
 * @param rounds readings that it took
 * @param sentence the same for a person
 */
public record Outcome(
        ServiceStep step, String what, State state, Optional<Reading> reading, int rounds, String sentence) {}
