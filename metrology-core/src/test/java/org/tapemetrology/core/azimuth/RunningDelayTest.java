/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.quantity.Quantity;

/** The delay as it is now, of noise of which one channel follows the other by whole samples. */
class RunningDelayTest {
    private static final int RATE = 48_000;
    /** A sample in us. */
    private static final double SAMPLE = 1e6 / RATE;

    private final AzimuthMeter meter =
            AzimuthMeter.builder().sampleRateHz(RATE).running().build();
    private final Random random = new Random(8);

    private void feed(double seconds, int delay, double rms) {
        double[] first = new double[(int) (seconds * RATE)];
        double[] second = new double[first.length];
        for (int i = 0; i < first.length; i++) {
            first[i] = rms * random.nextGaussian();
            second[i] = i < delay ? 0 : first[i - delay];
        }
        meter.accept(first, second, 0, first.length);
    }

    private double meanSince(double sum, long count) {
        return (meter.runningDelaySum() - sum) / (meter.runningDelayCount() - count);
    }

    /** Noise of the same samples has the delay to a hundredth of a microsecond and better; here a tenth is asked. */
    @Test
    void itFollowsAHeadThatIsTurned() {
        assertThat(meter.hasRunningDelay()).isFalse();
        assertThat(meter.runningDelayCount()).isZero();
        feed(3, 1, 0.1);
        assertThat(meter.hasRunningDelay()).isTrue();
        double sign = Math.signum(meter.readings().stream()
                .filter(r -> r.quantity() == Quantity.AZIMUTH_DELAY)
                .findFirst()
                .orElseThrow()
                .value()
                .orElseThrow());
        assertThat(meanSince(0, 0)).isCloseTo(sign * SAMPLE, within(0.1));
        // Far beyond the half cycle within which a frame is looked at; forgets by e in a second.
        feed(4, 12, 0.1);
        double sum = meter.runningDelaySum();
        long count = meter.runningDelayCount();
        feed(1, 12, 0.1);
        assertThat(meter.runningDelayCount() - count).isPositive();
        assertThat(meanSince(sum, count)).isCloseTo(sign * 12 * SAMPLE, within(0.1));
    }

    /** What comes after silence may be another signal, which is found anew; the sums stay. */
    @Test
    void silenceForgetsTheDelayAndKeepsTheSums() {
        feed(2, 2, 0.1);
        feed(1, 0, 0);
        assertThat(meter.hasRunningDelay()).isFalse();
        double sum = meter.runningDelaySum();
        long count = meter.runningDelayCount();
        assertThat(count).isPositive();
        feed(0.5, 0, 0);
        assertThat(meter.runningDelayCount()).isEqualTo(count);
        feed(2, 5, 0.1);
        assertThat(meter.hasRunningDelay()).isTrue();
        assertThat(Math.abs(meanSince(sum, count))).isCloseTo(5 * SAMPLE, within(0.1));
        meter.reset();
        assertThat(meter.hasRunningDelay()).isFalse();
        assertThat(meter.runningDelayCount()).isZero();
        assertThat(meter.runningDelaySum()).isZero();
    }

    @Test
    void channelsWithNothingInCommonHaveNone() {
        double[] first = new double[3 * RATE];
        double[] second = new double[first.length];
        for (int i = 0; i < first.length; i++) {
            first[i] = 0.1 * random.nextGaussian();
            second[i] = 0.1 * random.nextGaussian();
        }
        meter.accept(first, second, 0, first.length);
        assertThat(meter.hasRunningDelay()).isFalse();
        assertThat(meter.runningDelayCount()).isZero();
    }

    @Test
    void aMeterWithoutItHasNone() {
        AzimuthMeter plain = AzimuthMeter.builder().sampleRateHz(RATE).build();
        plain.accept(new double[100], new double[100], 0, 100);
        assertThat(plain.hasRunningDelay()).isFalse();
        assertThat(plain.runningDelaySum()).isZero();
        assertThat(plain.runningDelayCount()).isZero();
    }
}
