/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.Optional;
import org.tapemetrology.core.fit.CorrelatedMean;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * How well the balance of two channels is known: by the differences of their levels over windows of 0.1 s. What the levels
 * have in common, as where the tape lies badly at the head, does not make the balance doubtful. Thread-confined.
 *
 * <p>It is in dB. Settling and cost: it needs 0.4 s of both tones. Memory does not grow. It reads levels of tones
 * that are followed, which are finite: never NaN. The scatter is of type A (JCGM 100:2008, 4.2).
 *
 * <p>Not for the balance itself, which {@code channel.balance} is.
 */
public final class BalanceScatter {
    private final CorrelatedMean differences = new CorrelatedMean();
    private double firstSum;
    private double secondSum;
    private long firstWindows;
    private long secondWindows;
    private int firstStretch;
    private int secondStretch;

    /** A scatter that has seen nothing. */
    public BalanceScatter() {}

    /**
     * Takes what the meters of both channels have summed up of their tones by now; to be called at least every 0.1 s, so that
     * each window counts by itself.
     *
     * @param first meter of channel 1
     * @param second meter of channel 2
     */
    public void accept(ToneMeter first, ToneMeter second) {
        long ofFirst = first.followedWindows();
        long ofSecond = second.followedWindows();
        if (first.followedStretch() != firstStretch || second.followedStretch() != secondStretch) {
            reset(); // its sums are of another tone
            firstStretch = first.followedStretch();
            secondStretch = second.followedStretch();
        }
        if (ofFirst == firstWindows || ofSecond == secondWindows) {
            return;
        }
        double one = (first.followedPowerSum() - firstSum) / (ofFirst - firstWindows);
        double other = (second.followedPowerSum() - secondSum) / (ofSecond - secondWindows);
        if (one > 0 && other > 0) { // not of digital silence
            differences.add(10 * Math.log10(other / one));
        }
        firstSum = first.followedPowerSum();
        secondSum = second.followedPowerSum();
        firstWindows = ofFirst;
        secondWindows = ofSecond;
    }

    /**
     * Standard uncertainty of the balance.
     *
     * @return that uncertainty in dB; empty below 0.4 s
     */
    public Optional<StandardUncertainty> uncertainty() {
        return differences
                .scatter()
                .map(scatter -> new StandardUncertainty(scatter.standardUncertainty(), scatter.degreesOfFreedom()));
    }

    /** Forgets what was taken. */
    public void reset() {
        differences.reset();
        firstSum = 0;
        secondSum = 0;
        firstWindows = 0;
        secondWindows = 0;
        firstStretch = 0;
        secondStretch = 0;
    }
}
