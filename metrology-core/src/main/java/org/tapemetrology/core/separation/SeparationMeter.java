/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

import static org.tapemetrology.core.quantity.Quantity.CHANNEL_IDENTITY;
import static org.tapemetrology.core.quantity.Quantity.SEPARATION;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.tapemetrology.core.fit.RunningMoments;
import org.tapemetrology.core.internal.FrameSplitter;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.tone.CoherentPower;
import org.tapemetrology.core.tone.FrameSpectrum;
import org.tapemetrology.core.tone.PhaseTracker;

/**
 * Separation of two channels in dB, of which one carries a tone and the other is silent: power of the tone over that of
 * its residue in the silent channel, selective at the tone's frequency as IEC 60094-3 has it (from memory).
 *
 * <p>In frames of about a third of a second the phase of the recorded tone is tracked and both channels are demodulated
 * with it, so that flutter and speed errors, which both share, drop out. Powers come from products of frames that share
 * no sample: noise adds no bias, the residue may have any phase, and the phase may wander slowly. What the tracking
 * leaves of the flutter takes the same part of both. Noise of the tone's own channel within the tracked band, of phase
 * variance s^2, adds s^2 to the tone and takes s^2 from the residue: the figure is corrected for both.
 *
 * <p>A tone that was recorded on one channel and then on the other gives both separations, each on the channel that was
 * silent. Frames where the tone starts, stops or changes its channel, and those where it does not prevail, are left out.
 *
 * <p>The uncertainty comes from the scatter of the frames. A residue that is not known to 2.2 dB has the status
 * {@code insufficient-data} and a method that names the limit: it takes a longer recording. Channels that differ by less
 * than 10 dB are {@code ambiguous}. A sample that is not finite makes every reading {@code invalid-input} until
 * {@link #reset()}. Thread-confined.
 *
 * <p>Settling and cost: a weaker residue takes a longer recording. Memory does not grow.
 *
 * <p>Not for channels that both carry the tone: they are {@code ambiguous}.
 */
public final class SeparationMeter {
    /** Lowest frequency of the tone, in Hz. */
    public static final double LOWEST_TONE_HZ = 80;

    /** Highest frequency of the tone, of the sampling rate. */
    public static final double HIGHEST_TONE = 0.4;

    private static final double SEARCH = 0.15;
    /** Part of the power of its channel that the tone has to hold. */
    private static final double PREVAILS = 0.4;
    /** Flutter that is followed, of the tone's frequency, and the least pass band for it. */
    private static final double WIDEST_FLUTTER = 0.012;

    private static final double LEAST_PASS_HZ = 60;
    private static final double TRANSITION_HZ = 150;
    /** Some 3 s, which leave six degrees of freedom. */
    private static final int LEAST_PAIRS = 12;
    /** Power of the residue over that of the tone from which on it is no telling which is which. */
    private static final double ALIKE = 0.1;

    private static final String METHOD = "IEC 60094-3, selective, following the speed";

    private final double rateHz;
    private final double toldHz;
    private final double leastHz;
    private final int length;
    private final int margin;
    private final FrameSplitter splitter;
    private final FrameSpectrum spectrum;
    private final double[] cos;
    private final double[] sin;
    private final SteadyFrames steady = new SteadyFrames();
    private final RunningMoments frequency = new RunningMoments();
    private final double[] foundHz = new double[2];
    private final double[] foundPower = new double[2];
    private final double[] foundShare = new double[2];
    private final double[] foundPhaseVariance = new double[2];
    private final double[] re = new double[2];
    private final double[] im = new double[2];
    private final double[] nextRe = new double[2];
    private final double[] nextIm = new double[2];
    private final Direction[] directions = {new Direction(), new Direction()};
    private PhaseTracker tracker;
    private double trackerHz;
    private int toneFrames;

    /** What was measured while one channel carried the tone. */
    private static final class Direction {
        private final CoherentPower tone = new CoherentPower();
        private final CoherentPower residue = new CoherentPower();
        private final RunningMoments phaseVariance = new RunningMoments();

        boolean isEnough() {
            return residue.pairs() >= LEAST_PAIRS;
        }

        PowerRatio ratio() {
            double power = tone.mean() * (1 - 2 * phaseVariance.mean());
            double ratio = residue.mean() / power;
            double own = residue.standardError() / power;
            double error = Math.hypot(own, ratio * tone.standardError() / power);
            return PowerRatio.of(ratio, error, residue.pairs() / 2.0);
        }

        void interrupt() {
            tone.interrupt();
            residue.interrupt();
        }

        void reset() {
            tone.reset();
            residue.reset();
            phaseVariance.reset();
        }
    }

    /**
     * A meter that finds the tone itself: the strongest component from 80 Hz up to 0.4 of the sampling rate.
     *
     * @param sampleRateHz sampling rate in Hz, 8000 to 192000
     */
    public SeparationMeter(double sampleRateHz) {
        this(sampleRateHz, 0, LOWEST_TONE_HZ);
    }

    /**
     * A meter for a tone of roughly known frequency.
     *
     * @param sampleRateHz sampling rate in Hz, 8000 to 192000
     * @param toneHz the tone within 15 %, in Hz, 80 to 0.4 of the sampling rate
     */
    public SeparationMeter(double sampleRateHz, double toneHz) {
        this(
                sampleRateHz,
                Require.inRange("toneHz", toneHz, LOWEST_TONE_HZ, HIGHEST_TONE * sampleRateHz),
                toneHz * (1 - SEARCH));
    }

    private SeparationMeter(double sampleRateHz, double toldHz, double lowestHz) {
        this.rateHz = Require.inRange("sampleRateHz", sampleRateHz, 8000, 192000);
        this.toldHz = toldHz;
        this.length = Integer.highestOneBit((int) (0.4 * sampleRateHz));
        this.trackerHz = startHz();
        this.tracker = tracker(trackerHz);
        // The lower the tone, the narrower the filter; a tone that was found may be lower still by the search.
        this.leastHz = lowestHz * (1 - SEARCH);
        this.margin = PhaseTracker.mostMargin(rateHz, passHz(leastHz), stopHz(leastHz) - passHz(leastHz));
        this.spectrum = new FrameSpectrum(sampleRateHz, length);
        this.cos = new double[length];
        this.sin = new double[length];
        this.splitter = new FrameSplitter(2, length + 2 * margin, length / 2, (frame, first) -> analyse(frame));
    }

    private double startHz() {
        return toldHz > 0 ? toldHz : 1000;
    }

    private static double passHz(double toneHz) {
        return Math.min(0.25 * toneHz, Math.max(LEAST_PASS_HZ, WIDEST_FLUTTER * toneHz));
    }

    /** The second harmonic and 0 Hz are one fundamental away: there the tracker has to be closed. */
    private static double stopHz(double toneHz) {
        return Math.min(0.9 * toneHz, passHz(toneHz) + TRANSITION_HZ);
    }

    private PhaseTracker tracker(double toneHz) {
        return new PhaseTracker(rateHz, length, passHz(toneHz), stopHz(toneHz));
    }

    /**
     * Takes samples of both channels.
     *
     * @param first samples of channel 1
     * @param second samples of channel 2
     * @param offset first sample of either
     * @param count number of samples of each channel
     */
    public void accept(double[] first, double[] second, int offset, int count) {
        splitter.accept(first, second, offset, count);
    }

    /**
     * Takes two neighbouring channels out of interleaved samples.
     *
     * @param interleaved samples of all channels in turn
     * @param offset first sample of channel 1, which that of channel 2 follows
     * @param stride number of channels
     * @param count number of samples of each channel
     */
    public void accept(float[] interleaved, int offset, int stride, int count) {
        splitter.accept(interleaved, offset, stride, count);
    }

    private void analyse(double[][] frame) {
        int loud = toneChannel(frame);
        if (loud < 0) {
            steady.gap();
            interrupt();
            return;
        }
        double toneHz = foundHz[loud];
        if (Math.abs(toneHz / trackerHz - 1) > SEARCH) {
            trackerHz = toneHz; // at the first tone only: afterwards the search keeps to it
            tracker = tracker(toneHz);
        }
        frequency.add(toneHz);
        toneFrames++;
        directions[loud].phaseVariance.add(foundPhaseVariance[loud]);
        tracker.track(frame[loud], margin, toneHz, cos, sin);
        for (int channel = 0; channel < 2; channel++) {
            demodulate(frame[channel], channel);
        }
        if (steady.next(loud, foundPower[loud])) {
            directions[loud].tone.add(re[loud], im[loud]);
            directions[loud].residue.add(re[1 - loud], im[1 - loud]);
        } else {
            interrupt();
        }
        System.arraycopy(nextRe, 0, re, 0, 2);
        System.arraycopy(nextIm, 0, im, 0, 2);
    }

    /** The channel with the stronger tone, or -1 where it does not prevail there. */
    private int toneChannel(double[][] frame) {
        double around = frequency.count() > 0 ? frequency.mean() : toldHz;
        double from = around > 0 ? Math.max(leastHz, around * (1 - SEARCH)) : LOWEST_TONE_HZ;
        double to = around > 0 ? around * (1 + SEARCH) : HIGHEST_TONE * rateHz;
        int loud = -1;
        for (int channel = 0; channel < 2; channel++) {
            spectrum.take(frame[channel], margin);
            double toneHz = spectrum.peakHz(from, to, 0.01 * around);
            double half = passHz(toneHz) + (FrameSpectrum.MAIN_LOBE_BINS + 1) * spectrum.binHz();
            foundHz[channel] = toneHz;
            foundPower[channel] = spectrum.band(toneHz - half, toneHz + half);
            if (loud < 0 || foundPower[channel] > foundPower[loud]) {
                loud = channel;
            }
            double rest = spectrum.band(0, rateHz / 2) - foundPower[channel];
            double density = rest / (rateHz / 2 - 2 * half);
            foundPhaseVariance[channel] = density * (passHz(toneHz) + stopHz(toneHz)) / (2 * foundPower[channel]);
            foundShare[channel] = foundPower[channel] / (foundPower[channel] + rest);
        }
        // Below the range stands the skirt of something else, for which the margin is too short.
        return foundHz[loud] >= leastHz && foundShare[loud] > PREVAILS && foundPower[loud] >= Double.MIN_NORMAL
                ? loud
                : -1;
    }

    private void demodulate(double[] samples, int channel) {
        double[] window = spectrum.window();
        double real = 0;
        double imaginary = 0;
        for (int i = 0; i < length; i++) {
            double x = window[i] * samples[margin + i];
            real += x * cos[i];
            imaginary -= x * sin[i];
        }
        nextRe[channel] = real * 2 / spectrum.windowSum();
        nextIm[channel] = imaginary * 2 / spectrum.windowSum();
    }

    private void interrupt() {
        for (Direction direction : directions) {
            direction.interrupt();
        }
    }

    /**
     * The channel that carries the tone, belonging to no channel, and the separation on the silent one; both separations,
     * and an identity that is {@code ambiguous}, where the tone was on one channel after the other.
     *
     * @return the readings, the identity first
     */
    public List<Reading> readings() {
        Status status = status();
        List<Reading> readings = new ArrayList<>();
        if (status != Status.VALID) {
            readings.add(Reading.without(CHANNEL_IDENTITY, status, METHOD));
            readings.add(Reading.without(SEPARATION, status, METHOD));
            return readings;
        }
        readings.add(identity());
        for (int loud = 0; loud < 2; loud++) {
            if (directions[loud].isEnough()) {
                PowerRatio ratio = directions[loud].ratio();
                Reading reading = isTold(ratio)
                        ? ratio.reading(SEPARATION, METHOD)
                        : Reading.without(SEPARATION, Status.AMBIGUOUS, METHOD + "; the channels are alike");
                readings.add(reading.onChannel(2 - loud).atFrequency(frequency.mean()));
            }
        }
        return readings;
    }

    private Reading identity() {
        boolean both = directions[0].isEnough() && directions[1].isEnough();
        int loud = directions[0].isEnough() ? 0 : 1;
        return both || !isTold(directions[loud].ratio())
                ? Reading.without(CHANNEL_IDENTITY, Status.AMBIGUOUS, METHOD)
                : Reading.valid(CHANNEL_IDENTITY, loud + 1.0, METHOD).atFrequency(frequency.mean());
    }

    private static boolean isTold(PowerRatio ratio) {
        return (ratio.isKnown() ? ratio.ratio() : ratio.most()) <= ALIKE;
    }

    private Status status() {
        if (!splitter.finite()) {
            return Status.INVALID_INPUT;
        }
        if (directions[0].isEnough() || directions[1].isEnough()) {
            return Status.VALID;
        }
        if (toneFrames >= LEAST_PAIRS + 4) {
            return Status.AMBIGUOUS; // the stronger tone is now on this channel, now on that
        }
        boolean longEnough = splitter.received() > (LEAST_PAIRS + 4.0) * length / 2 + 2.0 * margin;
        return toneFrames == 0 && longEnough ? Status.NO_CARRIER : Status.INSUFFICIENT_DATA;
    }

    /**
     * The separation that is exceeded with a confidence of at least 95 %, whether or not the residue itself is known.
     *
     * @param silentChannel 1 or 2, the channel without the tone
     * @return limit in dB; empty where that channel was not measured, or holds no residue at all
     */
    public OptionalDouble leastDecibels(int silentChannel) {
        if (silentChannel != 1 && silentChannel != 2) {
            throw new IllegalArgumentException("silentChannel " + silentChannel + " is not 1 or 2");
        }
        Direction direction = directions[2 - silentChannel];
        return splitter.finite() && direction.isEnough() ? direction.ratio().leastDecibels() : OptionalDouble.empty();
    }

    /**
     * The recorded tone, as the mean of the frames where it prevailed.
     *
     * @return frequency in Hz, empty before a tone was found
     */
    public OptionalDouble toneHz() {
        return frequency.count() == 0 ? OptionalDouble.empty() : OptionalDouble.of(frequency.mean());
    }

    /** The samples that come next do not follow those taken last. */
    public void gap() {
        splitter.gap();
        steady.gap();
        for (Direction direction : directions) {
            direction.interrupt();
        }
    }

    /** Forgets everything but the settings. */
    public void reset() {
        splitter.reset();
        steady.gap();
        frequency.reset();
        toneFrames = 0;
        double startHz = startHz();
        if (trackerHz != startHz) {
            trackerHz = startHz;
            tracker = tracker(startHz);
        }
        for (Direction direction : directions) {
            direction.reset();
        }
    }
}
