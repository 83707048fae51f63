/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import java.util.Objects;
import java.util.Optional;
import org.tapemetrology.signals.internal.Require;

/**
 * The samples of a signal at a rate, from any sample on. The value of a sample depends on its number alone, so any
 * division into blocks gives the same bits. Immutable; may be shared between threads.
 *
 * <p>Without a quantiser a value of the signal that is not finite is handed on; with one it is refused.
 *
 * @param signal the signal
 * @param sampleRateHz sample rate in Hz, whole or not
 * @param quantiser the converter that the samples went through; empty for none
 */
public record SampledSignal(Signal signal, double sampleRateHz, Optional<Quantiser> quantiser) {
    /**
     * Checks the rate.
     *
     * @param signal the signal
     * @param sampleRateHz finite and above 0
     * @param quantiser any or none
     * @throws IllegalArgumentException if the rate is not finite and above 0
     */
    public SampledSignal {
        Require.positive("sample rate in Hz", sampleRateHz);
    }

    /**
     * The samples of a signal without quantisation.
     *
     * @param signal the signal
     * @param sampleRateHz sample rate
     * @return the samples
     */
    public static SampledSignal of(Signal signal, double sampleRateHz) {
        return new SampledSignal(signal, sampleRateHz, Optional.empty());
    }

    /**
     * These samples through a converter.
     *
     * @param converter the converter
     * @return the quantised samples
     */
    public SampledSignal quantised(Quantiser converter) {
        return new SampledSignal(signal, sampleRateHz, Optional.of(converter));
    }

    /**
     * One sample.
     *
     * @param index its number; number 0 is at time 0
     * @return the value; full scale is 1
     */
    public double sample(long index) {
        double whole = Math.floor(index / sampleRateHz);
        // Fused, the remainder is exact; the quotient may have rounded across a whole second.
        double rest = Math.fma(-whole, sampleRateHz, (double) index);
        if (rest < 0) {
            whole -= 1;
            rest += sampleRateHz;
        } else if (rest >= sampleRateHz) {
            whole += 1;
            rest -= sampleRateHz;
        }
        double value = signal.at((long) whole, rest / sampleRateHz);
        return quantiser.isPresent() ? quantiser.get().quantise(value, index) : value;
    }

    /**
     * Fills part of an array.
     *
     * @param firstIndex number of the first sample
     * @param out array that is filled
     * @param offset place of the first sample in it
     * @param length number of samples
     */
    public void fill(long firstIndex, double[] out, int offset, int length) {
        Objects.checkFromIndexSize(offset, length, out.length);
        for (int i = 0; i < length; i++) {
            out[offset + i] = sample(firstIndex + i);
        }
    }

    /**
     * Fills part of an array.
     *
     * @param firstIndex number of the first sample
     * @param out array that is filled, each value rounded to a float
     * @param offset place of the first sample in it
     * @param length number of samples
     */
    public void fill(long firstIndex, float[] out, int offset, int length) {
        Objects.checkFromIndexSize(offset, length, out.length);
        for (int i = 0; i < length; i++) {
            out[offset + i] = (float) sample(firstIndex + i);
        }
    }

    /**
     * A part of the samples.
     *
     * @param firstIndex number of the first sample
     * @param count number of samples
     * @return the samples
     */
    public double[] samples(long firstIndex, int count) {
        double[] out = new double[Require.within("number of samples", count, 0, Integer.MAX_VALUE - 8)];
        fill(firstIndex, out, 0, count);
        return out;
    }

    /**
     * The samples from time 0 on.
     *
     * @param duration duration in seconds
     * @return the nearest whole number of samples to rate &times; duration
     */
    public double[] seconds(double duration) {
        Require.notNegative("duration in s", duration);
        return samples(0, Math.toIntExact(Math.round(duration * sampleRateHz)));
    }
}
