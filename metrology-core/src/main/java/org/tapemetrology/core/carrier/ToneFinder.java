/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.internal.Require;

/**
 * Looks for a tone in windows of usually a quarter to a third of a second, by the power spectrum through a Hann window.
 *
 * <p>A tone is the line that is strongest with its side bands, where the power within 6 % of it is at least
 * 10 dB above the rest between 0.7 and 1.4 times its frequency: in white noise that ratio is -7 dB. Where it is not, the same is asked of the
 * place within 6 % of the line that has most power about it: with wow of 2 % and more the strongest line stands at an end of what the tone
 * passes. Whether it is steady enough to be measured is left to {@link ToneTracker}. Thread-confined.
 *
 * <p>Frequencies are in Hz; the limits are this project's own, found by trial. Cost: one transform of the window, n
 * log n for n samples, and an array for it. A window with a sample that is not finite holds no tone.
 *
 * <p>Not for a frequency that is to be read: it is right to about a hundredth of itself.
 */
public final class ToneFinder {
    /** Least length of a window, in s, where the tone is above {@link CarrierBand#LOWEST_FOUND_HZ}. */
    public static final double WINDOW_SECONDS = 0.25;
    /** The same for tones below: six per cent of 20 Hz are two lines of the spectrum. */
    public static final double LOW_TONE_WINDOW_SECONDS = 1;

    private static final double HALF_WIDTH = 0.06;
    private static final double LEAST_PROMINENCE = 10;
    private static final double SECOND_SHARE = 0.01;
    /** How far from a whole ratio a harmonic may be found: 12.5 kHz is none of 3150 Hz. */
    private static final double HARMONIC_RATIO = 0.015;

    /** How far beyond the range, besides a line of the spectrum, the tone may be: that far its frequency may be wrong. */
    private static final double BEYOND = 0.01;

    private static final int LINE_BINS = 3;
    /** So much weaker than a line its image on the other side may be. */
    private static final double LINE_TO_IMAGE = 16;
    /** Below, two lines are a good part of the few between 0.7 and 1.4 times their frequency, and noise makes such. */
    private static final int LEAST_BIN_OF_TWO = 100;

    private static final int HIGHEST_HARMONIC = 4;
    private static final double SILENCE_POWER = 1e-12;
    private static final double MOST_RATE_HZ = 1e7;
    private static final double MOST_SECONDS = 10;

    private final double sampleRateHz;
    private final LineSpectrum spectrum;
    /** The highest bin of which all the lines of a tone are there. */
    private final int highestBin;

    /**
     * A finder.
     *
     * @param sampleRateHz sampling rate in Hz, 1 to 1e7
     * @param windowSeconds least length of a window in s, at most 10
     */
    public ToneFinder(double sampleRateHz, double windowSeconds) {
        this.sampleRateHz = Require.inRange("sampleRateHz", sampleRateHz, 1, MOST_RATE_HZ);
        Require.inRange("windowSeconds", windowSeconds, 0, MOST_SECONDS);
        this.spectrum = new LineSpectrum(sampleRateHz, windowSeconds);
        this.highestBin = spectrum.bins() - 1 - LINE_BINS;
    }

    /**
     * Number of samples that one look takes.
     *
     * @return a power of two
     */
    public int length() {
        return spectrum.length();
    }

    /**
     * Looks for a tone.
     *
     * @param samples {@link #length()} samples from the offset on; non-finite ones make that no tone is found
     * @param offset first sample
     * @param fromHz lowest frequency that counts
     * @param toHz highest frequency that counts
     * @return the tone, empty where there is none in the range or up to a hundredth beyond its ends
     */
    public Optional<FoundTone> find(float[] samples, int offset, double fromHz, double toHz) {
        if (!(meanSquare(samples, offset) > SILENCE_POWER)) {
            return Optional.empty();
        }
        spectrum.take(samples, offset);
        int from = Math.max(LINE_BINS, (int) Math.ceil(spectrum.bin(fromHz)));
        int to = Math.min(highestBin, (int) Math.floor(spectrum.bin(toHz)));
        int strongest = strongestBand(from, to);
        if (strongest == LineSpectrum.NONE) {
            return Optional.empty();
        }
        int middle = middle(strongest);
        double centre = centre(strongest);
        if (!standsOut(strongest)) {
            Optional<Integer> other = neighbour(strongest, centre(middle));
            if (other.isPresent()) {
                return inRange(centre, from, to)
                        .map(hz -> new FoundTone(hz, OptionalDouble.of(spectrum.hz(other.get()))));
            }
            if (!standsOut(middle)) {
                return Optional.empty();
            }
            centre = centre(middle);
        }
        OptionalDouble fundamental = fundamental(strongest);
        // A second tone counts wherever tones are looked for, also outside the range of the first.
        int lowest = Math.min(from, (int) Math.ceil(spectrum.bin(CarrierBand.LOWEST_FOUND_HZ)));
        int highest = Math.max(to, (int) Math.floor(spectrum.bin((sampleRateHz - CarrierBand.LOWEST_FOUND_HZ) / 2)));
        return inRange(centre, from, to)
                .map(hz -> new FoundTone(
                        hz,
                        fundamental.isPresent()
                                ? fundamental
                                : second(strongest, centre(middle), lowest, Math.min(highest, highestBin))));
    }

    /** Whether what stands around a bin is a tone: of wow of many hundredths the strongest line is far from the middle. */
    private boolean standsOut(int bin) {
        double tone = band(bin);
        return tone > LEAST_PROMINENCE * (around(bin) - tone);
    }

    /** The bin around which most of the power stands that is about the strongest line: the middle of what wow passes. */
    private int middle(int strongest) {
        int width = width(strongest);
        return spectrum.middleOfMost(strongest - width, strongest + width, width);
    }

    private double around(int bin) {
        return spectrum.sum((int) (0.7 * bin), (int) (1.4 * bin));
    }

    private double centre(int bin) {
        return spectrum.centroid(bin - width(bin), bin + width(bin));
    }

    /** The frequency of a bin; empty where it is that of a tone outside the range, of which only the skirt is inside. */
    private Optional<Double> inRange(double centre, int from, int to) {
        return centre >= (1 - BEYOND) * from - 1 && centre <= (1 + BEYOND) * to + 1
                ? Optional.of(spectrum.hz(centre))
                : Optional.empty();
    }

    private static int width(int bin) {
        return Math.max(LINE_BINS, (int) (HALF_WIDTH * bin));
    }

    private double band(int bin) {
        return spectrum.sum(bin - width(bin), bin + width(bin));
    }

    /**
     * The strongest line, or the next but for its side bands where that has more of them: wow spreads a high tone over many. What is
     * strongest at an end of the range and no peak is the skirt of a tone outside it.
     */
    private int strongestBand(int from, int to) {
        int line = spectrum.strongest(from, to, 0, -1);
        int other = spectrum.strongest(from, to, line, width(line) + LINE_BINS);
        return other != LineSpectrum.NONE && spectrum.isPeak(other) && band(other) > band(line) ? other : line;
    }

    /** The bin of a second tone near the first, with which it stands out where it does not alone. */
    private Optional<Integer> neighbour(int first, double centre) {
        if (first < LEAST_BIN_OF_TWO) {
            return Optional.empty();
        }
        int to = Math.min(highestBin, (int) (1.4 * first));
        int other = spectrum.strongest((int) (0.7 * first), to, first, width(first) + LINE_BINS);
        double tone = band(first);
        double both = other == LineSpectrum.NONE ? 0 : tone + spectrum.sum(other - LINE_BINS, other + LINE_BINS);
        double rest = around(first) - both;
        // Where a tone stands outside the range, the first is what is strongest in it, of noise or of the other's
        // skirt.
        boolean two = both > LEAST_PROMINENCE * rest && tone > rest;
        return two && !isFlutter(other, peak(other) / LINE_TO_IMAGE, first, centre)
                ? Optional.of(other)
                : Optional.empty();
    }

    /**
     * A stronger tone at a half, a third or a quarter of the frequency, below the range that counts: then what was found is a harmonic
     * of it, as of a tape at half speed.
     */
    private OptionalDouble fundamental(int harmonic) {
        int width = width(harmonic);
        double tone = band(harmonic);
        for (int order = 2; order <= HIGHEST_HARMONIC; order++) {
            int bin = Math.round((float) harmonic / order);
            if (bin > 2 * LINE_BINS && spectrum.sum(bin - width / order - 1, bin + width / order + 1) > tone) {
                return OptionalDouble.of(spectrum.hz(bin));
            }
        }
        return OptionalDouble.empty();
    }

    private double meanSquare(float[] samples, int offset) {
        double sum = 0;
        for (int i = offset; i < offset + length(); i++) {
            sum += (double) samples[i] * samples[i];
        }
        return sum / length();
    }

    /**
     * Another tone: near the first one a line that is none of its flutter; farther off any line that stands out and is no harmonic, or
     * too strong for one: as of a tape at twice its speed.
     */
    private OptionalDouble second(int first, double centre, int from, int to) {
        int width = width(first);
        double line = spectrum.sum(first - LINE_BINS, first + LINE_BINS);
        int near = width + LINE_BINS;
        for (int i = Math.max(1, first - near); i <= first + near; i++) {
            int distance = Math.abs(i - first);
            if (distance > 2 * LINE_BINS && spectrum.isPeak(i)) {
                if (peak(i) > SECOND_SHARE * line && !isFlutter(i, peak(i) / LINE_TO_IMAGE, first, centre)) {
                    return OptionalDouble.of(spectrum.hz(i));
                }
            }
        }
        int other = spectrum.strongest(from, to, first, near); // whose own lines hold none of the first
        if (other == LineSpectrum.NONE) {
            return OptionalDouble.empty();
        }
        double tone = spectrum.sum(other - LINE_BINS, other + LINE_BINS);
        if (isHarmonic(other, first) && tone < line) {
            return OptionalDouble.empty();
        }
        double around = band(other) - tone;
        return tone > SECOND_SHARE * line && tone > LEAST_PROMINENCE * around
                ? OptionalDouble.of(spectrum.hz(other))
                : OptionalDouble.empty();
    }

    /**
     * Flutter has every line on both sides, of the strongest or, where the wow of a high tone leaves little there, of the centre of
     * power; slow wow, of which the window holds a part, fills what is between.
     */
    private boolean isFlutter(int line, double least, int first, double centre) {
        int image = (int) Math.rint(2 * centre) - line;
        int from = Math.min(line, first) + LINE_BINS;
        int to = Math.max(line, first) - LINE_BINS;
        // Two tones are each other's image, and nothing is between them.
        boolean others = Math.abs(image - first) > LINE_BINS || spectrum.most(from, to) >= least;
        return image(2 * first - line) >= least
                || (others && image(image) >= least)
                || spectrum.leastOfThree(from, to) >= least;
    }

    private double peak(int bin) {
        return spectrum.sum(bin - 1, bin + 1);
    }

    private double image(int bin) {
        return spectrum.sum(bin - 2, bin + 2);
    }

    private static boolean isHarmonic(int bin, int first) {
        double ratio = (double) bin / first;
        return Math.abs(ratio - Math.rint(ratio)) < HARMONIC_RATIO;
    }
}
