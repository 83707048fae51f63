/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.quantity;

import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * Something that the reader of the figures must know.
 *
 * <p>Its numbers are not checked.
 *
 * @param code what kind of thing
 * @param channel 1-based channel, empty where it concerns the whole recording
 * @param message one sentence for a person
 * @param fromSeconds where in the recording it begins, in s, empty where it has no place
 * @param toSeconds where it ends, in s, empty where it has no place
 */
public record Warning(
        WarningCode code, OptionalInt channel, String message, OptionalDouble fromSeconds, OptionalDouble toSeconds) {

    /**
     * A warning without a place in time.
     *
     * @param code what kind of thing
     * @param message one sentence for a person
     * @return the warning, belonging to no channel yet
     */
    public static Warning of(WarningCode code, String message) {
        return new Warning(code, OptionalInt.empty(), message, OptionalDouble.empty(), OptionalDouble.empty());
    }

    /**
     * A warning with a place in time.
     *
     * @param code what kind of thing
     * @param message one sentence for a person
     * @param fromSeconds where it begins
     * @param toSeconds where it ends
     * @return the warning, belonging to no channel yet
     */
    public static Warning during(WarningCode code, String message, double fromSeconds, double toSeconds) {
        return new Warning(
                code, OptionalInt.empty(), message, OptionalDouble.of(fromSeconds), OptionalDouble.of(toSeconds));
    }

    /**
     * This warning as that of a channel.
     *
     * @param number 1-based channel
     * @return the same warning on that channel
     */
    public Warning onChannel(int number) {
        return new Warning(code, OptionalInt.of(number), message, fromSeconds, toSeconds);
    }
}
