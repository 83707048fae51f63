/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.WhiteNoise;

/**
 * A day at 8 kHz, the lowest sampling rate: memory does not grow, and sums over 7e8 samples keep their digits. The tone has
 * the period of a second, so that every minute is the same and a day must read as a minute does.
 */
@EnabledIfSystemProperty(named = "studies", matches = "true")
class SoakStudyTest {
    private static final int RATE = 8000;
    private static final int MINUTE = 60;
    private static final int HOUR = 3600;
    /** Of these every second of this tone is the same; the rest depend on how long one looks. */
    private static final List<Quantity> STEADY = List.of(
            Quantity.TONE_FREQUENCY,
            Quantity.FLUTTER_WEIGHTED_QUASI_PEAK,
            Quantity.FLUTTER_WEIGHTED_TWO_SIGMA,
            Quantity.FLUTTER_WEIGHTED_RMS,
            Quantity.FLUTTER_WEIGHTED_AVERAGE,
            Quantity.FLUTTER_UNWEIGHTED_RMS,
            Quantity.WOW_RMS,
            Quantity.LEVEL);

    private static float[] second() {
        FmTone tone = FmTone.builder(3000).amplitude(0.4).sine(4, 0.001).build();
        float[] samples = new float[RATE];
        SampledSignal.of(tone, RATE).fill(0, samples, 0, samples.length);
        return samples;
    }

    private static void feed(RecordingMeter meter, float[] second, long seconds) {
        for (long i = 0; i < seconds; i++) {
            meter.accept(second, 0, RATE);
        }
    }

    private static RecordingMeter meter() {
        return RecordingMeter.builder(RATE, 1).nominalHz(3000).build();
    }

    private static long usedBytes() {
        long least = Long.MAX_VALUE;
        for (int i = 0; i < 5; i++) {
            System.gc();
            least = Math.min(
                    least,
                    ManagementFactory.getMemoryMXBean().getHeapMemoryUsage().getUsed());
        }
        return least;
    }

    private static double value(Measurement measurement, Quantity quantity) {
        return measurement.find(quantity).orElseThrow().value().orElseThrow();
    }

    @Test
    void aDayReadsAsAMinute() {
        int hours = Integer.getInteger("hours", 24);
        float[] second = second();
        RecordingMeter day = meter();
        feed(day, second, HOUR);
        day.reading();
        long before = usedBytes();
        feed(day, second, (long) (hours - 1) * HOUR);
        day.reading();
        long grown = usedBytes() - before;
        RecordingMeter minute = meter();
        feed(minute, second, MINUTE);
        System.out.printf("%d h at %d Hz: heap grown by %d bytes%n", hours, RATE, grown);
        for (Quantity quantity : STEADY) {
            double one = value(minute.reading(), quantity);
            double other = value(day.reading(), quantity);
            System.out.printf("%s: minute %.12g, %d h %.12g%n", quantity.id(), one, hours, other);
            // A minute begins and ends 0.1 s within its second, which the mean of a day does not see: 1 % of a period
            // of 4 Hz.
            assertThat(other).as(quantity.id()).isCloseTo(one, within(1e-3 * Math.abs(one)));
        }
        // The true mean is 3000 Hz. The droop correction of the demodulator has a gain at rest of 1 but for 2e-5
        // (computed), and
        // the frequency that was found in 0.5 s, which it is tuned to, may be 0.25 Hz off.
        assertThat(value(day.reading(), Quantity.TONE_FREQUENCY)).isCloseTo(3000, within(2e-5 * 0.25));
        assertThat(Math.abs(value(day.reading(), Quantity.SPEED_DRIFT))).isLessThan(1e-7);
        // What a meter holds is some MB; a byte an hour for each sample would be 29 MB.
        assertThat(grown).isLessThan(256 * 1024);
    }

    /** Filters that die away in silence reach numbers that some processors are slow with. */
    @Test
    void silenceIsNoSlowerThanNoise() {
        float[] noise = new float[RATE];
        SampledSignal.of(new WhiteNoise(5, 0.1, RATE), RATE).fill(0, noise, 0, noise.length);
        float[] silence = new float[RATE];
        RecordingMeter meter =
                RecordingMeter.builder(RATE, 1).content(Content.NOISE).build();
        double ofNoise = Double.POSITIVE_INFINITY;
        double ofSilence = Double.POSITIVE_INFINITY;
        for (int round = 0; round < 6; round++) {
            ofNoise = Math.min(ofNoise, cpuSeconds(meter, noise));
            ofSilence = Math.min(ofSilence, cpuSeconds(meter, silence));
        }
        System.out.printf(
                "600 s of noise %.3f s, of silence after it %.3f s: ratio %.2f%n",
                ofNoise, ofSilence, ofSilence / ofNoise);
        // Subnormal numbers cost twice as much and more; the least of six rounds is steady within a few per cent.
        assertThat(ofSilence).isLessThan(1.3 * ofNoise);
    }

    private static double cpuSeconds(RecordingMeter meter, float[] second) {
        ThreadMXBean threads = ManagementFactory.getThreadMXBean();
        long before = threads.getCurrentThreadCpuTime();
        feed(meter, second, 600);
        return 1e-9 * (threads.getCurrentThreadCpuTime() - before);
    }
}
