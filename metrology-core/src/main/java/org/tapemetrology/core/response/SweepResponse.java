/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import org.tapemetrology.core.fit.LinearLeastSquares;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Status;

/**
 * The response from a recording of one logarithmic sweep, {@code f(t) = start (end/start)^(t/seconds)}, whose place in
 * the recording is not known, on a machine up to 5 % off speed, at the third-octave frequencies of ISO 266 whose bands
 * lie within the sweep, in dB re the one at the reference frequency.
 *
 * <p>In half-overlapping frames of about half a third octave the strongest frequency is found; the straight line of its
 * logarithm over time gives start and speed, and is followed where something else is stronger. The power of a frame is
 * that of the lines about the swept frequency less what stands there when the sweep has gone on, so noise, hum and
 * harmonics are not in it. The level at a frequency is that of a parabola over the logarithm of the frequency, fitted
 * to the levels of the frames within half an octave on either side, weighted by the square of a cosine: slope and
 * curvature of the response do not move it.
 *
 * <p>A frequency that the recording does not reach or reaches from one side only is {@link Status#INSUFFICIENT_DATA};
 * where the sweep should be and does not stand 6 dB above the noise, {@link Status#NO_CARRIER}, and so is all of a
 * recording without a sweep. Never NaN. Feed the sweep alone; of several the one that is found over most of its length
 * counts. Memory does not grow. Thread-confined.
 *
 * <p><b>Uncertainty.</b> A sweep passes each frequency once. How the level jumps is told by third differences of the levels of
 * frames half an octave apart, to which slope and curvature of the response add nothing: of a level whose correlation falls
 * by e while the sweep passes half an octave, they have {@value #DIFFERENCE} times the variance, and the middle of the parabola
 * has {@value #MIDDLE} of it (computed). The median of their squares is taken, so that corners of the response, which are
 * few, do not count. Where the level jumps faster, too much is stated: up to 2.5 times for what changes from frame to frame.
 * Where it jumps more slowly, too little: that cannot be told from the response, and the mean of several slower sweeps is
 * better. A level of another frequency near the reference shares frames with it and is better known than stated.
 *
 * <p>Settling and cost: the whole sweep, at most 120 s.
 *
 * <p>Not for a sweep of another law.
 */
public final class SweepResponse extends ResponseMeter {
    /** Length of a frame over the time in which the frequency grows by e: about half a third octave. */
    private static final double FRAME = 0.12;
    /** Longest allowed: the frame then spans four fifths of a third octave. */
    private static final double LONGEST_FRAME = 0.19;
    /** Cycles of the lowest frequency in a frame, so that its negative frequency is beyond the main lobe. */
    private static final double LEAST_CYCLES = 3.4;

    private static final double LONGEST_SECONDS = 120;
    private static final double LEAST_RATIO = 4;
    /** Leaves room for a machine that is 5 % fast. */
    private static final double HIGHEST_TO_RATE = 0.47;

    private static final double OFF_SPEED = 0.07;
    private static final double FLUTTER = 0.015;
    private static final int MAIN_LOBE = 3;
    private static final double LEAST_TO_NOISE = 4;
    /** Half an octave of base ten, as a natural logarithm. */
    private static final double REACH = 1.5 * ThirdOctaves.WIDTH;

    private static final int LEAST_FRAMES = 4;

    /** Of an exponential correlation: {@code 20 - 30/e + 12/e^2 - 2/e^3}. */
    static final double DIFFERENCE = 10.49;
    /** The mean of an exponential correlation under the weights of the parabola's middle. */
    static final double MIDDLE = 0.847;
    /** Median of the square of a normal variable over its variance. */
    private static final double MEDIAN_OF_SQUARES = 0.4549;
    /** How many values a median is worth, of as many for a standard deviation (P. J. Huber, "Robust Statistics", from memory). */
    private static final double MEDIAN_EFFICIENCY = 0.37;

    private static final int LEAST_DIFFERENCES = 12;
    /** Frames up to this distance share samples with a frame or touch it. */
    private static final int NEIGHBOURS = 2;
    /** Part of the distance between frames by which one may reach beyond the sweep, where the window is nearly closed. */
    private static final double OVERHANG = 0.1;

    private final double startHz;
    private final double sweepFrames;
    private final double[] frequenciesHz;
    private final SweepFrames latest;
    private final SweepFrames kept;
    private final SweepRidge ridge;
    private final int searchInterval;
    private int keptFollowed;

    /**
     * A meter of one channel.
     *
     * @param sampleRateHz sampling rate in Hz, 8000 to 768000
     * @param channel 1-based channel
     * @param referenceHz reference frequency in Hz, a nominal third-octave frequency whose band lies within the sweep
     * @param startHz frequency in Hz at which the sweep starts, at least 10
     * @param endHz frequency in Hz at which it ends, at least 4 times the start and at most 0.47 of the sampling rate
     * @param seconds duration in s, at most 120, and such that the frequency grows by at most about one and a half octaves
     *     a second
     */
    public SweepResponse(
            double sampleRateHz, int channel, double referenceHz, double startHz, double endHz, double seconds) {
        super(sampleRateHz, channel, referenceHz, frameSeconds(sampleRateHz, startHz, endHz, seconds));
        double growth = StrictMath.log(endHz / startHz) / seconds;
        double hopSeconds = 0.5 / binHz();
        Require.inRange("seconds", seconds, seconds * growth * 2 * hopSeconds / LONGEST_FRAME, LONGEST_SECONDS);
        this.startHz = startHz;
        this.sweepFrames = seconds / hopSeconds;
        this.frequenciesHz = Arrays.stream(ThirdOctaves.nominalHz())
                .filter(f -> StrictMath.log(f / startHz) >= ThirdOctaves.WIDTH / 2
                        && StrictMath.log(endHz / f) >= ThirdOctaves.WIDTH / 2)
                .toArray();
        requireMember(referenceHz, frequenciesHz);
        // Twice the sweep is kept and looked at each time that half of it is new: once it lies wholly within.
        this.searchInterval = (int) Math.ceil(sweepFrames / (1 - OFF_SPEED) / 2) + 2;
        int capacity = 4 * searchInterval;
        int lines = (int) StrictMath.round(sampleRateHz / binHz()) / 2 + 1;
        double from = startHz * (1 - OFF_SPEED) / binHz();
        double to = Math.min(endHz * (1 + OFF_SPEED) / binHz(), lines - 1.0);
        double half = growth * hopSeconds * (1 + OFF_SPEED) + FLUTTER;
        this.latest = new SweepFrames(capacity, lines, from, to, MAIN_LOBE, half);
        this.kept = new SweepFrames(capacity, lines, from, to, MAIN_LOBE, half);
        this.ridge = new SweepRidge(growth * hopSeconds, capacity, lines);
    }

    private static double frameSeconds(double sampleRateHz, double startHz, double endHz, double seconds) {
        requireSampleRate(sampleRateHz);
        Require.inRange("startHz", startHz, 10, HIGHEST_TO_RATE * sampleRateHz / LEAST_RATIO);
        Require.inRange("endHz", endHz, LEAST_RATIO * startHz, HIGHEST_TO_RATE * sampleRateHz);
        Require.inRange("seconds", seconds, 0.1, LONGEST_SECONDS);
        // The length becomes the next power of two: over the square root of two, the nearest.
        double wanted = FRAME * seconds / StrictMath.log(endHz / startHz) / StrictMath.sqrt(2);
        return Math.max(wanted, LEAST_CYCLES / startHz);
    }

    @Override
    void add(double[] power, boolean overloaded) {
        latest.add(power, overloaded);
        if (latest.end() % searchInterval == 0) {
            ridge.find(latest);
            if (ridge.followed() > keptFollowed) {
                keptFollowed = ridge.followed();
                kept.copyFrom(latest);
            }
        }
    }

    @Override
    void clear() {
        latest.clear();
        kept.clear();
        keptFollowed = 0;
    }

    /** The frames in which the best sweep so far lies; the ridge is then that of this sweep. */
    private SweepFrames best() {
        ridge.find(latest);
        if (ridge.followed() >= keptFollowed) {
            return latest;
        }
        ridge.find(kept);
        return kept;
    }

    /**
     * Speed of the machine over that of the recording.
     *
     * @return the ratio, 1 on speed; empty where no sweep was found
     */
    public OptionalDouble speedRatio() {
        best();
        return ridge.followed() == 0 ? OptionalDouble.empty() : OptionalDouble.of(ridge.speedRatio());
    }

    @Override
    List<ToneLevel> levels() {
        SweepFrames frames = best();
        List<ToneLevel> levels = new ArrayList<>();
        if (ridge.followed() == 0) {
            Status status = frames.end() < LEAST_FRAMES ? Status.INSUFFICIENT_DATA : Status.NO_CARRIER;
            for (double frequencyHz : frequenciesHz) {
                levels.add(ToneLevel.without(frequencyHz, status));
            }
            return levels;
        }
        double[] decibels = decibels(frames);
        Scatter scatter = scatter(decibels);
        for (double frequencyHz : frequenciesHz) {
            levels.add(level(frames, decibels, scatter, frequencyHz));
        }
        return levels;
    }

    /** How well a level is known: variance of the power over its square; without degrees of freedom where that is not known. */
    private record Scatter(double relativeVariance, double degreesOfFreedom) {}

    private Scatter scatter(double[] decibels) {
        int apart = (int) Math.max(1, Math.round(REACH / ridge.slope()));
        double[] squares = new double[Math.max(0, decibels.length - 3 * apart)];
        int count = 0;
        for (int i = 0; i < squares.length; i++) {
            double difference =
                    decibels[i + 3 * apart] - decibels[i] + 3 * (decibels[i + apart] - decibels[i + 2 * apart]);
            if (Double.isFinite(difference)) {
                squares[count++] = difference * difference;
            }
        }
        if (count < Math.max(LEAST_DIFFERENCES, 2 * apart)) {
            return new Scatter(0, 0);
        }
        Arrays.sort(squares, 0, count);
        double variance = squares[count / 2] / MEDIAN_OF_SQUARES / DIFFERENCE;
        double perDecibel = StrictMath.log(10) / 10;
        // Levels and reference share one estimate, so that their difference has as many degrees of freedom as it, not
        // twice.
        return new Scatter(
                MIDDLE * variance * perDecibel * perDecibel, Math.max(1, MEDIAN_EFFICIENCY * count / apart) / 2);
    }

    /** Whether the sweep as sent fills a frame. */
    private boolean inside(long frame) {
        double start = ridge.frameAt(StrictMath.log(ridge.speedRatio() * startHz / binHz()));
        double end = start + sweepFrames / ridge.speedRatio();
        return frame - 1 >= start - OVERHANG && frame + 1 <= end + OVERHANG;
    }

    /** Level of the sweep in each frame; negative infinity where it is not, or not wholly, there. */
    private double[] decibels(SweepFrames frames) {
        int count = (int) (frames.end() - frames.first());
        double[] heard = new double[count];
        for (int i = 0; i < count; i++) {
            heard[i] = inside(frames.first() + i) ? decibels(frames, frames.first() + i) : Double.NaN;
        }
        // A frame next to one that the sweep should fill and does not may itself be filled in part only.
        double[] whole = heard.clone();
        for (int i = 0; i < count; i++) {
            for (int j = Math.max(0, i - NEIGHBOURS); j <= Math.min(count - 1, i + NEIGHBOURS); j++) {
                if (Double.isNaN(heard[i]) || heard[j] == Double.NEGATIVE_INFINITY) {
                    whole[i] = Double.NEGATIVE_INFINITY;
                }
            }
        }
        return whole;
    }

    private double decibels(SweepFrames frames, long frame) {
        double line = StrictMath.exp(ridge.lineLogarithm(frame));
        int apart = frames.framesApart(line, ridge.slope());
        long without = frame + apart < frames.end() ? frame + apart : frame - apart;
        double noise = without >= frames.first() ? frames.powerAt(without, line) : frames.noiseBeside(frame, line);
        double power = frames.powerAt(frame, line) - noise;
        return power > LEAST_TO_NOISE * noise ? 10 * StrictMath.log10(power) : Double.NEGATIVE_INFINITY;
    }

    private ToneLevel level(SweepFrames frames, double[] decibels, Scatter scatter, double frequencyHz) {
        double middle = ridge.frameAt(StrictMath.log(ridge.speedRatio() * frequencyHz / binHz()));
        double reach = REACH / ridge.slope();
        LinearLeastSquares parabola = new LinearLeastSquares(3);
        int before = 0;
        int after = 0;
        for (long n = Math.max(frames.first(), (long) Math.ceil(middle - reach));
                n < frames.end() && n < middle + reach;
                n++) {
            double level = decibels[(int) (n - frames.first())];
            if (level > Double.NEGATIVE_INFINITY) {
                if (frames.overloaded(n)) {
                    return ToneLevel.without(frequencyHz, Status.OVERLOAD);
                }
                double off = (n - middle) / reach;
                double weight = StrictMath.cos(off * StrictMath.PI / 2);
                parabola.add(new double[] {weight, weight * off, weight * off * off}, weight * level);
                before += off <= 0 ? 1 : 0;
                after += off >= 0 ? 1 : 0;
            }
        }
        if (before > 0 && after > 0 && before + after >= LEAST_FRAMES) {
            double level = parabola.solve().coefficient(0);
            return new ToneLevel(
                    frequencyHz,
                    StrictMath.pow(10, level / 10),
                    Status.VALID,
                    scatter.relativeVariance(),
                    scatter.degreesOfFreedom());
        }
        boolean reached = middle - reach >= frames.first() - 1 && middle + reach <= frames.end();
        return ToneLevel.without(frequencyHz, reached ? Status.NO_CARRIER : Status.INSUFFICIENT_DATA);
    }

    @Override
    String method() {
        return "logarithmic sweep, level about the swept frequency";
    }
}
