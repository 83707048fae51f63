/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

import static org.tapemetrology.core.quantity.Quantity.ERASURE;

import java.util.Arrays;
import java.util.OptionalDouble;
import org.tapemetrology.core.fit.RunningMoments;
import org.tapemetrology.core.internal.FrameSplitter;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.tone.FrameSpectrum;

/**
 * Erasure of one channel in dB: power of the recorded tone over that of its residue, selective, as IEC 60094-3 has it
 * (from memory).
 *
 * <p>No loud channel tells the phase of the residue. Its power is that in a narrow band (the window's main lobe of some
 * 20 Hz and 0.5 % either side) less that of the noise beside it, where single lines such as hum are passed over. The band
 * stands where it is strongest within 2 % of the recorded tone's frequency, after the mean of the whole recording. A line of hum
 * inside the band counts as residue: at 1 kHz that is a harmonic of the mains.
 *
 * <p>The uncertainty comes from the scatter of parts of the recording; that of the recorded tone is not in it. A residue
 * that is not known to 2.2 dB has the status {@code insufficient-data} and a method that names the limit: it takes a
 * longer recording. A sample that is not finite makes the reading {@code invalid-input} until {@link #reset()}.
 * Thread-confined.
 *
 * <p>Settling and cost: a weaker residue takes a longer recording. Memory does not grow.
 *
 * <p>Not for a tone that stands on a harmonic of the mains, nor without a recording of the tone before it was erased.
 */
public final class ErasureMeter {
    /** Lower ones leave no room for the noise below them. */
    private static final double LOWEST_TONE_HZ = 120;

    private static final double SEARCH = 0.02;
    /** The noise is taken from the band's edge to so many half-widths from its middle, on either side. */
    private static final int NOISE_HALVES = 3;
    /** A bin of the mean spectrum that exceeds the median by this is a line and no noise. */
    private static final double LINE = 3;

    private static final int LEAST_BATCHES = 16;
    private static final String METHOD = "IEC 60094-3, selective, noise beside the tone taken off";

    private final RecordedTone tone;
    private final int channel;
    private final FrameSplitter splitter;
    private final FrameSpectrum spectrum;
    private final SpectrumBatches batches;
    /** Half-widths in bins: of the band, and of band and noise. */
    private final int half;

    private final int wide;

    /**
     * A meter.
     *
     * @param sampleRateHz sampling rate in Hz, 8000 to 192000
     * @param tone the tone that was erased, of 120 Hz to 0.4 of the sampling rate
     * @param channel number that the reading bears, from 1
     */
    public ErasureMeter(double sampleRateHz, RecordedTone tone, int channel) {
        Require.inRange("sampleRateHz", sampleRateHz, 8000, 192000);
        double toneHz = Require.inRange("tone.frequencyHz", tone.frequencyHz(), LOWEST_TONE_HZ, 0.4 * sampleRateHz);
        Require.inRange("channel", channel, 1, Integer.MAX_VALUE);
        this.tone = tone;
        this.channel = channel;
        int length = ToneBand.frameLength(sampleRateHz);
        this.spectrum = new FrameSpectrum(sampleRateHz, length);
        this.half = (int) Math.ceil(ToneBand.halfHz(toneHz, spectrum.binHz()) / spectrum.binHz());
        this.wide = NOISE_HALVES * half;
        int search = (int) Math.ceil(SEARCH * toneHz / spectrum.binHz());
        int middle = (int) Math.rint(toneHz / spectrum.binHz());
        this.batches = new SpectrumBatches(middle - search - wide, 2 * (search + wide) + 1);
        this.splitter = new FrameSplitter(1, length, length / 2, (frame, first) -> analyse(frame[0]));
    }

    /**
     * Takes samples of the erased recording.
     *
     * @param samples samples
     * @param offset first sample
     * @param count number of samples
     */
    public void accept(double[] samples, int offset, int count) {
        splitter.accept(samples, offset, count);
    }

    /**
     * Takes one channel of the erased recording out of interleaved samples.
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
        batches.add(spectrum);
    }

    /**
     * The erasure.
     *
     * @return the reading, on the channel and at the frequency of the recorded tone
     */
    public Reading reading() {
        Reading reading;
        if (!splitter.finite()) {
            reading = Reading.without(ERASURE, Status.INVALID_INPUT, METHOD);
        } else if (batches.count() < LEAST_BATCHES) {
            reading = Reading.without(ERASURE, Status.INSUFFICIENT_DATA, METHOD);
        } else {
            reading = ratio().reading(ERASURE, METHOD);
        }
        return reading.onChannel(channel).atFrequency(tone.frequencyHz());
    }

    /**
     * The erasure that is exceeded with a confidence of at least 95 %, whether or not the residue itself is known.
     *
     * @return limit in dB; empty before some three seconds, and where there is no residue at all
     */
    public OptionalDouble leastDecibels() {
        return splitter.finite() && batches.count() >= LEAST_BATCHES ? ratio().leastDecibels() : OptionalDouble.empty();
    }

    private PowerRatio ratio() {
        double[] mean = batches.mean();
        int middle = strongestBand(mean);
        double mostNoise = LINE * medianBeside(mean, middle);
        RunningMoments excess = new RunningMoments();
        for (int b = 0; b < batches.count(); b++) {
            excess.add(excess(batches.batch(b), mean, middle, mostNoise));
        }
        double power = tone.level().rms() * tone.level().rms();
        double error = excess.standardDeviation() / Math.sqrt((double) excess.count());
        return PowerRatio.of(excess.mean() / power, error / power, (double) excess.count() - 1);
    }

    /** Found by the middle of the main lobe alone: a line beside the search does not draw the band to itself. */
    private int strongestBand(double[] mean) {
        int core = (int) (FrameSpectrum.MAIN_LOBE_BINS / 2);
        int best = wide;
        double most = -1;
        for (int middle = wide; middle < mean.length - wide; middle++) {
            double sum = 0;
            for (int i = middle - core; i <= middle + core; i++) {
                sum += mean[i];
            }
            if (sum > most) {
                most = sum;
                best = middle;
            }
        }
        return best;
    }

    private double medianBeside(double[] mean, int middle) {
        double[] beside = new double[2 * (wide - half)];
        System.arraycopy(mean, middle - wide, beside, 0, wide - half);
        System.arraycopy(mean, middle + half + 1, beside, wide - half, wide - half);
        Arrays.sort(beside);
        return beside[beside.length / 2];
    }

    /** Power in the band less that of the noise beside it; bins that are lines in the mean do not count as noise. */
    private double excess(double[] batch, double[] mean, int middle, double mostNoise) {
        double inside = 0;
        double noise = 0;
        int bins = 0;
        for (int i = middle - wide; i <= middle + wide; i++) {
            if (Math.abs(i - middle) <= half) {
                inside += batch[i];
            } else if (mean[i] <= mostNoise) {
                noise += batch[i];
                bins++;
            }
        }
        return inside - (2 * half + 1) * noise / bins;
    }

    /** Forgets everything but the settings. */
    public void reset() {
        splitter.reset();
        batches.reset();
    }
}
