/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Signal;

/** Two channels of a replay. */
final class Replay {
    private final double rateHz;
    private final double[] first;
    private final double[] second;

    Replay(double rateHz, double[] first, double[] second) {
        this.rateHz = rateHz;
        this.first = first;
        this.second = second;
    }

    double[] first() {
        return first;
    }

    double[] second() {
        return second;
    }

    static Replay of(Signal signal, double rateHz, double seconds, double delayMicroseconds) {
        return new Replay(
                rateHz,
                SampledSignal.of(signal, rateHz).seconds(seconds),
                SampledSignal.of(signal.delayedBy(1e-6 * delayMicroseconds), rateHz)
                        .seconds(seconds));
    }

    static Replay of(Spectral signal, double rateHz, double seconds, double delayMicroseconds) {
        int length = (int) Math.round(seconds * rateHz);
        return new Replay(
                rateHz,
                Arrays.copyOf(signal.samples(0, f -> 1), length),
                Arrays.copyOf(signal.samples(1e-6 * delayMicroseconds, f -> 1), length));
    }

    /**
     * A signal from a tape whose skew wanders: channel 2 replays what channel 1 replayed a varying delay in us ago. The tape
     * function gives the passed seconds of recorded time.
     */
    static Replay wandering(
            DoubleUnaryOperator signal,
            DoubleUnaryOperator tape,
            DoubleUnaryOperator delay,
            double rateHz,
            double seconds) {
        double[] first = new double[(int) (rateHz * seconds)];
        double[] second = new double[first.length];
        for (int i = 0; i < first.length; i++) {
            double t = i / rateHz;
            first[i] = signal.applyAsDouble(tape.applyAsDouble(t));
            second[i] = signal.applyAsDouble(tape.applyAsDouble(t - 1e-6 * delay.applyAsDouble(t)));
        }
        return new Replay(rateHz, first, second);
    }

    double firstRms() {
        return Math.sqrt(Arrays.stream(first).map(x -> x * x).average().orElseThrow());
    }

    /** Independent noise in each channel; the RMS values are in full scale. */
    Replay withNoise(double firstRms, double secondRms, Random random) {
        return new Replay(rateHz, noisy(first, firstRms, random), noisy(second, secondRms, random));
    }

    private static double[] noisy(double[] samples, double rms, Random random) {
        return Arrays.stream(samples).map(x -> x + rms * random.nextGaussian()).toArray();
    }

    Replay withSecondTimes(double gain) {
        return new Replay(
                rateHz, first, Arrays.stream(second).map(x -> gain * x).toArray());
    }

    AzimuthMeter measured() {
        return measured(AzimuthMeter.builder());
    }

    AzimuthMeter measured(AzimuthMeter.Builder builder) {
        AzimuthMeter meter = builder.sampleRateHz(rateHz).build();
        meter.accept(first, second, 0, first.length);
        return meter;
    }

    static Reading find(AzimuthMeter meter, Quantity quantity) {
        return meter.readings().stream()
                .filter(r -> r.quantity() == quantity)
                .findFirst()
                .orElseThrow();
    }

    static double value(AzimuthMeter meter, Quantity quantity) {
        Reading reading = find(meter, quantity);
        assertThat(reading.status()).isEqualTo(Status.VALID);
        return reading.value().orElseThrow();
    }

    static double delay(AzimuthMeter meter) {
        return value(meter, Quantity.AZIMUTH_DELAY);
    }

    static List<WarningCode> codes(AzimuthMeter meter) {
        return meter.warnings().stream().map(Warning::code).toList();
    }
}
