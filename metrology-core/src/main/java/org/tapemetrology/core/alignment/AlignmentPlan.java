/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.List;
import org.tapemetrology.core.internal.Require;

/**
 * What is to be aligned, with which tones, and how well.
 *
 * @param heads 2 where one head records and replays, 3 where each has its own
 * @param channels 1 or 2
 * @param referenceHz frequency at which levels are set, in Hz
 * @param referenceDbfs level in dBFS that the reference level has at the output
 * @param speedHz tone of the speed section, in Hz
 * @param azimuthHz tone of the azimuth section, in Hz
 * @param trebleHz frequency at which the equalisations are set, in Hz
 * @param biasHz frequency of the bias curve, in Hz
 * @param overBiasDropDb drop beyond the peak at that frequency that the tape's maker states, in dB
 * @param responseHz frequencies of the responses in Hz, rising; reference, bias and treble frequency among them
 * @param tolerances how near is near enough
 */
public record AlignmentPlan(
        int heads,
        int channels,
        double referenceHz,
        double referenceDbfs,
        double speedHz,
        double azimuthHz,
        double trebleHz,
        double biasHz,
        double overBiasDropDb,
        List<Double> responseHz,
        Tolerances tolerances) {

    /**
     * A plan, checked.
     *
     * @param heads 2 or 3
     * @param channels 1 or 2
     * @param referenceHz reference frequency
     * @param referenceDbfs its level at the output
     * @param speedHz tone of the speed section, below that of the azimuth section
     * @param azimuthHz tone of the azimuth section
     * @param trebleHz where equalisations are set
     * @param biasHz frequency of the bias curve
     * @param overBiasDropDb drop beyond the peak, above 0
     * @param responseHz frequencies of the responses
     * @param tolerances how near is near enough
     * @throws IllegalArgumentException if heads or channels are none of these, {@code referenceDbfs} is not in -60
     *     dBFS to 0 dBFS, {@code speedHz} or {@code overBiasDropDb} is not finite and above 0, {@code azimuthHz} is
     *     not above {@code speedHz}, or {@code responseHz} does not rise or lacks one of the other frequencies
     */
    public AlignmentPlan {
        Require.inRange("heads", heads, 2, 3);
        Require.inRange("channels", channels, 1, 2);
        Require.inRange("referenceDbfs", referenceDbfs, -60, 0);
        Require.positive("speedHz", speedHz);
        Require.positive("overBiasDropDb", overBiasDropDb);
        if (!(azimuthHz > speedHz)) {
            throw new IllegalArgumentException(
                    "azimuthHz " + azimuthHz + " is not above the tone of the speed section, " + speedHz);
        }
        responseHz = List.copyOf(responseHz);
        for (double needed : new double[] {referenceHz, trebleHz, biasHz}) {
            if (!responseHz.contains(needed)) {
                throw new IllegalArgumentException("responseHz " + responseHz + " lacks " + needed + " Hz");
            }
        }
        for (int i = 1; i < responseHz.size(); i++) {
            if (!(responseHz.get(i) > responseHz.get(i - 1))) {
                throw new IllegalArgumentException("responseHz " + responseHz + " does not rise: " + responseHz.get(i)
                        + " Hz follows " + responseHz.get(i - 1) + " Hz");
            }
        }
    }

    /**
     * A cassette machine, with the tones of the usual test tapes (IEC 60094-2, from memory).
     *
     * @param heads 2 or 3
     * @param channels 1 or 2
     * @param referenceDbfs level of the reference level at the output, in dBFS
     * @param overBiasDropDb drop at 6.3 kHz that the tape's maker states, in dB
     * @return the plan, its tolerances those of {@link Tolerances#commonPractice()}
     */
    public static AlignmentPlan cassette(int heads, int channels, double referenceDbfs, double overBiasDropDb) {
        return new AlignmentPlan(
                heads,
                channels,
                315,
                referenceDbfs,
                3150,
                10_000,
                10_000,
                6300,
                overBiasDropDb,
                List.of(63.0, 125.0, 315.0, 1000.0, 2000.0, 4000.0, 6300.0, 8000.0, 10_000.0, 12_500.0),
                Tolerances.commonPractice());
    }

    /**
     * An open-reel machine at 19.05 cm/s or faster.
     *
     * @param heads 2 or 3
     * @param channels 1 or 2
     * @param referenceDbfs level of the reference level at the output, in dBFS
     * @param overBiasDropDb drop at 10 kHz that the tape's maker states, in dB
     * @return the plan, its tolerances those of {@link Tolerances#commonPractice()}
     */
    public static AlignmentPlan openReel(int heads, int channels, double referenceDbfs, double overBiasDropDb) {
        return new AlignmentPlan(
                heads,
                channels,
                1000,
                referenceDbfs,
                3150,
                10_000,
                12_500,
                10_000,
                overBiasDropDb,
                List.of(63.0, 125.0, 315.0, 1000.0, 2000.0, 4000.0, 8000.0, 10_000.0, 12_500.0),
                Tolerances.commonPractice());
    }
}
