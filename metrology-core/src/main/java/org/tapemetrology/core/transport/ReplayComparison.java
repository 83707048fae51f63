/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.transport;

import java.util.List;
import org.tapemetrology.core.internal.Require;

/**
 * Tells the flutter that stands on a tape from that of the machine, by several replays of one tape. What was recorded
 * comes back at the same places of the tape; what the machine adds does not. Of replays that are aligned to each other the
 * mean product of two is the power on the tape, and what the mean square of one exceeds it by is that of the machine.
 *
 * <p>Made by {@link #of}, which refuses samples that are not finite; its numbers themselves are not checked. Cost: of
 * the order of the samples of all replays. Not for replays that drift against each other: what does not stay aligned
 * counts as the machine's.
 *
 * @param recordedRms RMS relative deviation that stands on the tape
 * @param machineRms RMS relative deviation that the machine adds
 * @param recordedUncertainty standard uncertainty of the first, a ratio, from the scatter of parts
 * @param machineUncertainty standard uncertainty of the second, a ratio
 */
public record ReplayComparison(
        double recordedRms, double machineRms, double recordedUncertainty, double machineUncertainty) {
    private static final int PARTS = 16;

    /**
     * How many samples a replay is late re another, by the maximum of their cross-correlation.
     *
     * @param reference relative deviation of one replay
     * @param replay relative deviation of another, at the same rate
     * @param mostSamples most samples that it may be early or late
     * @return samples that the second is late, negative where it is early
     * @throws IllegalArgumentException if a sample is not finite, or the replays are too short
     */
    public static int lateBy(double[] reference, double[] replay, int mostSamples) {
        int length = Math.min(reference.length, replay.length) - 2 * mostSamples;
        if (mostSamples < 0 || length < 1) {
            throw new IllegalArgumentException("mostSamples " + mostSamples + " is not in 0 to below half of "
                    + Math.min(reference.length, replay.length) + " samples");
        }
        requireFinite("reference", reference);
        requireFinite("replay", replay);
        int best = 0;
        double greatest = Double.NEGATIVE_INFINITY;
        for (int late = -mostSamples; late <= mostSamples; late++) {
            double sum = 0;
            for (int i = mostSamples; i < mostSamples + length; i++) {
                sum += reference[i] * replay[i + late];
            }
            if (sum > greatest) {
                greatest = sum;
                best = late;
            }
        }
        return best;
    }

    /**
     * Compares aligned replays.
     *
     * @param replays relative deviation of each replay, all of the same length, sample by sample at the same place of the
     *     tape; at least two
     * @return how much flutter stands on the tape, and how much the machine adds
     * @throws IllegalArgumentException if a sample is not finite, or the replays are too few or too short
     */
    public static ReplayComparison of(List<double[]> replays) {
        if (replays.size() < 2) {
            throw new IllegalArgumentException(replays.size() + " replay: at least two are needed");
        }
        int length = replays.get(0).length;
        for (double[] replay : replays) {
            if (replay.length != length) {
                throw new IllegalArgumentException(
                        "a replay of " + replay.length + " samples does not go with one of " + length);
            }
            requireFinite("replay", replay);
        }
        Require.inRange("length of the replays", length, PARTS, Integer.MAX_VALUE);
        double[] recorded = new double[PARTS];
        double[] machine = new double[PARTS];
        for (int part = 0; part < PARTS; part++) {
            int from = (int) ((long) length * part / PARTS);
            int to = (int) ((long) length * (part + 1) / PARTS);
            double products = 0;
            double squares = 0;
            for (int i = from; i < to; i++) {
                double sum = 0;
                double square = 0;
                for (double[] replay : replays) {
                    sum += replay[i];
                    square += replay[i] * replay[i];
                }
                products += (sum * sum - square) / (replays.size() * (replays.size() - 1.0));
                squares += square / replays.size();
            }
            recorded[part] = products / (to - from);
            machine[part] = (squares - products) / (to - from);
        }
        double recordedPower = mean(recorded);
        double machinePower = mean(machine);
        return new ReplayComparison(
                Math.sqrt(Math.max(0, recordedPower)),
                Math.sqrt(Math.max(0, machinePower)),
                uncertainty(recorded, recordedPower),
                uncertainty(machine, machinePower));
    }

    private static void requireFinite(String name, double[] samples) {
        for (int i = 0; i < samples.length; i++) {
            Require.finite(name + "[" + i + "]", samples[i]);
        }
    }

    private static double mean(double[] values) {
        double sum = 0;
        for (double value : values) {
            sum += value;
        }
        return sum / values.length;
    }

    /** Standard uncertainty of the root of a power; of a power that is not known from zero, the root of its own. */
    private static double uncertainty(double[] powers, double mean) {
        double squares = 0;
        for (double power : powers) {
            squares += (power - mean) * (power - mean);
        }
        double ofPower = Math.sqrt(squares / (powers.length * (powers.length - 1.0)));
        return mean > ofPower ? ofPower / (2 * Math.sqrt(mean)) : Math.sqrt(ofPower);
    }
}
