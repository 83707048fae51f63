/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import org.tapemetrology.signals.internal.Require;

/**
 * One loss of level with raised-cosine edges inside its length.
 *
 * @param startSeconds where the level begins to fall, in s
 * @param lengthSeconds until the level is whole again, in s, edges included
 * @param depthDb attenuation between the edges in dB; infinite for a complete loss
 * @param edgeSeconds duration of each edge in s, 0 for a hard one
 */
public record Dropout(double startSeconds, double lengthSeconds, double depthDb, double edgeSeconds) {
    /**
     * Checks the values.
     *
     * @param startSeconds finite and not below 0
     * @param lengthSeconds finite and above 0
     * @param depthDb not below 0
     * @param edgeSeconds 0 to half the length
     * @throws IllegalArgumentException if the start is not finite or below 0, the length is not finite and above 0,
     *     the depth is below 0 or NaN, or the edges do not fit into the length
     */
    public Dropout {
        Require.notNegative("start of the dropout in s", startSeconds);
        Require.positive("length of the dropout in s", lengthSeconds);
        Require.within("depth of the dropout in dB", depthDb, 0, Double.POSITIVE_INFINITY);
        Require.within("edge of the dropout in s", edgeSeconds, 0, lengthSeconds / 2);
    }

    /**
     * The gain of this dropout at a moment.
     *
     * @param seconds time from the start
     * @return 1 outside, 10^(-depth/20) between the edges
     */
    public double gainAt(double seconds) {
        double into = Math.min(seconds - startSeconds, startSeconds + lengthSeconds - seconds);
        if (into < 0) {
            return 1;
        }
        double loss = 1 - Decibels.toRatio(-depthDb);
        double share = into >= edgeSeconds ? 1 : 0.5 - 0.5 * Math.cos(Math.PI * into / edgeSeconds);
        return 1 - loss * share;
    }
}
