/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.List;

/**
 * What is to be done before the alignment goes on: something to do by hand, or takes to be played or recorded and measured.
 *
 * @param step step of the service
 * @param source where the takes come from
 * @param before turns to be made before the first take
 * @param between turns to be made between each take and the next
 * @param takes what is played or recorded, in order; empty where the request is to be done by hand
 * @param sentence the same for a person
 */
public record Request(
        ServiceStep step, Source source, List<Turn> before, List<Turn> between, List<Take> takes, String sentence) {

    /** Where takes come from. */
    public enum Source {
        /** Nothing is played. */
        HAND,
        /** A test tape. */
        TEST_TAPE,
        /** A recording of the machine's own, replayed: on a machine of two heads a round of record, rewind, replay. */
        OWN_RECORDING
    }

    /**
     * A request, its lists copied.
     *
     * @param step step of the service
     * @param source where the takes come from
     * @param before turns to be made first
     * @param between turns between the takes
     * @param takes what is played or recorded
     * @param sentence the same for a person
     */
    public Request {
        before = List.copyOf(before);
        between = List.copyOf(between);
        takes = List.copyOf(takes);
    }

    static Request of(ServiceStep step, Source source, List<Take> takes, String sentence) {
        return new Request(step, source, List.of(), List.of(), takes, sentence);
    }
}
