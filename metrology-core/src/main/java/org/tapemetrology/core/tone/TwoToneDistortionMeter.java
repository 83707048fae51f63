/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.fit.RunningMoments;
import org.tapemetrology.core.internal.FrameSplitter;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/**
 * Distortion by two tones at once, in per cent, on a tape whose speed wavers.
 *
 * <p>The two strongest tones are found. Where the upper is at least three times as high as the lower, such as 8 kHz and
 * 250 Hz or 7 kHz and 60 Hz with amplitudes of 1 to 4, {@code distortion.modulation} is read: the amplitude modulation of
 * the upper tone at the lower's frequency and at twice that, root sum square. Where they are close, such as 11 kHz and
 * 12 kHz with equal amplitudes, {@code distortion.difference-frequency} is read: the products at f2 - f1, 2 f1 - f2 and
 * 2 f2 - f1, root sum square, re twice the upper tone. Both figures are those of IEC 60268-3 as far as known from memory;
 * the tones of the first are those of SMPTE RP 120 (second-hand).
 *
 * <p>In frames of about a third of a second the phases p1 and p2 of the tones are tracked, and a product is demodulated
 * with the same sum of phases that made it: flutter, which moves both tones, drops out. Powers come from products of
 * frames that share no sample, so noise adds no bias.
 *
 * <p>{@code no-carrier} where no two tones stand out together; {@code insufficient-data} before 1 s of them; a sample that
 * is not finite makes the reading {@code invalid-input} until {@link #reset()}. Thread-confined.
 *
 * <p>Settling and cost: 1 s of both tones. Memory does not grow.
 *
 * <p>Not for tones whose products fall on a tone or on each other: up to the ninth harmonic of the lower one they are taken for
 * one tone that is distorted. Tones that are close count as two where they are equal within 6 dB.
 */
public final class TwoToneDistortionMeter {
    private static final double LOWEST_HZ = 40;
    /** Of the sampling rate: the third-order product above an upper tone has to fit too. */
    private static final double HIGHEST = 0.45;
    /** How far apart two tones are, at least, re the lower one: nearer lines may be flutter. */
    private static final double APART = 0.04;
    /** Least power of the weaker tone re the stronger: -26 dB. */
    private static final double WEAKEST = 0.0025;
    /** Part of the power that the two tones hold, at least: more stands beside them where one tone swings to and fro. */
    private static final double PREVAIL = 0.95;
    /** Least power of the weaker of two tones that are made equal: -6 dB. Hiss and what is folded into the band stay below. */
    private static final double WEAKEST_OF_EQUALS = 0.25;
    /** How much a tone is above what the rest would be there if it were spread evenly: 10 dB. */
    private static final double ABOVE_REST = 10;
    /** One tone may be the harmonic of the other, whose products fall on others: test tones are further apart, or nearer. */
    private static final int HIGHEST_HARMONIC = 9;

    private static final double NEAR_HARMONIC = 0.015;

    /** A sine of -77 dBFS: lines among fainter ones may be made by the steps of a 16-bit converter and its dither. */
    private static final double LEAST_POWER = 1e-8;

    private static final double WIDE = 3;
    /** Tones have moved on, at least this far from where they were found. */
    private static final double MOVED = 0.1;

    private static final double SIDE_BANDS = 2.5;
    private static final double FASTEST_FLUTTER_HZ = 120;
    private static final double TRANSITION_HZ = 150;
    private static final double LEAST_SECONDS = 1;
    /** Share of the frames from the first with two tones to the last that have them: lines of strong wow come and go. */
    private static final double MOST_OF_THE_TIME = 0.7;

    private final double rateHz;
    private final int length;
    private final int margin;
    private final FrameSplitter splitter;
    private final FrameSpectrum spectrum;
    private final TwoToneFrame tones;
    private final RunningMoments upperHz = new RunningMoments();
    private @Nullable Pair pair;
    private long frames;
    private long framesOfTwo;
    private long firstOfTwo;
    private long lastOfTwo;

    /** Two tones that were found, with what follows them and what is measured of them. */
    private record Pair(double lowHz, double highHz, PhaseTracker low, PhaseTracker high, Intermodulation products) {}

    /**
     * A meter of one channel.
     *
     * @param sampleRateHz sampling rate in Hz, 8000 to 192000
     */
    public TwoToneDistortionMeter(double sampleRateHz) {
        this.rateHz = Require.inRange("sampleRateHz", sampleRateHz, 8000, 192_000);
        this.length = Integer.highestOneBit((int) (0.4 * sampleRateHz));
        this.spectrum = new FrameSpectrum(sampleRateHz, length);
        this.tones = new TwoToneFrame(length, spectrum.windowSum());
        double leastRoomHz = Math.min(LOWEST_HZ, leastApartHz());
        this.margin = PhaseTracker.mostMargin(rateHz, leastRoomHz / 3, 0.9 * leastRoomHz - leastRoomHz / 3);
        this.splitter = new FrameSplitter(1, length + 2 * margin, length / 2, (frame, first) -> analyse(frame[0]));
    }

    /** Lines nearer than that melt into one. */
    private double leastApartHz() {
        return 4 * FrameSpectrum.MAIN_LOBE_BINS * spectrum.binHz();
    }

    private PhaseTracker lowTracker(double lowHz) {
        double pass = Math.min(lowHz / 3, FASTEST_FLUTTER_HZ);
        return new PhaseTracker(rateHz, length, pass, Math.min(0.9 * lowHz, pass + TRANSITION_HZ));
    }

    /**
     * Follows one of the two tones closely enough for its flutter and, where it is modulated, for the turning of its phase
     * that is no distortion of its amplitude; closed where the other tone stands.
     */
    private PhaseTracker tracker(double fastestHz, double roomHz) {
        double pass = Math.min(Math.max(fastestHz, FASTEST_FLUTTER_HZ), roomHz / 3);
        return new PhaseTracker(rateHz, length, pass, Math.min(0.9 * roomHz, pass + TRANSITION_HZ));
    }

    private Pair pair(double lowHz, double highHz) {
        if (highHz >= WIDE * lowHz) {
            return new Pair(
                    lowHz,
                    highHz,
                    lowTracker(lowHz),
                    tracker(SIDE_BANDS * lowHz, highHz - lowHz),
                    new Intermodulation.Modulation());
        }
        double room = Math.min(highHz - lowHz, lowHz);
        return new Pair(lowHz, highHz, tracker(0, room), tracker(0, room), new Intermodulation.DifferenceFrequency());
    }

    /**
     * Takes samples.
     *
     * @param samples samples, full scale 1
     * @param offset first sample
     * @param count number of samples
     */
    public void accept(double[] samples, int offset, int count) {
        splitter.accept(samples, offset, count);
    }

    /**
     * Takes one channel out of interleaved samples.
     *
     * @param interleaved samples of all channels in turn, full scale 1
     * @param offset first sample of the channel
     * @param stride number of channels
     * @param count number of samples of the channel
     */
    public void accept(float[] interleaved, int offset, int stride, int count) {
        splitter.accept(interleaved, offset, stride, count);
    }

    private void analyse(double[] frame) {
        spectrum.take(frame, margin);
        double highest = HIGHEST * rateHz;
        double first = spectrum.peakHz(LOWEST_HZ, highest, 0);
        double second = secondHz(first, highest);
        double firstPower = around(first);
        double secondPower = second > 0 ? around(second) : 0;
        double all = spectrum.band(LOWEST_HZ / 2, rateHz / 2);
        double lowHz = Math.min(first, second);
        double highHz = Math.max(first, second);
        double weaker = Math.min(firstPower, secondPower);
        double stronger = Math.max(firstPower, secondPower);
        // Below the range stands the skirt of something else, for which the margin is too short.
        boolean two = lowHz >= LOWEST_HZ
                && weaker > (highHz < WIDE * lowHz ? WEAKEST_OF_EQUALS : WEAKEST) * stronger
                && weaker > ABOVE_REST * (all - weaker - stronger) * 2 * halfWidthHz(highHz) / (rateHz / 2)
                && weaker + stronger > PREVAIL * all
                && all > LEAST_POWER
                && !isHarmonic(lowHz, highHz);
        frames++;
        if (!two) {
            interrupt();
            return;
        }
        Pair known = pair;
        if (known == null) {
            known = pair(lowHz, highHz);
            pair = known;
        } else if (Math.abs(lowHz / known.lowHz() - 1) > MOVED || Math.abs(highHz / known.highHz() - 1) > MOVED) {
            interrupt();
            return;
        }
        if (framesOfTwo++ == 0) {
            firstOfTwo = frames;
        }
        lastOfTwo = frames;
        upperHz.add(highHz);
        tones.take(frame, margin, spectrum.window(), known.low(), lowHz, known.high(), highHz);
        known.products().add(tones);
    }

    /** The stronger of the strongest lines below and above a tone; 0 where there is no room. */
    private double secondHz(double firstHz, double highestHz) {
        double apart = Math.max(APART * firstHz, leastApartHz());
        double below = firstHz - apart > LOWEST_HZ ? spectrum.peakHz(LOWEST_HZ, firstHz - apart, 0) : 0;
        double above = firstHz + apart < highestHz ? spectrum.peakHz(firstHz + apart, highestHz, 0) : 0;
        if (below == 0 || above == 0) {
            return Math.max(below, above);
        }
        return around(below) > around(above) ? below : above;
    }

    /** Power of a tone with its flutter. */
    private double around(double hz) {
        double half = halfWidthHz(hz);
        return spectrum.band(hz - half, hz + half);
    }

    private double halfWidthHz(double hz) {
        return Math.max(APART / 2 * hz, FrameSpectrum.MAIN_LOBE_BINS * spectrum.binHz());
    }

    private static boolean isHarmonic(double lowHz, double highHz) {
        double ratio = highHz / lowHz;
        double order = Math.rint(ratio);
        return order <= HIGHEST_HARMONIC && Math.abs(ratio / order - 1) < NEAR_HARMONIC;
    }

    private void interrupt() {
        if (pair != null) {
            pair.products().interrupt();
        }
    }

    /**
     * The distortion that the two tones allow.
     *
     * @return one reading, of modulation or difference-frequency distortion, at the frequency of the upper tone; before two
     *     tones were found both, without a value
     */
    public List<Reading> readings() {
        Pair known = pair;
        if (known == null) {
            Status status = !splitter.finite()
                    ? Status.INVALID_INPUT
                    : splitter.received() < LEAST_SECONDS * rateHz ? Status.INSUFFICIENT_DATA : Status.NO_CARRIER;
            return List.of(
                    Reading.without(Quantity.DISTORTION_MODULATION, status, new Intermodulation.Modulation().method()),
                    Reading.without(
                            Quantity.DISTORTION_DIFFERENCE_FREQUENCY,
                            status,
                            new Intermodulation.DifferenceFrequency().method()));
        }
        Intermodulation products = known.products();
        Optional<Status> none = !splitter.finite()
                ? Optional.of(Status.INVALID_INPUT)
                : products.pairs() * (length / 2.0) < LEAST_SECONDS / 2 * rateHz
                        ? Optional.of(Status.INSUFFICIENT_DATA)
                        : framesOfTwo < MOST_OF_THE_TIME * (lastOfTwo - firstOfTwo + 1)
                                ? Optional.of(Status.AMBIGUOUS)
                                : Optional.empty();
        return List.of(none.map(status -> Reading.without(products.quantity(), status, products.method()))
                .orElseGet(() -> products.reading(upperHz.mean())));
    }

    /** Forgets everything but the settings. */
    public void reset() {
        splitter.reset();
        upperHz.reset();
        frames = 0;
        framesOfTwo = 0;
        pair = null;
    }
}
