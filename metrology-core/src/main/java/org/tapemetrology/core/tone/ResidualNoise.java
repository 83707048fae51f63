/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import org.tapemetrology.core.filter.AnalogFilter;
import org.tapemetrology.core.level.DigitalLevel;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.standard.Iec61672Edition2013;

/**
 * Noise beside a tone, from the mean spectrum of what is left of frames when the tracked tone is taken out. What stands
 * where the tone and its harmonics were is not noise; the noise that those places hide is taken to be that of their
 * neighbourhood.
 */
final class ResidualNoise {
    private static final double FROM_HZ = 22.4;
    private static final double TO_HZ = 22_400;
    private static final int HARMONICS = 10;
    /** Half the width of a place, re the frequency: a sixth octave at the tone, flutter at the harmonics. */
    private static final double AT_TONE = 0.1225;

    private static final double AT_HARMONIC = 0.01;
    /**
     * Flutter is published up to 200 Hz: its sidebands at the tone and at the harmonics are no noise either. Those of the second
     * order, twice as far out, are 60 dB below a tone of 3150 Hz with 0.5 % at 200 Hz, which is above the noise.
     */
    private static final double SIDEBANDS_HZ = 420;

    /** Below 1680 Hz the places of harmonics would leave too little between them. */
    private static final double MOST_OF_TONE = 0.25;
    /** A sixth of the spectrum is left between such places. */
    private static final double ALMOST_HALF = 0.42;

    private static final int LEAST_NEIGHBOURS = 8;
    private static final double INDEPENDENT = 0.25;
    /** Decibels of a small relative change of a power. */
    private static final double DECIBELS = 10 / StrictMath.log(10);

    private static final String METHOD = "beside the tone, its harmonics left out";

    private final double binHz;
    private final double[] sum;
    /** A-weighting of each bin that counts, as a ratio of powers. */
    private final double[] weights;

    private long frames;

    ResidualNoise(int bins, double binHz) {
        this.sum = new double[bins];
        this.binHz = binHz;
        this.weights = new double[(int) Math.min(bins, Math.floor(TO_HZ / binHz) + 1)];
        AnalogFilter weighting = Iec61672Edition2013.aWeighting();
        for (int k = 1; k < weights.length; k++) {
            double gain = weighting.magnitude(k * binHz);
            weights[k] = gain * gain;
        }
    }

    /** Adds the spectrum of a frame without its tone. */
    void add(FrameSpectrum rest) {
        for (int k = 0; k < sum.length; k++) {
            sum[k] += rest.power(k);
        }
        frames++;
    }

    void reset() {
        Arrays.fill(sum, 0);
        frames = 0;
    }

    List<Reading> readings(double toneHz) {
        double[] noise = noise(toneHz, sidebandsHz(toneHz));
        // Of a low tone, side bands of fast flutter may stand where noise is read; no more than what goes with a wider
        // place.
        double[] besideWiderPlaces = noise(toneHz, Math.min(SIDEBANDS_HZ, ALMOST_HALF * toneHz));
        Powers weighted = new Powers();
        Powers unweighted = new Powers();
        for (int k = 1; k < weights.length; k++) {
            weighted.add(weights[k] * noise[k], weights[k] * besideWiderPlaces[k]);
            if (k * binHz >= FROM_HZ) {
                unweighted.add(noise[k], besideWiderPlaces[k]);
            }
        }
        return List.of(reading(Quantity.NOISE_A_WEIGHTED, weighted), reading(Quantity.NOISE_UNWEIGHTED, unweighted));
    }

    /** Sums over the bins of a spectrum. */
    private static final class Powers {
        private double power;
        private double squares;
        private double besideWiderPlaces;

        void add(double one, double other) {
            power += one;
            squares += one * one;
            besideWiderPlaces += other;
        }
    }

    static List<Reading> without(Status status) {
        return List.of(
                Reading.without(Quantity.NOISE_A_WEIGHTED, status, METHOD),
                Reading.without(Quantity.NOISE_UNWEIGHTED, status, METHOD));
    }

    /**
     * A reading with the scatter that random noise has: a bin of one frame has two degrees of freedom, so the power of B bins
     * over T frames is known to a share of 1/sqrt(B T) (J. S. Bendat, A. G. Piersol, "Random Data", 8.5, from memory), where B
     * counts bins as they share in the power. Windows and half overlapping frames leave some quarter of that independent.
     */
    private Reading reading(Quantity quantity, Powers sums) {
        double power = sums.power;
        OptionalDouble dbfs = DigitalLevel.dbfsAboveSilence(Math.sqrt(Math.max(0, power) / frames));
        double independent = INDEPENDENT * frames * power * power / sums.squares;
        double reach = Math.max(0, DECIBELS * Math.log(power / sums.besideWiderPlaces));
        return dbfs.isPresent()
                ? Reading.valid(quantity, dbfs.getAsDouble(), METHOD)
                        .withTypeA(new StandardUncertainty(DECIBELS / Math.sqrt(independent), Math.max(1, independent)))
                        .withNoiseReach(Double.isFinite(reach) ? reach : 0)
                : Reading.without(quantity, Status.INSUFFICIENT_DATA, METHOD);
    }

    /** How far from a tone side bands of flutter are reckoned with, in Hz. */
    static double sidebandsHz(double toneHz) {
        return Math.min(SIDEBANDS_HZ, MOST_OF_TONE * toneHz);
    }

    /** The summed spectrum with the places of tone and harmonics filled. */
    private double[] noise(double toneHz, double sidebandsHz) {
        boolean[] taken = new boolean[sum.length];
        double lobeHz = (FrameSpectrum.MAIN_LOBE_BINS + 1) * binHz;
        for (int n = 1; n <= HARMONICS; n++) {
            double half = lobeHz + Math.max(sidebandsHz, (n == 1 ? AT_TONE : AT_HARMONIC) * n * toneHz);
            int from = (int) Math.max(0, Math.floor((n * toneHz - half) / binHz));
            int to = (int) Math.min(sum.length - 1, Math.ceil((n * toneHz + half) / binHz));
            for (int k = from; k <= to; k++) {
                taken[k] = true;
            }
        }
        double[] noise = sum.clone();
        for (int k = 0; k < noise.length; ) {
            int end = k;
            while (end < noise.length && taken[end]) {
                end++;
            }
            if (end > k) {
                Arrays.fill(noise, k, end, neighbourhood(taken, k, end));
                k = end;
            } else {
                k++;
            }
        }
        return noise;
    }

    /** Mean of what stands on either side of a place, as far out as the place is wide. */
    private double neighbourhood(boolean[] taken, int from, int end) {
        int reach = Math.max(LEAST_NEIGHBOURS, end - from);
        double total = 0;
        int count = 0;
        for (int k = Math.max(1, from - reach); k < Math.min(sum.length, end + reach); k++) {
            if (!taken[k]) {
                total += sum[k];
                count++;
            }
        }
        return count == 0 ? 0 : total / count;
    }
}
