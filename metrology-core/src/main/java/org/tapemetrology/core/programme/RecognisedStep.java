/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

/**
 * Where a step stands in a recording.
 *
 * <p>Made by {@link ProgrammeRecogniser}; its numbers are not checked.
 *
 * @param index number of the step in the programme, from 0
 * @param name its name
 * @param fromSeconds where it begins in the recording, in s
 * @param toSeconds where it ends, in s
 * @param speedRatio ratio of the speed of the machine to that of the programme, 1 on speed; that of its neighbours
 *     for a pause or noise
 * @param confidence how much better this name explains the recording than any other, 0 to 1
 * @param complete whether all of it is there
 */
public record RecognisedStep(
        int index,
        String name,
        double fromSeconds,
        double toSeconds,
        double speedRatio,
        double confidence,
        boolean complete) {}
