/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.tapemetrology.core.internal.FrameSplitter;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;

/**
 * Finds which stretch of a recording is which step of a programme, on a machine up to 5 % off speed, with gaps, dropouts and
 * hum, whether the recording starts late, ends early or was stopped in between.
 *
 * <p>Half-overlapping frames of 80 to 160 ms are cut into segments of one line, steady or gliding, or of any other spectrum.
 * {@link Alignment} lays them against the steps with one speed ratio for all. A step is named where every other explanation
 * of the recording is clearly worse, and where either its time agrees with that of another step that was named or its own
 * length does; otherwise it is not named, and a warning says so. A pause is named by its neighbours and where nothing as
 * loud as a step is in it. A single channel tells no side. Times are known to some 30 ms.
 *
 * <p>What cannot be told is not named: a pause before the first step or after the last, which any silence may be; noise more
 * than 30 dB weaker than it was sent, which may be that of the tape; and steps that follow each other and differ in nothing,
 * or by less than 3 dB alone, which sound like one. Put a pause between such steps, and a tone before the first pause and
 * after the last.
 *
 * <p>Of the whole recording some hundred bytes a segment are kept, and at most 8192 segments. Bit-identical for any block
 * size. A sample that is not finite ends what is looked at, and a warning says so. Never NaN. Thread-confined.
 *
 * <p>Times are in seconds of the recording, levels in dBFS. The method is this library's own; no standard has one.
 *
 * <p>Settling and cost: an answer comes at any time, of the steps that are over by then.
 *
 * <p>Not for a programme that is not known, nor for a machine that is further off speed.
 */
public final class ProgrammeRecogniser {
    /** Lowest sampling rate in Hz. */
    public static final double LOWEST_RATE_HZ = 8000;

    /** Highest sampling rate in Hz. */
    public static final double HIGHEST_RATE_HZ = 192_000;

    private static final double FRAME_SECONDS = 0.08;

    private final Programme programme;
    private final double sampleRateHz;
    private final int channels;
    private final int length;
    private final PairSpectrum spectrum;
    private final Segmenter segmenter;
    private final FrameSplitter splitter;

    /**
     * A recogniser.
     *
     * @param programme what may be in the recording
     * @param sampleRateHz sampling rate in Hz, 8000 to 192 000
     * @param channels 1 or 2 channels; of a recording of more the first two are taken
     */
    public ProgrammeRecogniser(Programme programme, double sampleRateHz, int channels) {
        this.programme = programme;
        this.sampleRateHz = Require.inRange("sampleRateHz", sampleRateHz, LOWEST_RATE_HZ, HIGHEST_RATE_HZ);
        if (channels < 1 || channels > 2) {
            throw new IllegalArgumentException("channels " + channels + " is not in 1 to 2");
        }
        this.channels = channels;
        int size = 1;
        while (size < FRAME_SECONDS * sampleRateHz) {
            size *= 2;
        }
        this.length = size;
        this.spectrum = new PairSpectrum(size);
        this.segmenter = new Segmenter(
                programme, sampleRateHz / size, size / 2 + 1, size / 2.0 / sampleRateHz, size / 2.0 / sampleRateHz);
        this.splitter = new FrameSplitter(channels, size, size / 2, (frame, first) -> {
            spectrum.take(frame);
            segmenter.accept(spectrum);
        });
    }

    /**
     * Takes samples.
     *
     * @param interleaved samples of all channels in turn, full scale 1
     * @param offset first sample of the first frame
     * @param stride channels of the recording, at least those of the recogniser
     * @param frames number of frames
     */
    public void accept(float[] interleaved, int offset, int stride, int frames) {
        splitter.accept(interleaved, offset, stride, frames);
    }

    /**
     * Takes samples of a single channel.
     *
     * @param samples samples, full scale 1
     * @param offset first of them
     * @param count number of them
     */
    public void accept(double[] samples, int offset, int count) {
        requireChannels(1);
        splitter.accept(samples, offset, count);
    }

    /**
     * Takes samples of two channels.
     *
     * @param first samples of channel 1, full scale 1
     * @param second samples of channel 2
     * @param offset first of them
     * @param count number of samples of each channel
     */
    public void accept(double[] first, double[] second, int offset, int count) {
        requireChannels(2);
        splitter.accept(first, second, offset, count);
    }

    private void requireChannels(int given) {
        if (channels != given) {
            throw new IllegalStateException(
                    "samples of " + given + " channels were given, the recogniser has " + channels);
        }
    }

    /**
     * What is known of the recording so far.
     *
     * @return the steps that were recognised, and those that were not
     */
    public Recognition recognition() {
        List<Segment> segments = segmenter.segments();
        Recognition recognition = new StepNaming(
                        programme,
                        segments,
                        new Alignment(programme, segments, sampleRateHz / length, channels == 2),
                        splitter.received() / sampleRateHz)
                .recognition();
        if (splitter.finite()) {
            return recognition;
        }
        List<Warning> warnings = new ArrayList<>(recognition.warnings());
        warnings.add(Warning.of(
                WarningCode.INVALID_SAMPLE,
                String.format(Locale.ROOT, "after a sample that is no finite number nothing is recognised")));
        return new Recognition(
                recognition.found(), recognition.missing(), recognition.speedRatio(), recognition.swapped(), warnings);
    }

    /**
     * The speed ratio so far.
     *
     * @return speed of the machine over that of the programme; empty where nothing was recognised
     */
    public OptionalDouble speedRatio() {
        return recognition().speedRatio();
    }

    /** Forgets everything that was taken. */
    public void reset() {
        splitter.reset();
        segmenter.reset();
    }
}
