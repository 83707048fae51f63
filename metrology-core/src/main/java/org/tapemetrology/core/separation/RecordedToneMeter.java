/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

import static org.tapemetrology.core.quantity.Quantity.LEVEL;
import static org.tapemetrology.core.quantity.Quantity.TONE_FREQUENCY;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.fit.RunningMoments;
import org.tapemetrology.core.internal.FrameSplitter;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.level.DigitalLevel;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.tone.FrameSpectrum;

/**
 * Level in dBFS and frequency in Hz of the tone of a reference recording, for {@link ErasureMeter}: mean power in the
 * tone's main lobe and 0.5 % either side, in frames of about a third of a second.
 *
 * <p>Frames where the tone starts, stops or does not prevail are left out. A sample that is not finite makes every
 * reading {@code invalid-input} until {@link #reset()}. Thread-confined.
 *
 * <p>Settling and cost: five frames that count. Memory does not grow. Levels are those of AES17.
 *
 * <p>Not for a level that is judged: that is {@code level} of the facade, with its whole uncertainty.
 */
public final class RecordedToneMeter {
    private static final double LOWEST_TONE_HZ = 80;
    private static final double SEARCH = 0.15;
    private static final double PREVAILS = 0.4;
    private static final int LEAST_FRAMES = 5;
    private static final String METHOD = "mean power of the fundamental within 0.5 %";

    private final double rateHz;
    private final double aboutHz;
    private final FrameSplitter splitter;
    private final FrameSpectrum spectrum;
    private final SteadyFrames steady = new SteadyFrames();
    private final RunningMoments power = new RunningMoments();
    private final RunningMoments frequency = new RunningMoments();
    private double lastPower;
    private double lastHz;

    /**
     * A meter.
     *
     * @param sampleRateHz sampling rate in Hz, 8000 to 192000
     * @param toneHz the tone within 15 %, in Hz, 80 to 0.4 of the sampling rate
     */
    public RecordedToneMeter(double sampleRateHz, double toneHz) {
        this.rateHz = Require.inRange("sampleRateHz", sampleRateHz, 8000, 192000);
        this.aboutHz = Require.inRange("toneHz", toneHz, LOWEST_TONE_HZ, 0.4 * sampleRateHz);
        int length = ToneBand.frameLength(sampleRateHz);
        this.spectrum = new FrameSpectrum(sampleRateHz, length);
        this.splitter = new FrameSplitter(1, length, length / 2, (frame, first) -> analyse(frame[0]));
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

    private void analyse(double[] frame) {
        spectrum.take(frame, 0);
        double toneHz = spectrum.peakHz(aboutHz * (1 - SEARCH), aboutHz * (1 + SEARCH), 0.01 * aboutHz);
        double half = ToneBand.halfHz(toneHz, spectrum.binHz());
        double inside = spectrum.band(toneHz - half, toneHz + half);
        if (inside > PREVAILS * spectrum.band(0, rateHz / 2) && inside >= Double.MIN_NORMAL) {
            if (steady.next(0, inside)) {
                power.add(lastPower);
                frequency.add(lastHz);
            }
            lastPower = inside;
            lastHz = toneHz;
        } else {
            steady.gap();
        }
    }

    /**
     * The tone.
     *
     * @return the tone, empty before some two seconds of it were met, and where a sample was not finite
     */
    public Optional<RecordedTone> tone() {
        return status() == Status.VALID
                ? Optional.of(new RecordedTone(DigitalLevel.ofRms(Math.sqrt(power.mean())), frequency.mean()))
                : Optional.empty();
    }

    /**
     * Level and frequency.
     *
     * @return the readings, in this order
     */
    public List<Reading> readings() {
        Status status = status();
        List<Reading> readings = new ArrayList<>();
        if (status == Status.VALID) {
            RecordedTone tone = tone().orElseThrow();
            readings.add(Reading.valid(LEVEL, tone.level().dbfs(), METHOD).atFrequency(tone.frequencyHz()));
            readings.add(Reading.valid(TONE_FREQUENCY, tone.frequencyHz(), METHOD));
        } else {
            readings.add(Reading.without(LEVEL, status, METHOD));
            readings.add(Reading.without(TONE_FREQUENCY, status, METHOD));
        }
        return readings;
    }

    private Status status() {
        if (!splitter.finite()) {
            return Status.INVALID_INPUT;
        }
        if (power.count() >= LEAST_FRAMES) {
            return Status.VALID;
        }
        boolean longEnough = splitter.received() >= (LEAST_FRAMES + 3) * ToneBand.frameLength(rateHz) / 2.0;
        return power.count() == 0 && longEnough ? Status.NO_CARRIER : Status.INSUFFICIENT_DATA;
    }

    /** Forgets everything but the settings. */
    public void reset() {
        splitter.reset();
        steady.gap();
        power.reset();
        frequency.reset();
    }
}
