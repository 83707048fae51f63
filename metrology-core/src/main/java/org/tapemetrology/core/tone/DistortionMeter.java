/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import static org.tapemetrology.core.quantity.Quantity.DISTORTION_THD;
import static org.tapemetrology.core.quantity.Quantity.DISTORTION_THD_PLUS_NOISE;
import static org.tapemetrology.core.quantity.Quantity.DISTORTION_THIRD_HARMONIC;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.fit.LongRunMean;
import org.tapemetrology.core.fit.RunningMoments;
import org.tapemetrology.core.internal.FrameSplitter;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;

/**
 * Harmonic distortion of one channel's tone in per cent of the fundamental, on a tape whose speed wavers.
 *
 * <p>In frames of about a third of a second the phase p of the fundamental is tracked, and harmonic k is demodulated
 * with k p: its flutter sidebands fold back onto it and are not counted as distortion. The power of a harmonic comes
 * from products of frames that share no sample, so noise adds no bias. Third harmonic: selective, as IEC 60094-3 has it
 * (from memory). Total harmonic distortion: root sum square of harmonics 2 to 10 below 20 kHz and below half the
 * sampling rate. Distortion plus noise: everything from 22.4 Hz to 22.4 kHz but one sixth octave either side of the
 * fundamental, and never less than the analysing window's main lobe of about 20 Hz; the tracked fundamental is taken
 * out first, so that flutter sidebands beyond the sixth octave are not counted either. Those of flutter above 120 Hz are; by how much they may raise
 * the figure is part of its uncertainty.
 *
 * <p>Every frame of the first 8 s counts, later eight of each 64.
 *
 * <p>A frame without one prevailing tone, with the tone 10 dB below its mean level so far, with a tone over 15 %
 * away from that told, or from the mean of those found so far, or in which the tone glides by more than is followed (120 Hz, or a quarter of a low tone), is left out. A sample that is not finite makes every reading {@code invalid-input} until
 * {@link #reset()}. Thread-confined.
 *
 * <p>Settling and cost: 1 to 1.4 s, until frames enough are there to tell their scatter. Memory does not grow.
 *
 * <p>Not for two tones at once ({@link TwoToneDistortionMeter}), nor for harmonics above half the sampling rate,
 * which nobody sees.
 */
public final class DistortionMeter {
    private static final int HIGHEST = 10;
    /** Lowest tone whose distortion is measured, in Hz. */
    public static final double LOWEST_TONE_HZ = 100;

    private static final double HARMONICS_BELOW_HZ = 20000;
    private static final double BAND_FROM_HZ = 22.4;
    private static final double BAND_TO_HZ = 22400;
    private static final double SIXTH_OCTAVE = StrictMath.pow(2, 1.0 / 6);
    private static final double SEARCH = 0.15;
    /** A tone that was found may be lower by the search. */
    private static final double LEAST_HZ = LOWEST_TONE_HZ * (1 - SEARCH);
    /** The tone's third octave has to hold this part of the power: distortion plus noise up to 100 %. */
    private static final double PREVAILS = 0.5;

    private static final double LOSS = 0.1;
    private static final double LEAST_SECONDS = 1;
    /** Some 8 s, of which every frame is analysed; later an eighth tells the mean of a long recording well enough. */
    private static final long FRAMES_AT_FIRST = 48;

    private static final long FRAMES_OF_A_ROUND = 8;
    private static final long ROUND = 64;
    /** Wider would take more of the noise's quadrature part for flutter: here at most 0.6 % of the power of white noise. */
    private static final double FASTEST_FLUTTER_HZ = 120;

    private static final double TRANSITION_HZ = 150;

    private final double rateHz;
    private final double toldHz;
    private final int length;
    private final int margin;
    private final FrameSplitter splitter;
    private final FrameSpectrum spectrum;
    private final double[] cos;
    private final double[] sin;
    /** The frame under the window, then what is left of it without the fundamental. */
    private final double[] rest;

    private final HarmonicDemodulator demodulator = new HarmonicDemodulator(HIGHEST);
    private final double[] re = new double[HIGHEST + 1];
    private final double[] im = new double[HIGHEST + 1];
    private final CoherentPower[] harmonics = new CoherentPower[HIGHEST + 1];
    private final RunningMoments fundamental = new RunningMoments();
    private final LongRunMean remainder = new LongRunMean();
    /** Of the remainder what stands where side bands of flutter may stand that is too fast to be followed. */
    private final RunningMoments sidebands = new RunningMoments();

    private final RunningMoments frequency = new RunningMoments();
    private final ResidualNoise residual;
    private PhaseTracker tracker;
    private double trackerHz;
    private double lastHz;

    /**
     * A meter that finds the tone itself: the strongest component from 100 Hz up.
     *
     * @param sampleRateHz sampling rate in Hz, 8000 to 400000
     */
    public DistortionMeter(double sampleRateHz) {
        this(sampleRateHz, 0, true);
    }

    /**
     * A meter for a tone of roughly known frequency.
     *
     * @param sampleRateHz sampling rate in Hz, 8000 to 400000
     * @param toneHz the tone within 15 %, in Hz, 100 to a quarter of the sampling rate
     */
    public DistortionMeter(double sampleRateHz, double toneHz) {
        this(sampleRateHz, toneHz, false);
    }

    private DistortionMeter(double sampleRateHz, double toneHz, boolean search) {
        if (!(sampleRateHz >= 8000 && sampleRateHz <= 400000)) {
            throw new IllegalArgumentException("sampleRateHz " + sampleRateHz + " is not in 8000 to 400000");
        }
        if (!search && !(toneHz >= LOWEST_TONE_HZ && toneHz <= sampleRateHz / 4)) {
            throw new IllegalArgumentException(
                    "toneHz " + toneHz + " is not in " + LOWEST_TONE_HZ + " to " + sampleRateHz / 4);
        }
        this.rateHz = sampleRateHz;
        this.toldHz = toneHz;
        this.length = Integer.highestOneBit((int) (0.4 * sampleRateHz));
        this.trackerHz = search ? 1000 : toneHz;
        this.tracker = tracker(trackerHz);
        this.margin = PhaseTracker.mostMargin(rateHz, passHz(LEAST_HZ), stopHz(LEAST_HZ) - passHz(LEAST_HZ));
        this.spectrum = new FrameSpectrum(sampleRateHz, length);
        this.residual = new ResidualNoise(length / 2 + 1, spectrum.binHz());
        this.cos = new double[length];
        this.sin = new double[length];
        this.rest = new double[length];
        for (int k = 1; k <= HIGHEST; k++) {
            harmonics[k] = new CoherentPower();
        }
        this.splitter = new FrameSplitter(
                1, length + 2 * margin, length / 2, (frame, first) -> analyse(frame[0], first / (length / 2)));
    }

    private static double passHz(double toneHz) {
        return Math.min(0.25 * toneHz, FASTEST_FLUTTER_HZ);
    }

    /** The second harmonic and 0 Hz are one fundamental away: there the tracker has to be closed. */
    private static double stopHz(double toneHz) {
        return Math.min(0.9 * toneHz, passHz(toneHz) + TRANSITION_HZ);
    }

    private PhaseTracker tracker(double toneHz) {
        return new PhaseTracker(rateHz, length, passHz(toneHz), stopHz(toneHz));
    }

    /**
     * Takes samples.
     *
     * @param samples samples
     * @param offset first sample
     * @param count number of samples
     */
    public void accept(double[] samples, int offset, int count) {
        splitter.accept(samples, offset, count);
    }

    /**
     * Takes samples.
     *
     * @param samples samples
     * @param offset first sample
     * @param count number of samples
     */
    public void accept(float[] samples, int offset, int count) {
        splitter.accept(samples, offset, 1, count);
    }

    /**
     * Takes one channel out of interleaved samples.
     *
     * @param interleaved samples of all channels in turn
     * @param offset first sample of the channel
     * @param stride number of channels
     * @param count number of samples of the channel
     */
    public void accept(float[] interleaved, int offset, int stride, int count) {
        splitter.accept(interleaved, offset, stride, count);
    }

    private void analyse(double[] frame, long number) {
        if (number >= FRAMES_AT_FIRST && number % ROUND >= FRAMES_OF_A_ROUND) {
            interrupt();
            return;
        }
        double toneHz = lastHz > 0 ? lastHz : search(frame);
        if (toneHz < LEAST_HZ) {
            interrupt();
            lastHz = 0;
            return;
        }
        if (Math.abs(toneHz / trackerHz - 1) > SEARCH) {
            trackerHz = toneHz; // at the first tone only: afterwards the search keeps to it
            tracker = tracker(toneHz);
        }
        tracker.track(frame, margin, toneHz, cos, sin);
        double trackedHz = tracker.meanHz();
        demodulate(frame, highest(trackedHz));
        // Flutter sidebands may lie outside the notch: the tracked fundamental goes first, and they go with it.
        takeFundamentalOut(frame);
        spectrum.take(rest, 0);
        double outside = outside(trackedHz);
        double beside = outside - outside(trackedHz, ResidualNoise.sidebandsHz(trackedHz));
        double inside = (re[1] * re[1] + im[1] * im[1]) / 2;
        boolean lost = fundamental.count() > 0 && inside < LOSS * fundamental.mean();
        double expectedHz = expectedHz();
        boolean elsewhere = expectedHz > 0 && Math.abs(trackedHz / expectedHz - 1) > SEARCH;
        boolean gliding = tracker.farthestHz() > passHz(trackerHz);
        if (!(inside > PREVAILS * (inside + outside)) || inside < Double.MIN_NORMAL || lost || elsewhere || gliding) {
            interrupt();
            lastHz = 0;
            return;
        }
        lastHz = trackedHz;
        frequency.add(trackedHz);
        fundamental.add(inside);
        remainder.add(outside);
        sidebands.add(Math.max(0, beside));
        residual.add(spectrum);
        for (int k = 1; k <= highest(trackedHz); k++) {
            harmonics[k].add(re[k], im[k]);
        }
    }

    /** The strongest tone near that which was told or found before; 0 where it does not prevail. */
    private double search(double[] frame) {
        spectrum.take(frame, margin);
        double around = expectedHz();
        double from = around > 0 ? Math.max(LEAST_HZ, around * (1 - SEARCH)) : LOWEST_TONE_HZ;
        double to = around > 0 ? around * (1 + SEARCH) : rateHz / 4;
        double toneHz = spectrum.peakHz(from, to, 0.01 * around);
        double outside = outside(toneHz);
        double inside = spectrum.band(BAND_FROM_HZ, Math.min(BAND_TO_HZ, rateHz / 2)) - outside;
        // Below the range stands the skirt of something else, for which the margin is too short.
        boolean prevails = inside > PREVAILS * (inside + outside) && inside >= Double.MIN_NORMAL;
        return prevails && toneHz >= LEAST_HZ ? toneHz : 0;
    }

    /** Where the tone was found before, or was told to be; 0 where nothing is known of it. */
    private double expectedHz() {
        return frequency.count() > 0 ? frequency.mean() : toldHz;
    }

    /** Power in 22.4 Hz to 22.4 kHz but one sixth octave either side of the tone. */
    private double outside(double toneHz) {
        return outside(toneHz, 0);
    }

    /** The same, with at least so much left out on either side. */
    private double outside(double toneHz, double atLeastHz) {
        double least = Math.max(atLeastHz, (FrameSpectrum.MAIN_LOBE_BINS + 1) * spectrum.binHz());
        double below = Math.min(toneHz / SIXTH_OCTAVE, toneHz - least);
        double above = Math.max(toneHz * SIXTH_OCTAVE, toneHz + least);
        return spectrum.band(BAND_FROM_HZ, below) + spectrum.band(above, Math.min(BAND_TO_HZ, rateHz / 2));
    }

    private void demodulate(double[] frame, int highest) {
        double[] window = spectrum.window();
        System.arraycopy(frame, margin, rest, 0, length);
        for (int i = 0; i < length; i++) {
            rest[i] *= window[i];
        }
        demodulator.demodulate(rest, cos, sin, highest, re, im);
        double scale = 2 / spectrum.windowSum();
        for (int k = 1; k <= highest; k++) {
            re[k] *= scale;
            im[k] *= scale;
        }
    }

    /** Leaves of the frame what the tracked fundamental is not. */
    private void takeFundamentalOut(double[] frame) {
        System.arraycopy(frame, margin, rest, 0, length);
        double real = re[1];
        double imaginary = im[1];
        for (int i = 0; i < length; i++) {
            rest[i] -= real * cos[i] - imaginary * sin[i];
        }
    }

    /** The highest harmonic that is counted; one whose main lobe reaches half the sampling rate meets its own image. */
    private int highest(double toneHz) {
        double below = Math.min(HARMONICS_BELOW_HZ, rateHz / 2 - (FrameSpectrum.MAIN_LOBE_BINS + 1) * spectrum.binHz());
        int highest = (int) Math.ceil(below / toneHz) - 1;
        return Math.max(1, Math.min(HIGHEST, highest));
    }

    /** Where flutter carries a harmonic over the bound and back it is in some frames only: then it does not count. */
    private int highestOfEveryFrame() {
        int highest = highest(frequency.mean());
        while (highest > 1 && harmonics[highest].pairs() != harmonics[1].pairs()) {
            highest--;
        }
        return highest;
    }

    private void interrupt() {
        for (int k = 1; k <= HIGHEST; k++) {
            harmonics[k].interrupt();
        }
    }

    /**
     * Third harmonic, total harmonic distortion, and distortion plus noise.
     *
     * @return the readings, in this order; each but the last carries the scatter of the frames as its uncertainty
     */
    public List<Reading> readings() {
        Status status = status();
        List<Reading> readings = new ArrayList<>();
        if (status != Status.VALID) {
            for (Quantity quantity :
                    new Quantity[] {DISTORTION_THIRD_HARMONIC, DISTORTION_THD, DISTORTION_THD_PLUS_NOISE}) {
                readings.add(Reading.without(quantity, status, method(quantity)));
            }
            return readings;
        }
        int highest = highestOfEveryFrame();
        readings.add(
                highest >= 3
                        ? selective(DISTORTION_THIRD_HARMONIC, 3, 3)
                        : Reading.without(
                                DISTORTION_THIRD_HARMONIC,
                                Status.INSUFFICIENT_DATA,
                                "third harmonic outside the band of the sampling rate"));
        readings.add(
                highest >= 2
                        ? selective(DISTORTION_THD, 2, highest)
                        : Reading.without(
                                DISTORTION_THD,
                                Status.INSUFFICIENT_DATA,
                                "no harmonic inside the band of the sampling rate"));
        double power = harmonics[1].mean() / 2;
        double share = remainder.mean() / power;
        Reading all = Reading.valid(
                        DISTORTION_THD_PLUS_NOISE, 100 * Math.sqrt(share), method(DISTORTION_THD_PLUS_NOISE))
                .atFrequency(frequency.mean());
        double still = Math.sqrt(Math.max(0, share - sidebands.mean() / power));
        Reading reached = all.withNoiseReach(100 * (Math.sqrt(share) - still));
        readings.add(remainder
                .uncertainty()
                .map(u -> reached.withTypeA(AmplitudeScatter.percent(share, u.value() / power, u.degreesOfFreedom())))
                .orElse(reached));
        return readings;
    }

    private Reading selective(Quantity quantity, int from, int to) {
        double power = 0;
        double variance = 0;
        double freedom = Double.POSITIVE_INFINITY;
        for (int k = from; k <= to; k++) {
            // A power below zero is noise alone: the square root has none, and zero lies within the uncertainty.
            power += harmonics[k].mean();
            Optional<StandardUncertainty> own = harmonics[k].ratioUncertainty(harmonics[1]);
            double u = own.map(StandardUncertainty::value).orElse(Double.POSITIVE_INFINITY);
            variance += u * u;
            freedom = Math.min(
                    freedom, own.map(StandardUncertainty::degreesOfFreedom).orElse(1.0));
        }
        double ratio = Math.max(0, power) / harmonics[1].mean();
        Reading reading = Reading.valid(quantity, 100 * Math.sqrt(ratio), method(quantity))
                .atFrequency(frequency.mean());
        return variance < Double.POSITIVE_INFINITY
                ? reading.withTypeA(AmplitudeScatter.percent(ratio, Math.sqrt(variance), freedom))
                : reading;
    }

    private static String method(Quantity quantity) {
        return quantity == DISTORTION_THIRD_HARMONIC
                ? "IEC 60094-3, third harmonic, following the speed"
                : quantity == DISTORTION_THD
                        ? "harmonics 2 to 10 below 20 kHz, root sum square, following the speed"
                        : "22.4 Hz to 22.4 kHz less one sixth octave either side of the fundamental";
    }

    private Status status() {
        if (!splitter.finite()) {
            return Status.INVALID_INPUT;
        }
        if (splitter.received() < LEAST_SECONDS * rateHz) {
            return Status.INSUFFICIENT_DATA;
        }
        if (frequency.count() == 0) {
            return Status.NO_CARRIER;
        }
        // A figure whose scatter cannot be told is not told either.
        return harmonics[1].ratioUncertainty(harmonics[1]).isEmpty() ? Status.INSUFFICIENT_DATA : Status.VALID;
    }

    /**
     * Noise beside the tone, A-weighted and unweighted from 22.4 Hz to 22.4 kHz, in dBFS: of what is left when the tone is
     * taken out, without its harmonics. Modulation noise is part of it; hum is, too.
     *
     * @return the readings, with the status of the distortion
     */
    public List<Reading> noiseReadings() {
        Status status = status();
        return status == Status.VALID ? residual.readings(frequency.mean()) : ResidualNoise.without(status);
    }

    /**
     * The fundamental, as the mean of the frames that were used.
     *
     * @return frequency in Hz, empty before a tone was found
     */
    public OptionalDouble toneHz() {
        return frequency.count() == 0 ? OptionalDouble.empty() : OptionalDouble.of(frequency.mean());
    }

    /** Forgets everything but the settings. */
    public void reset() {
        splitter.reset();
        lastHz = 0;
        residual.reset();
        sidebands.reset();
        fundamental.reset();
        remainder.reset();
        frequency.reset();
        for (int k = 1; k <= HIGHEST; k++) {
            harmonics[k].reset();
        }
    }
}
