/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import java.util.ArrayList;
import java.util.List;
import org.tapemetrology.core.internal.Require;

/**
 * One tone of a recording of stepped tones.
 *
 * @param frequencyHz frequency in Hz
 * @param dwellSeconds how long it stands, in s
 */
public record ToneStep(double frequencyHz, double dwellSeconds) {
    /**
     * A tone, checked.
     *
     * @param frequencyHz frequency in Hz, above 0
     * @param dwellSeconds how long it stands, in s, above 0
     * @throws IllegalArgumentException if one is not finite and above 0
     */
    public ToneStep {
        Require.positive("frequencyHz", frequencyHz);
        Require.positive("dwellSeconds", dwellSeconds);
    }

    /**
     * Tones of one length.
     *
     * @param dwellSeconds how long each stands, in s
     * @param frequenciesHz frequencies in Hz, in the order in which they were sent
     * @return the tones
     */
    public static List<ToneStep> each(double dwellSeconds, double... frequenciesHz) {
        List<ToneStep> steps = new ArrayList<>();
        for (double frequencyHz : frequenciesHz) {
            steps.add(new ToneStep(frequencyHz, dwellSeconds));
        }
        return List.copyOf(steps);
    }
}
