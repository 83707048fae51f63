/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.damage;

import java.util.List;
import java.util.OptionalDouble;

/**
 * A recording with faults, and what is true of it.
 *
 * <p>Truths are given re the sampling rate that the recording states: a wrong one that goes with its file cannot be seen
 * from the samples. For the same reason a swapped pair of channels counts as it stands in the file, and without a given
 * nominal frequency the tape is one of the published carrier that is nearest to its tone.
 *
 * <p>Immutable; may be shared between threads, which get copies of the samples. Among the faults are samples that are
 * not finite, on purpose. The same seed gives the same recording.
 */
public final class DamagedRecording {
    private final long seed;
    private final int sampleRateHz;
    private final OptionalDouble nominalHz;
    private final float[][] channels;
    private final List<Truths> truths;
    private final List<String> faults;

    DamagedRecording(
            long seed,
            int sampleRateHz,
            OptionalDouble nominalHz,
            float[][] channels,
            List<Truths> truths,
            List<String> faults) {
        this.seed = seed;
        this.sampleRateHz = sampleRateHz;
        this.nominalHz = nominalHz;
        this.channels = channels;
        this.truths = List.copyOf(truths);
        this.faults = List.copyOf(faults);
    }

    /**
     * The number that the recording was drawn from.
     *
     * @return the seed
     */
    public long seed() {
        return seed;
    }

    /**
     * The sampling rate that the recording states.
     *
     * @return the rate in Hz
     */
    public int sampleRateHz() {
        return sampleRateHz;
    }

    /**
     * The nominal frequency, where the person who measures knows it.
     *
     * @return the frequency in Hz
     */
    public OptionalDouble nominalHz() {
        return nominalHz;
    }

    /**
     * Number of channels.
     *
     * @return 1 or 2
     */
    public int channels() {
        return channels.length;
    }

    /**
     * Number of samples of each channel.
     *
     * @return the number
     */
    public int frames() {
        return channels[0].length;
    }

    /**
     * The samples of all channels in turn, full scale 1.
     *
     * @return a new array
     */
    public float[] interleaved() {
        int stride = channels.length;
        float[] all = new float[frames() * stride];
        for (int c = 0; c < stride; c++) {
            for (int i = 0; i < channels[c].length; i++) {
                all[i * stride + c] = channels[c][i];
            }
        }
        return all;
    }

    /**
     * What is true of a quantity of a channel.
     *
     * @param quantity identifier of the quantity, as {@code flutter.weighted.rms}
     * @param channel number of the channel from 1; 0 for a figure between channels
     * @return its truth after the damage
     */
    public Truth truth(String quantity, int channel) {
        return truths.get(channel).of(quantity);
    }

    /**
     * What was done to the recording.
     *
     * @return one line for each fault, as "gap 0.120 s at 3.4 s"
     */
    public List<String> faults() {
        return faults;
    }
}
