/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.fit.RunningMoments;

/**
 * The echoes of a burst on the neighbouring layers: what stands in the pauses one layer before it and after it, as far as
 * the burst itself does not cover it. Both echoes have one spacing, at which their power, over the noise and by the root of
 * how long they can be seen, is greatest.
 */
final class Echoes {
    /** What stands in a pause this far below the burst or less, 20 dB, is no echo but another signal. */
    private static final double PAUSE = 0.01;
    /** Power of an echo over the noise in its band from which on it counts: 10 dB. */
    private static final double STANDS_OUT = 10;

    private static final double COVERAGE_FACTOR = 2;
    private static final double STEP_SECONDS = 0.01;
    /** How well the edges of the burst are known. */
    private static final double EDGE_SECONDS = 0.015;
    /** Left out at the outer edge of an echo, where the spacing may be found too long. */
    private static final double OUTER_SECONDS = 0.05;

    private final ShortFrames frames;
    private final Burst burst;
    private final double rateHz;
    private final double guard;
    private final double burstPower;
    private final Pause before;
    private final Pause after;
    private final OptionalDouble spacing;

    /** Frames of the quiet neighbourhood on one side, and the noise in them. */
    private record Pause(int first, int last, double noise) {
        boolean holds(int from, int to) {
            return from <= to && from >= first && to <= last;
        }
    }

    /**
     * Looks for them.
     *
     * @param reachSeconds reach of the burst beyond its edges by the filter in front
     * @param shortest least spacing in s
     * @param longest greatest spacing in s
     */
    Echoes(ShortFrames frames, Burst burst, double rateHz, double reachSeconds, double shortest, double longest) {
        this.frames = frames;
        this.burst = burst;
        this.rateHz = rateHz;
        this.guard = frames.length() / 2.0 + (reachSeconds + EDGE_SECONDS) * rateHz;
        this.burstPower = frames.meanTone(
                frames.firstFrom(burst.from() + guard),
                Math.max(frames.firstFrom(burst.from() + guard), frames.lastTo(burst.to() - guard)));
        this.before = pauseBefore(longest * rateHz);
        this.after = pauseAfter(longest * rateHz);
        this.spacing = find(shortest, longest);
    }

    private Pause pauseBefore(double farthest) {
        int last = frames.lastTo(burst.from() - guard);
        int first = last + 1;
        while (first > frames.firstFrom(burst.from() - farthest) && isPause(first - 1)) {
            first--;
        }
        return pause(first, last);
    }

    private Pause pauseAfter(double farthest) {
        int first = frames.firstFrom(burst.to() + guard);
        int last = first - 1;
        while (last < frames.lastTo(burst.to() + farthest) && isPause(last + 1)) {
            last++;
        }
        return pause(first, last);
    }

    private boolean isPause(int frame) {
        return frames.tone(frame) < PAUSE * burstPower;
    }

    private Pause pause(int first, int last) {
        return new Pause(first, last, first <= last ? frames.meanBeside(first, last) : 0);
    }

    private OptionalDouble find(double shortest, double longest) {
        double best = 0;
        double most = Double.NEGATIVE_INFINITY;
        for (int step = 0; shortest + step * STEP_SECONDS <= longest; step++) {
            double lag = (shortest + step * STEP_SECONDS) * rateHz;
            boolean held = before.holds(beforeFrom(lag), beforeTo(lag)) || after.holds(afterFrom(lag), afterTo(lag));
            double score = score(before, beforeFrom(lag), beforeTo(lag)) + score(after, afterFrom(lag), afterTo(lag));
            if (held && score > most) {
                most = score;
                best = lag;
            }
        }
        return best > 0 ? OptionalDouble.of(best) : OptionalDouble.empty();
    }

    private int beforeFrom(double lag) {
        return frames.firstFrom(burst.from() - lag + guard);
    }

    private int beforeTo(double lag) {
        return frames.lastTo(Math.min(burst.from(), burst.to() - lag) - guard);
    }

    private int afterFrom(double lag) {
        return frames.firstFrom(Math.max(burst.to(), burst.from() + lag) + guard);
    }

    private int afterTo(double lag) {
        return frames.lastTo(burst.to() + lag - guard);
    }

    /** Nothing where the pause does not hold the place of the echo. */
    private double score(Pause pause, int from, int to) {
        return pause.holds(from, to) ? (frames.meanTone(from, to) - pause.noise()) * Math.sqrt(to - from + 1.0) : 0;
    }

    /** Spacing of the layers in s that was found, empty where the pauses are too short for any. */
    OptionalDouble spacingSeconds() {
        return spacing.isPresent() ? OptionalDouble.of(spacing.getAsDouble() / rateHz) : OptionalDouble.empty();
    }

    /** Echo before the burst; empty where the pause is too short for it. */
    Optional<PowerRatio> before() {
        if (spacing.isEmpty()) {
            return Optional.empty();
        }
        double lag = spacing.getAsDouble();
        int to = beforeTo(lag);
        return ratio(before, Math.min(to, beforeFrom(lag - OUTER_SECONDS * rateHz)), to);
    }

    /** Echo after the burst; empty where the pause is too short for it. */
    Optional<PowerRatio> after() {
        if (spacing.isEmpty()) {
            return Optional.empty();
        }
        double lag = spacing.getAsDouble();
        int from = afterFrom(lag);
        return ratio(after, from, Math.max(from, afterTo(lag - OUTER_SECONDS * rateHz)));
    }

    private Optional<PowerRatio> ratio(Pause pause, int from, int to) {
        if (!pause.holds(from, to)) {
            return Optional.empty();
        }
        RunningMoments powers = new RunningMoments();
        for (int f = from; f <= to; f++) {
            powers.add(frames.tone(f));
        }
        double noise = pause.noise();
        double echo = powers.mean() - noise;
        if (powers.mean() < STANDS_OUT * noise || powers.mean() == 0) {
            return Optional.of(new PowerRatio(0, STANDS_OUT * noise / burstPower));
        }
        // Few frames may agree by chance: the error is never less than that by the noise, known from the whole pause.
        double byNoise = Math.sqrt(2 * echo * noise + noise * noise);
        double error = Math.max(byNoise, powers.standardDeviation()) / Math.sqrt(frames.independent(from, to));
        return Optional.of(new PowerRatio(echo / burstPower, COVERAGE_FACTOR * error / burstPower));
    }
}
