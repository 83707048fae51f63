/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.fit.CorrelatedMean;
import org.tapemetrology.core.internal.FullScaleRun;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;

/**
 * A meter of the response of one channel: it takes samples as they come, full scale 1, and gives readings of
 * {@link Quantity#RESPONSE} in dB re the level at the reference frequency.
 *
 * <p>Readings are bit-identical for any block size. A sample that is not finite makes every reading
 * {@link Status#INVALID_INPUT} until {@link #reset()}. Three or more consecutive samples at full scale are an overload.
 * Thread-confined: one thread at a time, without locks.
 *
 * <p>Settling and cost: by the kind, see each of them. A response re a reference frequency is that of IEC 60094-3
 * (from memory).
 *
 * <p>Not for a signal of another kind than the meter is for: whatever is fed counts.
 */
public abstract sealed class ResponseMeter
        permits SteppedToneResponse, MultitoneResponse, NoiseResponse, SweepResponse {
    private static final int CONVERSION_BLOCK = 1024;

    private final double sampleRateHz;
    private final int channel;
    private final double referenceHz;
    private final double[] frame;
    private final double[] spectrum;
    private final FrameSpectrum analysis;
    private final double[] conversion = new double[CONVERSION_BLOCK];
    private int filled;
    private final FullScaleRun fullScale = new FullScaleRun();
    private int samplesSinceOverload;
    private boolean invalid;

    ResponseMeter(double sampleRateHz, int channel, double referenceHz, double frameSeconds) {
        this.sampleRateHz = requireSampleRate(sampleRateHz);
        this.channel = requireChannel(channel);
        this.referenceHz = Require.positive("referenceHz", referenceHz);
        int size = FrameSpectrum.sizeFor(frameSeconds, sampleRateHz);
        this.frame = new double[size];
        this.spectrum = new double[size / 2 + 1];
        this.analysis = new FrameSpectrum(size);
        this.samplesSinceOverload = size;
    }

    static double requireSampleRate(double sampleRateHz) {
        return Require.inRange("sampleRateHz", sampleRateHz, 8000, 768000);
    }

    static int requireChannel(int channel) {
        if (channel < 1) {
            throw new IllegalArgumentException("channel " + channel + " is below 1, the first channel");
        }
        return channel;
    }

    /** Frequencies that rise by a least ratio and leave room for a machine that is 5 % fast. */
    static double[] requireRising(List<Double> frequenciesHz, double leastRatio, double sampleRateHz) {
        double[] checked = new double[frequenciesHz.size()];
        for (int i = 0; i < checked.length; i++) {
            checked[i] = Require.inRange("frequency " + i, frequenciesHz.get(i), 20, 0.45 * sampleRateHz);
            if (i > 0) {
                Require.timesTheOneBelow("frequency " + i, checked[i], leastRatio, checked[i - 1]);
            }
        }
        return checked;
    }

    static void requireMember(double referenceHz, double[] frequenciesHz) {
        for (double frequencyHz : frequenciesHz) {
            if (frequencyHz == referenceHz) {
                return;
            }
        }
        throw new IllegalArgumentException("referenceHz " + referenceHz + " is none of the frequencies that were sent");
    }

    /**
     * Takes samples.
     *
     * @param samples samples, full scale 1
     * @param offset first sample
     * @param length number of samples
     */
    public final void accept(double[] samples, int offset, int length) {
        for (int i = offset; i < offset + length; i++) {
            double x = samples[i];
            invalid |= !Double.isFinite(x);
            frame[filled++] = x;
            samplesSinceOverload++;
            if (fullScale.overloads(x)) {
                samplesSinceOverload = 0;
            }
            if (filled == frame.length) {
                frameComplete();
            }
        }
    }

    /**
     * Takes samples.
     *
     * @param samples samples, full scale 1
     * @param offset first sample
     * @param length number of samples
     */
    public final void accept(float[] samples, int offset, int length) {
        acceptInterleaved(samples, offset, length, 1);
    }

    /**
     * Takes one channel of interleaved samples.
     *
     * @param interleaved samples of all channels in turn, full scale 1
     * @param offset the first sample of the channel
     * @param frames number of frames
     * @param channels number of channels, at least 1
     */
    public final void acceptInterleaved(float[] interleaved, int offset, int frames, int channels) {
        for (int done = 0; done < frames; done += CONVERSION_BLOCK) {
            int part = Math.min(CONVERSION_BLOCK, frames - done);
            for (int i = 0; i < part; i++) {
                conversion[i] = interleaved[offset + (done + i) * channels];
            }
            accept(conversion, 0, part);
        }
    }

    private void frameComplete() {
        if (!invalid) {
            analysis.power(frame, 0, spectrum);
            add(spectrum, samplesSinceOverload < frame.length);
        }
        int hop = frame.length / 2;
        System.arraycopy(frame, hop, frame, 0, hop);
        filled = hop;
    }

    /** Takes the power spectrum of the next frame; frames overlap by half. */
    abstract void add(double[] power, boolean overloaded);

    /** Forgets every frame. */
    abstract void clear();

    /** Level of every frequency so far, in the order of the readings. */
    abstract List<ToneLevel> levels();

    abstract String method();

    /**
     * Power of one frequency, or why there is none.
     *
     * @param relativeVariance variance of the power over its square
     * @param degreesOfFreedom how well that variance is known; 0 where it is not known at all
     */
    record ToneLevel(
            double frequencyHz, double power, Status status, double relativeVariance, double degreesOfFreedom) {
        ToneLevel(double frequencyHz, double power, Status status) {
            this(frequencyHz, power, status, 0, 0);
        }

        static ToneLevel without(double frequencyHz, Status status) {
            return new ToneLevel(frequencyHz, 0, status);
        }

        /** A level with what its scatter tells of it. */
        static ToneLevel of(double frequencyHz, CorrelatedMean power) {
            return power.scatter()
                    .map(scatter -> new ToneLevel(
                            frequencyHz,
                            power.mean(),
                            Status.VALID,
                            Math.pow(scatter.standardUncertainty() / power.mean(), 2),
                            scatter.degreesOfFreedom()))
                    .orElse(new ToneLevel(frequencyHz, power.mean(), Status.VALID));
        }

        /**
         * Standard uncertainty in dB of this level re another one, measured at another time: the root of the sum of the
         * variances, with the degrees of freedom of Welch and Satterthwaite (JCGM 100:2008, G.4).
         */
        Optional<StandardUncertainty> uncertaintyRe(ToneLevel reference) {
            if (degreesOfFreedom == 0 || reference.degreesOfFreedom == 0) {
                return Optional.empty();
            }
            double sum = relativeVariance + reference.relativeVariance;
            if (sum == 0) {
                return Optional.of(StandardUncertainty.of(0));
            }
            double freedom = sum
                    * sum
                    / (relativeVariance * relativeVariance / degreesOfFreedom
                            + reference.relativeVariance * reference.relativeVariance / reference.degreesOfFreedom);
            return Optional.of(new StandardUncertainty(10 / StrictMath.log(10) * Math.sqrt(sum), freedom));
        }
    }

    final double binHz() {
        return sampleRateHz / frame.length;
    }

    final int channel() {
        return channel;
    }

    final double sampleRateHz() {
        return sampleRateHz;
    }

    /**
     * The frequency at which the response is 0 dB.
     *
     * @return frequency in Hz
     */
    public final double referenceHz() {
        return referenceHz;
    }

    /**
     * The response so far.
     *
     * @return one reading for each frequency, in the order in which they were sent
     */
    public List<Reading> readings() {
        return relative(checkedLevels(), referenceHz, channel, method());
    }

    /** Levels, none of them after a sample that is not finite. */
    final List<ToneLevel> checkedLevels() {
        List<ToneLevel> levels = levels();
        return invalid
                ? levels.stream()
                        .map(level -> ToneLevel.without(level.frequencyHz(), Status.INVALID_INPUT))
                        .toList()
                : levels;
    }

    /** Readings re the reference; where that has no level, nothing has, for the same reason. */
    static List<Reading> relative(List<ToneLevel> levels, double referenceHz, int channel, String method) {
        ToneLevel reference = levels.stream()
                .filter(level -> level.frequencyHz() == referenceHz)
                .findFirst()
                .orElseThrow();
        List<Reading> readings = new ArrayList<>();
        for (ToneLevel level : levels) {
            Status status = reference.status() != Status.VALID ? reference.status() : level.status();
            Reading reading = status == Status.VALID
                    ? Reading.valid(Quantity.RESPONSE, 10 * StrictMath.log10(level.power() / reference.power()), method)
                    : Reading.without(Quantity.RESPONSE, status, method);
            Reading placed = reading.onChannel(channel).atFrequency(level.frequencyHz());
            readings.add(
                    status == Status.VALID && level.frequencyHz() != referenceHz
                            ? level.uncertaintyRe(reference)
                                    .map(placed::withTypeA)
                                    .orElse(placed)
                            : placed);
        }
        return List.copyOf(readings);
    }

    /** Forgets everything, as if new. */
    public final void reset() {
        filled = 0;
        fullScale.reset();
        samplesSinceOverload = frame.length;
        invalid = false;
        clear();
    }
}
