/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

/**
 * A stretch of a recording over which it keeps its character: one line, steady or gliding, or a spectrum of any other kind.
 *
 * @param line whether one line prevails
 * @param fromSeconds where it begins
 * @param toSeconds where it ends
 * @param middleSeconds mean moment of its frames
 * @param lnHz logarithm of the frequency in Hz at that moment
 * @param glide growth of that logarithm per second
 * @param levelDbfs level of the stronger channel
 * @param balanceDb level of channel 1 re channel 2
 * @param restDb power beside the line re that of the line
 * @param fit how well its spectrum fits the steps of noise or many tones
 */
record Segment(
        boolean line,
        double fromSeconds,
        double toSeconds,
        double middleSeconds,
        double lnHz,
        double glide,
        double levelDbfs,
        double balanceDb,
        double restDb,
        BroadMatch.Fit fit) {

    double seconds() {
        return toSeconds - fromSeconds;
    }
}
