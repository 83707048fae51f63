/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import static org.tapemetrology.core.quantity.Quantity.AZIMUTH_ANGLE;
import static org.tapemetrology.core.quantity.Quantity.AZIMUTH_DELAY;
import static org.tapemetrology.core.quantity.Quantity.AZIMUTH_LEVEL_LOSS;
import static org.tapemetrology.core.quantity.Quantity.AZIMUTH_WANDER;
import static org.tapemetrology.core.quantity.Quantity.CHANNEL_POLARITY;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.internal.FrameSplitter;
import org.tapemetrology.core.internal.FullScaleRun;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.loss.TrackGeometry;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;

/**
 * Delay between the two channels of a replay in us, positive where channel 2 lags channel 1, and what follows from it.
 * Any signal serves that stands on both tracks at once: a tone, a multitone, a sweep, noise, programme.
 *
 * <table>
 * <caption>What is read</caption>
 * <tr><th>reading</th><th>how</th></tr>
 * <tr><td>{@code azimuth.delay}</td><td>slope of the phase of the cross spectrum over frequency, {@code -dphase/(2 pi df)},
 * in overlapping frames of 64 ms to 128 ms; mean of the frames, each counting alike, or by its information (power times
 * frequency squared) where that halves the uncertainty, as in a sweep. The uncertainty is statistical: the scatter of the
 * frames or what the coherence explains, whichever is larger</td></tr>
 * <tr><td>{@code azimuth.wander}</td><td>97.5th minus 2.5th percentile of the delay of the frames, less (root of the
 * difference of squares) what noise explains by the scatter of phases within the frames; of a single tone that tells a part
 * of the noise only. A wander of 2.5 Hz is read some 2 % low, on a tone up to 5 %. It needs the equivalent of 20 frames and
 * 2 s</td></tr>
 * <tr><td>{@code azimuth.angle}</td><td>{@code atan(v t/s)} in minutes of arc; needs the tracks and the speed</td></tr>
 * <tr><td>{@code azimuth.level-loss}</td><td>{@code -20 lg(sin(x)/x)}, {@code x = pi w f tan(alpha)/v}, in dB at each
 * frequency asked for; needs the tracks and the speed</td></tr>
 * <tr><td>{@code channel.polarity}</td><td>1, or -1 where one channel is inverted; {@code ambiguous} where the band is too
 * narrow to tell that from half a cycle</td></tr>
 * </table>
 *
 * <p>Delays within 400 us of the expected one are looked for: zero, or the coarse delay that was given. A single tone or a
 * narrow band also fits delays whole cycles away: then the one nearest to the expected is given, with equal polarity if
 * such is within reach, and a warning {@code whole-cycle} states the period in us. So it does where the band tells whole
 * cycles but not the polarity.
 *
 * <p>{@code insufficient-data} before 1 s; {@code no-carrier} where either channel is silent (-90 dBFS) or they differ by
 * over 30 dB; {@code ambiguous} where the channels have less than a tenth of their power in common,
 * or nothing above 240 Hz, which may be hum. A sample that is not finite makes every reading
 * {@code invalid-input} until {@link #reset()}. Overload is a warning alone, as both channels are clipped alike.
 * Thread-confined.
 *
 * <p>Settling and cost: 1 s, for the wander 2 s. Memory does not grow.
 *
 * <p>Not for channels that hold different programmes, nor for a single track: there the level of a short wavelength
 * is turned to its highest. The angle is geometry, from the track spacing as it was given.
 */
public final class AzimuthMeter {
    private static final double LEAST_SECONDS = 1;
    private static final double WANDER_SECONDS = 2;
    private static final double WANDER_FRAMES = 20;
    /** Frames from one look at the whole-cycle question to the next: half a second. */
    private static final int FRAMES_PER_LOOK = 12;
    /** A channel 30 dB below the other carries its crosstalk. */
    private static final double MOST_POWER_RATIO = 1e3;

    /** Deviation of the 95 % range of a normal distribution re itself, times the root of the number of values. */
    private static final double RANGE_SHARE = 0.965;

    private static final double COVERAGE_FACTOR = 1.959963984540054;
    private static final double MICRO = 1e-6;
    /** Beyond ten degrees no head is out of line, and the loss has no meaning. */
    private static final double MOST_ARCMINUTES = 600;

    private static final String DELAY_METHOD = "phase of the cross spectrum over frequency";
    private static final String WANDER_METHOD = "95 % range over frames, less noise";
    private static final String ANGLE_METHOD = "delay, track spacing and speed";
    private static final String LOSS_METHOD = "sin(x)/x over the track width";
    private static final String POLARITY_METHOD = "sign of the cross spectrum";

    private final double sampleRateHz;
    private final double expectedMicroseconds;
    private final boolean coarse;
    private final @Nullable TrackGeometry geometry;
    private final double speedCmPerSecond;
    private final double[] lossFrequenciesHz;

    private final FrameSplitter splitter;
    private final CrossTransform transform;
    private final CrossSpectrum spectrum;
    private final DelaySearch search;
    private final DelayTrack track;
    private final @Nullable RunningDelay running;
    /** The frames of the last second, which are followed as soon as it is known about which delay. */
    private final CrossFrame[] held;

    private final FullScaleRun[] fullScale = {new FullScaleRun(), new FullScaleRun()};
    private final boolean[] overloaded = new boolean[2];
    private boolean following;

    private AzimuthMeter(Builder builder) {
        sampleRateHz = builder.sampleRateHz;
        expectedMicroseconds = builder.coarseMicroseconds;
        coarse = builder.coarse;
        geometry = builder.geometry;
        speedCmPerSecond = builder.speedCmPerSecond;
        lossFrequenciesHz = builder.lossFrequenciesHz.clone();
        transform = new CrossTransform(sampleRateHz);
        spectrum = new CrossSpectrum(transform, 1);
        search = new DelaySearch(expectedMicroseconds * MICRO, transform.bins());
        track = new DelayTrack(transform.bins());
        held = new CrossFrame[(int) ((LEAST_SECONDS * sampleRateHz - transform.size()) / transform.hop()) + 1];
        for (int i = 0; i < held.length; i++) {
            held[i] = transform.newFrame();
        }
        splitter = new FrameSplitter(2, transform.size(), transform.hop(), this::analyse);
        running = builder.running
                ? new RunningDelay(transform, transform.hop() / sampleRateHz, expectedMicroseconds * MICRO)
                : null;
    }

    /**
     * Starts the description of a meter.
     *
     * @return a builder
     */
    public static Builder builder() {
        return new Builder();
    }

    /**
     * Takes samples of both channels.
     *
     * @param first samples of channel 1, full scale 1
     * @param second samples of channel 2
     * @param offset first of them in both
     * @param length number of samples of each channel
     */
    public void accept(double[] first, double[] second, int offset, int length) {
        splitter.accept(first, second, offset, length);
    }

    /**
     * Takes two neighbouring channels out of interleaved samples.
     *
     * @param interleaved samples of all channels in turn, full scale 1
     * @param offset first sample of channel 1, before that of channel 2
     * @param stride number of channels
     * @param frames number of samples of each channel
     */
    public void accept(float[] interleaved, int offset, int stride, int frames) {
        splitter.accept(interleaved, offset, stride, frames);
    }

    private void analyse(double[][] samples, long first) {
        watchOverload(samples, first == 0 ? 0 : transform.size() - transform.hop());
        CrossFrame frame = held[(int) (frames() % held.length)];
        transform.transform(samples[0], samples[1], frame);
        if (running != null) {
            running.add(frame);
        }
        if (!spectrum.add(frame)) {
            return;
        }
        if (following) {
            track.add(spectrum, frame);
        }
        long since = frames() - held.length;
        if (since >= 0 && since % FRAMES_PER_LOOK == 0 && search.find(spectrum)) {
            if (following && !track.isElsewhere(search)) {
                track.follow(search);
            } else {
                following = true;
                followFromHeld();
            }
        }
    }

    private long frames() {
        return (long) spectrum.frames();
    }

    private void followFromHeld() {
        track.start(search);
        for (int i = 0; i < held.length; i++) {
            track.add(spectrum, held[(int) ((frames() + i) % held.length)]);
        }
    }

    private void watchOverload(double[][] samples, int from) {
        for (int channel = 0; channel < 2; channel++) {
            double[] ofChannel = samples[channel];
            for (int i = from; i < transform.size(); i++) {
                overloaded[channel] |= fullScale[channel].overloads(ofChannel[i]);
            }
        }
    }

    /**
     * Whether the running delay is known at this moment.
     *
     * @return false without {@link Builder#running()} and where the channels have nothing in common, too
     */
    public boolean hasRunningDelay() {
        return running != null && running.isFound() && splitter.finite();
    }

    /**
     * Sum of the delays of the frames, as each was when it was taken, near that of the last second.
     *
     * @return the sum in us; 0 without {@link Builder#running()}
     */
    public double runningDelaySum() {
        return running == null ? 0 : running.sum() / MICRO;
    }

    /**
     * How many delays {@link #runningDelaySum()} has.
     *
     * @return their number since the start
     */
    public long runningDelayCount() {
        return running == null ? 0 : running.count();
    }

    /**
     * Everything that is known so far.
     *
     * @return delay, wander, then angle and level loss where tracks and speed were given, and polarity
     */
    public List<Reading> readings() {
        Status status = status();
        List<Reading> readings = new ArrayList<>();
        if (status != Status.VALID) {
            readings.add(Reading.without(AZIMUTH_DELAY, status, DELAY_METHOD));
            readings.add(Reading.without(AZIMUTH_WANDER, status, WANDER_METHOD));
            if (geometry != null) {
                readings.add(Reading.without(AZIMUTH_ANGLE, status, ANGLE_METHOD));
                for (double hertz : lossFrequenciesHz) {
                    readings.add(Reading.without(AZIMUTH_LEVEL_LOSS, status, LOSS_METHOD)
                            .atFrequency(hertz));
                }
            }
            readings.add(Reading.without(CHANNEL_POLARITY, status, POLARITY_METHOD));
            return List.copyOf(readings);
        }
        boolean tracked = following && !track.isEmpty() && !track.isElsewhere(search);
        double delay = (tracked ? track.meanDelay() : search.delay()) / MICRO;
        double halfWidth = COVERAGE_FACTOR * Math.sqrt(spectrum.varianceByCoherence());
        if (tracked && track.halfWidth() < Double.POSITIVE_INFINITY) {
            halfWidth = Math.max(halfWidth, track.halfWidth());
        }
        halfWidth /= MICRO;
        readings.add(Reading.valid(AZIMUTH_DELAY, delay, DELAY_METHOD)
                .withTypeA(StandardUncertainty.ofHalfWidth(halfWidth)));
        boolean wanderKnown = tracked
                && track.framesOfRange() >= WANDER_FRAMES
                && splitter.received() >= WANDER_SECONDS * sampleRateHz;
        readings.add(
                wanderKnown
                        ? Reading.valid(AZIMUTH_WANDER, track.wander() / MICRO, WANDER_METHOD)
                                .withTypeA(wanderUncertainty())
                        : Reading.without(AZIMUTH_WANDER, Status.INSUFFICIENT_DATA, WANDER_METHOD));
        if (geometry != null) {
            addAngle(readings, geometry, delay, halfWidth);
        }
        readings.add(
                search.polarityTold()
                        ? Reading.valid(CHANNEL_POLARITY, search.polarity(), POLARITY_METHOD)
                        : Reading.without(CHANNEL_POLARITY, Status.AMBIGUOUS, POLARITY_METHOD));
        return List.copyOf(readings);
    }

    private void addAngle(List<Reading> readings, TrackGeometry tracks, double delay, double halfWidth) {
        double angle = tracks.angleArcminutes(delay, speedCmPerSecond);
        double spread = tracks.angleArcminutes(delay + halfWidth, speedCmPerSecond)
                - tracks.angleArcminutes(delay - halfWidth, speedCmPerSecond);
        readings.add(Reading.valid(AZIMUTH_ANGLE, angle, ANGLE_METHOD)
                .withTypeA(StandardUncertainty.ofHalfWidth(spread / 2)));
        for (double hertz : lossFrequenciesHz) {
            double loss = Math.abs(angle) <= MOST_ARCMINUTES
                    ? tracks.azimuthLossDb(angle, hertz, speedCmPerSecond)
                    : Double.POSITIVE_INFINITY;
            // At a null of the loss there is no level to speak of.
            Reading reading = loss < Double.POSITIVE_INFINITY
                    ? Reading.valid(AZIMUTH_LEVEL_LOSS, loss, LOSS_METHOD)
                            .withTypeA(lossUncertainty(tracks, Math.abs(angle), spread / 2, hertz))
                    : Reading.without(AZIMUTH_LEVEL_LOSS, Status.AMBIGUOUS, LOSS_METHOD);
            readings.add(reading.atFrequency(hertz));
        }
    }

    /**
     * The range of normally distributed values is known to 0.965 of itself over the root of their number; frames of a wander
     * that lasts for about a second tell no more than the seconds.
     */
    private StandardUncertainty wanderUncertainty() {
        double seconds = splitter.received() / sampleRateHz;
        return new StandardUncertainty(RANGE_SHARE * track.wander() / MICRO / Math.sqrt(seconds), seconds);
    }

    /** By the steeper side, since the loss has its least at no error. */
    private StandardUncertainty lossUncertainty(TrackGeometry tracks, double angle, double halfWidth, double hertz) {
        double outer = Math.min(MOST_ARCMINUTES, angle + halfWidth);
        double more = tracks.azimuthLossDb(outer, hertz, speedCmPerSecond);
        double less = tracks.azimuthLossDb(Math.min(angle, outer), hertz, speedCmPerSecond);
        return StandardUncertainty.ofHalfWidth(
                more < Double.POSITIVE_INFINITY ? Math.abs(more - less) : Math.abs(less));
    }

    private Status status() {
        if (!splitter.finite()) {
            return Status.INVALID_INPUT;
        }
        if (splitter.received() < LEAST_SECONDS * sampleRateHz) {
            return Status.INSUFFICIENT_DATA;
        }
        double ratio = spectrum.powerRatio();
        if (frames() == 0 || !(ratio <= MOST_POWER_RATIO && ratio >= 1 / MOST_POWER_RATIO)) {
            return Status.NO_CARRIER;
        }
        if (frames() < held.length) {
            return Status.INSUFFICIENT_DATA;
        }
        return spectrum.highestCommonHz() > CrossSpectrum.HUM_TO_HZ && search.find(spectrum)
                ? Status.VALID
                : Status.AMBIGUOUS;
    }

    /**
     * What the reader of the readings must know.
     *
     * @return the warnings
     */
    public List<Warning> warnings() {
        List<Warning> warnings = new ArrayList<>();
        if (!splitter.finite()) {
            warnings.add(Warning.of(WarningCode.INVALID_SAMPLE, "a sample is no finite number"));
        }
        for (int channel = 0; channel < 2; channel++) {
            if (overloaded[channel]) {
                warnings.add(Warning.of(WarningCode.OVERLOAD, "three or more samples in a row stand at full scale")
                        .onChannel(channel + 1));
            }
        }
        if (status() == Status.VALID) {
            if (!coarse && (search.wholeCycle() > 0 || !search.polarityTold())) {
                warnings.add(Warning.of(WarningCode.WHOLE_CYCLE, ambiguity()));
            }
            if (search.polarityTold() && search.polarity() < 0) {
                warnings.add(Warning.of(WarningCode.OPPOSITE_POLARITY, "one of the two channels is inverted"));
            }
        }
        return List.copyOf(warnings);
    }

    private String ambiguity() {
        boolean cycles = search.wholeCycle() > 0;
        String message = String.format(
                Locale.ROOT,
                cycles ? "the delay is known up to whole cycles of %.3f us" : "a cycle of the signal takes %.3f us",
                (cycles ? search.wholeCycle() : search.period()) / MICRO);
        return search.polarityTold() ? message : message + "; if one channel is inverted it is half a cycle away";
    }

    /** Forgets everything but the settings. */
    public void reset() {
        splitter.reset();
        spectrum.reset();
        if (running != null) {
            running.reset();
        }
        following = false;
        for (int channel = 0; channel < 2; channel++) {
            fullScale[channel].reset();
            overloaded[channel] = false;
        }
    }

    /** Describes a meter. */
    public static final class Builder {
        private double sampleRateHz;
        private boolean coarse;
        private boolean running;
        private double coarseMicroseconds;
        private @Nullable TrackGeometry geometry;
        private double speedCmPerSecond;
        private double[] lossFrequenciesHz = {10_000};

        private Builder() {}

        /**
         * The sampling rate; it must be given.
         *
         * @param hertz rate in Hz, 8000 to 192000
         * @return this builder
         */
        public Builder sampleRateHz(double hertz) {
            sampleRateHz = Require.inRange("sampleRateHz", hertz, 8000, 192_000);
            return this;
        }

        /**
         * A delay that is known within half a cycle, from a recording of a lower frequency: the reading is that nearest to
         * it, without the warning of whole cycles.
         *
         * @param microseconds delay in us, -2000 to 2000
         * @return this builder
         */
        public Builder coarseDelayMicroseconds(double microseconds) {
            coarseMicroseconds = Require.inRange("coarseDelayMicroseconds", microseconds, -2000, 2000);
            coarse = true;
            return this;
        }

        /**
         * Keeps a running delay too, which follows a head while it is turned: see {@link #runningDelaySum()}.
         *
         * @return this builder
         */
        public Builder running() {
            running = true;
            return this;
        }

        /**
         * The tracks and the speed, which give the angle and what it costs.
         *
         * @param tracks a pair of tracks
         * @param speed tape speed in cm/s, above 0
         * @return this builder
         */
        public Builder tracks(TrackGeometry tracks, double speed) {
            if (tracks.spacingMillimetres().isEmpty()) {
                throw new IllegalArgumentException(
                        "tracks " + tracks.name() + " are no pair: there is no delay between");
            }
            geometry = tracks;
            speedCmPerSecond = Require.positive("speedCmPerSecond", speed);
            return this;
        }

        /**
         * The frequencies at which the loss of level is read; 10 kHz without this call. Without tracks none is read.
         *
         * @param hertz frequencies in Hz, above 0
         * @return this builder
         */
        public Builder levelLossAtHz(double... hertz) {
            lossFrequenciesHz = hertz.clone();
            for (int i = 0; i < hertz.length; i++) {
                Require.positive("levelLossAtHz " + i, hertz[i]);
            }
            return this;
        }

        /**
         * Makes the meter.
         *
         * @return a meter that has taken nothing yet
         */
        public AzimuthMeter build() {
            if (sampleRateHz == 0) {
                throw new IllegalStateException("sampleRateHz was not given");
            }
            return new AzimuthMeter(this);
        }
    }
}
