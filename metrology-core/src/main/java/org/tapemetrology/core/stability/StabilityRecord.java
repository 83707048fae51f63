/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.stability;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.tapemetrology.core.internal.Require;

/**
 * A record whose stability is asked for: evenly spaced phases, or the fractional frequencies between them. For tape the
 * fractional frequency is the relative speed deviation. Immutable.
 *
 * <p>Phases are in s, frequencies are ratios; the formulas are those of NIST SP 1065, see {@link StabilityDeviation}.
 * Cost: of the order of the record for each averaging time. A value that is not finite is refused.
 *
 * <p>Not for a record with gaps: time is counted in samples.
 */
public final class StabilityRecord {
    private final double[] phase;
    private final double secondsPerSample;

    private StabilityRecord(double[] phase, double secondsPerSample) {
        this.phase = phase;
        this.secondsPerSample = secondsPerSample;
    }

    /**
     * A record of fractional frequencies, each the mean over one spacing.
     *
     * @param frequency fractional frequencies, ratios, at least 2; copied
     * @param secondsPerSample spacing in s
     * @return the record
     */
    public static StabilityRecord ofFrequency(double[] frequency, double secondsPerSample) {
        return ofFrequency(frequency, 0, frequency.length, secondsPerSample);
    }

    /**
     * A record of fractional frequencies that is part of an array.
     *
     * @param frequency fractional frequencies, ratios; copied
     * @param offset the first that counts
     * @param length how many count, at least 2
     * @param secondsPerSample spacing in s
     * @return the record
     */
    public static StabilityRecord ofFrequency(double[] frequency, int offset, int length, double secondsPerSample) {
        Objects.checkFromIndexSize(offset, length, frequency.length);
        check("frequencies", frequency, offset, length, 2);
        Require.positive("spacing in s", secondsPerSample);
        // No deviation sees the mean; without it the phase stays small and its differences exact.
        double mean = 0;
        for (int i = 0; i < length; i++) {
            mean += (frequency[offset + i] - mean) / (i + 1);
        }
        double[] phase = new double[length + 1];
        for (int i = 0; i < length; i++) {
            phase[i + 1] = phase[i] + (frequency[offset + i] - mean) * secondsPerSample;
        }
        return new StabilityRecord(phase, secondsPerSample);
    }

    /**
     * A record of phases.
     *
     * @param phaseSeconds phases, as times in s, at least 3; copied
     * @param secondsPerSample spacing in s
     * @return the record
     */
    public static StabilityRecord ofPhase(double[] phaseSeconds, double secondsPerSample) {
        check("phases", phaseSeconds, 0, phaseSeconds.length, 3);
        Require.positive("spacing in s", secondsPerSample);
        return new StabilityRecord(phaseSeconds.clone(), secondsPerSample);
    }

    private static void check(String name, double[] values, int offset, int length, int least) {
        if (length < least) {
            throw new IllegalArgumentException(length + " " + name + ", at least " + least + " are needed");
        }
        for (int i = offset; i < offset + length; i++) {
            if (!Double.isFinite(values[i])) {
                throw new IllegalArgumentException(name + "[" + i + "] is " + values[i] + ", not a finite number");
            }
        }
    }

    /**
     * A deviation at one averaging time.
     *
     * @param kind which deviation
     * @param averagingFactor averaging time in spacings, 1 to {@link #greatestFactor}
     * @return the deviation
     */
    public StabilityPoint at(StabilityDeviation kind, int averagingFactor) {
        return kind.of(phase, averagingFactor, secondsPerSample);
    }

    /**
     * The longest averaging time for which the record gives a deviation, by a single difference.
     *
     * @param kind which deviation
     * @return averaging time in spacings; 0 where the record is too short
     */
    public int greatestFactor(StabilityDeviation kind) {
        return kind.greatestFactor(phase.length);
    }

    /**
     * A deviation against averaging time, at octaves of the spacing.
     *
     * @param kind which deviation
     * @return points at 1, 2, 4 ... spacings, up to the longest that the record allows
     */
    public List<StabilityPoint> octaves(StabilityDeviation kind) {
        List<StabilityPoint> points = new ArrayList<>();
        int greatest = greatestFactor(kind);
        for (long factor = 1; factor <= greatest; factor *= 2) {
            points.add(at(kind, (int) factor));
        }
        return List.copyOf(points);
    }
}
