/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.IntFunction;
import org.tapemetrology.core.LiveReading.Figure;
import org.tapemetrology.core.azimuth.AzimuthMeter;
import org.tapemetrology.core.fit.SteadyMean;
import org.tapemetrology.core.flutter.FlutterIndicator;
import org.tapemetrology.core.level.BallisticMeter;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.core.standard.Iec60386Edition1972;

/**
 * Measures a recording as {@link RecordingMeter} does and shows meanwhile what a person looks at who turns a trimmer: speed,
 * level, balance and azimuth as means that are steady until something changes, with the mean over the last 3 s beside them;
 * the indication of one flutter figure with its worst and its mean; and the indication of a level meter.
 *
 * <table>
 * <caption>What is shown</caption>
 * <tr><th>figure</th><th>unit</th><th>how</th></tr>
 * <tr><td>{@code tone.frequency}, {@code speed.error}</td><td>Hz, %</td><td>{@link SteadyMean} of 0.1 s means</td></tr>
 * <tr><td>{@code level}</td><td>dBFS</td><td>power mean of 0.1 s windows of the fundamental; changes are looked for in
 * dB</td></tr>
 * <tr><td>{@code channel.balance}</td><td>dB</td><td>mean of the differences of the levels of 0.1 s</td></tr>
 * <tr><td>{@code azimuth.delay}</td><td>us</td><td>mean of the delays of the frames, each near that of the last second; of a
 * single tone the cycle nearest to zero, which is told at the end alone ({@code whole-cycle})</td></tr>
 * <tr><td>flutter</td><td>%</td><td>{@link FlutterIndicator}</td></tr>
 * <tr><td>level meter</td><td>dBFS</td><td>{@link BallisticMeter}</td></tr>
 * </table>
 *
 * <p>Steady means begin anew with every stretch of tone, need 1 s, are corrected for the known errors of test tape and
 * converter and carry an uncertainty as every reading does. {@link #measurement()} is that of the recording meter to the last
 * bit. Everything is looked at every 0.1 s of samples and depends on neither the size of the blocks nor on when
 * {@link #reading()} is asked. Nothing is allocated per block while a tone is followed; a reading is an object of some kB. A
 * sample that is no finite number makes every figure {@code invalid-input} until {@link #reset()}. Thread-confined.
 *
 * <p>Settling and cost: steady means need 1 s, a level meter 0.3 s, flutter what {@link FlutterIndicator} says. The
 * work is that of a {@link RecordingMeter} and a look at its sums every 0.1 s. Methods are those of the meters.
 *
 * <p>Not for a recording that is complete already: {@link RecordingMeter} gives the same readings.
 */
public final class LiveMeter {
    /** Every so often everything is looked at. */
    static final double LOOK_SECONDS = 0.1;

    private static final int BLOCKS_PER_LOOK = 5;
    /** Of the balance in dB and of the delay in us. */
    private static final double ASSUMED_BALANCE_JUMPS = 0.3;

    private static final double LEAST_BALANCE_JUMPS = 2e-3;
    private static final double ASSUMED_WANDER = 2;
    private static final double LEAST_WANDER = 0.01;

    private final int sampleRateHz;
    private final RecordingMeter recording;
    private final List<LiveChannel> channels;
    private final float[][] block;
    private int filled;
    private int blocks;
    private long looks;

    private final SteadyMean balance = new SteadyMean(ASSUMED_BALANCE_JUMPS, LEAST_BALANCE_JUMPS);
    private final SteadyMean delay = new SteadyMean(ASSUMED_WANDER, LEAST_WANDER);
    private final RunningMean delayNow = new RunningMean();
    private int firstStretch;
    private int secondStretch;
    private long overruns;
    private double firstLost;
    private double lastLost;

    /** Which level meter is shown. */
    public enum Indicator {
        /** None. */
        NONE,
        /** The standard volume indicator of IEC 60268-17. */
        VOLUME,
        /** The peak programme meter type I of IEC 60268-10. */
        PROGRAMME_PEAK_ONE,
        /** The peak programme meter type II of IEC 60268-10. */
        PROGRAMME_PEAK_TWO
    }

    /** Builds a meter. */
    public static final class Builder {
        private final RecordingMeter.Builder recording;
        private Quantity flutter = Quantity.FLUTTER_WEIGHTED_QUASI_PEAK;
        private Indicator indicator = Indicator.VOLUME;

        private Builder(RecordingMeter.Builder recording) {
            this.recording = recording;
        }

        /**
         * Sets the flutter figure; that of {@link Iec60386Edition1972}, quasi-peak, without this call.
         *
         * @param figure one of {@link FlutterIndicator#FIGURES}
         * @return this builder
         */
        public Builder flutter(Quantity figure) {
            new FlutterIndicator(figure); // checks the value here, where it is set
            flutter = figure;
            return this;
        }

        /**
         * Sets the level meter; the volume indicator without this call.
         *
         * @param shown the meter
         * @return this builder
         */
        public Builder indicator(Indicator shown) {
            indicator = shown;
            return this;
        }

        /**
         * Builds the meter.
         *
         * @return a meter at rest
         */
        public LiveMeter build() {
            return new LiveMeter(this);
        }
    }

    private LiveMeter(Builder builder) {
        sampleRateHz = builder.recording.sampleRateHz();
        recording = builder.recording.running().build();
        block = new float[recording.channels()][recording.blockFrames()];
        IntFunction<Optional<BallisticMeter>> indicator = rate -> switch (builder.indicator) {
            case NONE -> Optional.empty();
            case VOLUME -> Optional.of(BallisticMeter.volumeIndicator(rate));
            case PROGRAMME_PEAK_ONE -> Optional.of(BallisticMeter.programmePeakTypeOne(rate));
            case PROGRAMME_PEAK_TWO -> Optional.of(BallisticMeter.programmePeakTypeTwo(rate));
        };
        List<LiveChannel> all = new ArrayList<>();
        for (int number = 1; number <= recording.channels(); number++) {
            all.add(new LiveChannel(
                    number,
                    builder.recording.nominalHz(),
                    recording.scale(number),
                    recording.meter(number).tone(),
                    new FlutterIndicator(builder.flutter),
                    indicator.apply(sampleRateHz)));
        }
        channels = List.copyOf(all);
    }

    /**
     * Begins to build a meter.
     *
     * @param recording how the recording is to be measured; it is not to be used any more
     * @return a builder
     */
    public static Builder builder(RecordingMeter.Builder recording) {
        return new Builder(recording);
    }

    /**
     * Takes interleaved samples.
     *
     * @param interleaved samples of all channels in turn, full scale 1
     * @param offset first sample of the first frame
     * @param frames number of frames
     */
    public void accept(float[] interleaved, int offset, int frames) {
        int stride = channels.size();
        Objects.checkFromIndexSize(offset, Math.multiplyExact(frames, stride), interleaved.length);
        int at = offset;
        for (int taken = 0; taken < frames; ) {
            int part = Math.min(frames - taken, recording.framesToBlockEnd());
            recording.accept(interleaved, at, part);
            for (int channel = 0; channel < stride; channel++) {
                float[] one = block[channel];
                for (int i = 0; i < part; i++) {
                    one[filled + i] = interleaved[at + channel + i * stride];
                }
            }
            at += part * stride;
            taken += part;
            filled += part;
            if (filled == block[0].length) {
                filled = 0;
                blockEnded();
            }
        }
    }

    private void blockEnded() {
        for (int channel = 0; channel < channels.size(); channel++) {
            channels.get(channel).indicate(block[channel], block[channel].length);
        }
        if (++blocks < BLOCKS_PER_LOOK) {
            return;
        }
        blocks = 0;
        looks++;
        for (int channel = 0; channel < channels.size(); channel++) {
            channels.get(channel).look();
        }
        if (recording.pair().isPresent()) {
            lookAtBoth(recording.pair().get().azimuth());
        }
    }

    private void lookAtBoth(AzimuthMeter azimuth) {
        LiveChannel first = channels.get(0);
        LiveChannel second = channels.get(1);
        if (first.stretch() != firstStretch || second.stretch() != secondStretch) {
            firstStretch = first.stretch();
            secondStretch = second.stretch();
            balance.restart();
        }
        double ratio = second.powerNow() / first.powerNow();
        if (ratio > 0 && ratio < Double.POSITIVE_INFINITY) {
            balance.add(10 * StrictMath.log10(ratio));
        }
        double microseconds = delayNow.next(azimuth.runningDelaySum(), azimuth.runningDelayCount());
        if (!azimuth.hasRunningDelay()) {
            delay.restart();
        } else if (Double.isFinite(microseconds)) {
            delay.add(microseconds);
        }
    }

    /**
     * What is shown at this moment.
     *
     * @return figures as of the last whole 0.1 s
     */
    public LiveReading reading() {
        Correction correction = new Correction(recording.budgets());
        List<LiveReading.Channel> shown = new ArrayList<>();
        for (LiveChannel channel : channels) {
            shown.add(channel.reading(correction));
        }
        Optional<Figure> balanceFigure = Optional.empty();
        Optional<Figure> delayFigure = Optional.empty();
        if (recording.pair().isPresent()) {
            AzimuthMeter azimuth = recording.pair().get().azimuth();
            Status first = shown.get(0).levels().get(0).steady().status();
            Status second = shown.get(1).levels().get(0).steady().status();
            balanceFigure = Optional.of(
                    figure(correction, Quantity.CHANNEL_BALANCE, first == Status.VALID ? second : first, balance));
            Status azimuthStatus = azimuth.hasRunningDelay()
                    ? Status.VALID
                    : first == Status.INVALID_INPUT ? Status.INVALID_INPUT : Status.NO_CARRIER;
            delayFigure = Optional.of(figure(correction, Quantity.AZIMUTH_DELAY, azimuthStatus, delay));
        }
        return new LiveReading(
                looks * BLOCKS_PER_LOOK * (double) block[0].length / sampleRateHz,
                overruns == 0
                        ? shown
                        : shown.stream().map(LiveMeter::interrupted).toList(),
                balanceFigure,
                delayFigure,
                overruns);
    }

    private static Figure figure(Correction correction, Quantity quantity, Status status, SteadyMean mean) {
        Reading like = status == Status.VALID
                ? Reading.valid(quantity, mean.mean(), Correction.METHOD)
                : Reading.without(quantity, status, Correction.METHOD);
        return correction.figure(like, mean, 1, mean.mean(), mean.recentMean());
    }

    private static LiveReading.Channel interrupted(LiveReading.Channel shown) {
        FlutterIndicator.Shown flutter = shown.flutter();
        return new LiveReading.Channel(
                shown.number(),
                shown.frequency(),
                shown.speedError(),
                shown.levels(),
                new FlutterIndicator.Shown(
                        flutter.figure(),
                        flutter.status() == Status.VALID ? Status.INTERRUPTED : flutter.status(),
                        flutter.nowPercent(),
                        OptionalDouble.empty(),
                        OptionalDouble.empty()),
                shown.indicator());
    }

    /**
     * Tells that samples were lost before the next one, as where a sound card's buffer ran over. The phase of a tone jumps
     * there, which nothing can tell from flutter: from here on until {@link #reset()} flutter and wow figures are
     * {@code interrupted}, and a warning says how often it happened.
     */
    public void inputLost() {
        double at =
                (looks * BLOCKS_PER_LOOK * (double) block[0].length + blocks * block[0].length + filled) / sampleRateHz;
        firstLost = overruns == 0 ? at : firstLost;
        lastLost = at;
        overruns++;
    }

    /**
     * Everything that can be said of the recording so far: {@link RecordingMeter#reading()}, unless input was lost.
     *
     * @return readings of every channel in order, then those between channels
     */
    public Measurement measurement() {
        Measurement measured = recording.reading();
        if (overruns == 0) {
            return measured;
        }
        List<Reading> readings = measured.readings().stream()
                .map(reading ->
                        reading.isValid() && isSpoiltByJumps(reading.quantity()) ? interrupted(reading) : reading)
                .toList();
        return new Measurement(readings, measured.warnings())
                .withWarning(Warning.during(
                        WarningCode.INPUT_OVERRUN,
                        "samples came faster than they were taken and some were lost, " + overruns
                                + (overruns == 1 ? " time" : " times"),
                        firstLost,
                        lastLost));
    }

    private static boolean isSpoiltByJumps(Quantity quantity) {
        return quantity.id().startsWith("flutter.") || quantity.id().startsWith("wow.");
    }

    private static Reading interrupted(Reading reading) {
        Reading without = Reading.without(reading.quantity(), Status.INTERRUPTED, reading.method());
        return reading.channel().isPresent()
                ? without.onChannel(reading.channel().getAsInt())
                : without;
    }

    /**
     * The meter behind the readings, for what else it knows; it is not to be given samples.
     *
     * @return the meter
     */
    public RecordingMeter recording() {
        return recording;
    }

    /** Begins every steady mean anew, as where somebody knows that something was changed. */
    public void restartMeans() {
        channels.forEach(LiveChannel::restart);
        balance.restart();
        delay.restart();
    }

    /** Puts the meter to rest, as if new. */
    public void reset() {
        recording.reset();
        channels.forEach(LiveChannel::reset);
        filled = 0;
        blocks = 0;
        looks = 0;
        balance.reset();
        delay.reset();
        delayNow.restart();
        firstStretch = 0;
        secondStretch = 0;
        overruns = 0;
    }
}
