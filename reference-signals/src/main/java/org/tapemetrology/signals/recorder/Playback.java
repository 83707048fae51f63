/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.Objects;
import java.util.SplittableRandom;
import org.tapemetrology.signals.Decibels;
import org.tapemetrology.signals.internal.Require;

/**
 * A tape in replay: samples in order, the same for any division into blocks. A trimmer turned between two blocks is heard
 * from the next on. Thread-confined together with its machine.
 *
 * <p>Samples are relative to full scale 1. The numbers of machine and tape were checked when these were made, so
 * samples are finite; what was not finite when it was recorded spoils what comes back.
 */
public final class Playback {
    private static final int HALF = 63;
    private static final double WINDOW = 4;
    private static final int BLOCK = 512;
    private static final double THIRD_OF_HUM = Decibels.toRatio(-10);

    private final VirtualRecorder machine;
    private final TapeReader tape;
    private final double sampleRateHz;
    private final int channels;
    private final GapReader gaps;
    private final TransportPass transport;
    private final SymmetricFilter[] filters;
    private final GaussianNoise[] noises;
    private final Oscillator wander;
    private final Oscillator hum;
    private final Oscillator humThird;
    private final double step;
    private final double reference;
    private final double noise;
    private final double humAmplitude;
    private final double crosstalk;
    private final double[][] outputs;
    private long adjustments = -1;
    /** Half of the distance between the gaps along the tape, in samples of the tape. */
    private double offset;

    private double offsetOfWander;
    private double position;

    Playback(VirtualRecorder machine, TapeReader tape, double sampleRateHz, SplittableRandom seeds) {
        Require.within("sampling rate in Hz", sampleRateHz, 44_100, 192_000);
        this.machine = machine;
        this.tape = tape;
        this.sampleRateHz = sampleRateHz;
        channels = machine.channels();
        transport = new TransportPass(machine.transport(), machine.error(TrimmerLaws.SPEED), seeds, sampleRateHz);
        step = VirtualRecorder.TAPE_RATE / sampleRateHz;
        filters = new SymmetricFilter[channels];
        noises = new GaussianNoise[channels];
        outputs = new double[channels][BLOCK];
        for (int track = 0; track < channels; track++) {
            filters[track] = new SymmetricFilter(HALF, sampleRateHz, WINDOW, 1);
            noises[track] = new GaussianNoise(seeds.split());
        }
        Electronics electronics = machine.electronics();
        reference = Decibels.toRatio(electronics.referenceDbfs());
        noise = reference * Decibels.toRatio(electronics.noiseDb()) / Math.sqrt(2);
        humAmplitude = reference * Decibels.toRatio(electronics.humDb());
        crosstalk = Decibels.toRatio(electronics.crosstalkDb());
        double humPhase = 2 * Math.PI * seeds.nextDouble();
        hum = new Oscillator(electronics.mainsHz(), humPhase, 0, sampleRateHz);
        humThird = new Oscillator(3 * electronics.mainsHz(), 3 * humPhase, 0, sampleRateHz);
        wander = new Oscillator(machine.heads().wanderHz(), 2 * Math.PI * seeds.nextDouble(), 0, sampleRateHz);
        gaps = new GapReader(tape, channels, HALF * step);
        position = -HALF * step;
        adjust();
        int before = pull(2 * HALF);
        for (int track = 0; track < channels; track++) {
            filters[track].filter(outputs[track], outputs[track], before);
        }
    }

    /**
     * Number of channels.
     *
     * @return 1 or 2
     */
    public int channels() {
        return channels;
    }

    /**
     * Sampling rate.
     *
     * @return the rate in Hz
     */
    public double sampleRateHz() {
        return sampleRateHz;
    }

    /**
     * Reads the next samples.
     *
     * @param interleaved array that is filled, channel after channel within each frame; full scale is 1, and beyond it is
     *     not clipped
     * @param offset place of the first sample
     * @param frames number of frames wanted
     * @return number of frames read: fewer at the end of the tape, then 0
     */
    public int read(float[] interleaved, int offset, int frames) {
        Objects.checkFromIndexSize(offset, Math.multiplyExact(frames, channels), interleaved.length);
        if (machine.adjustments() != adjustments) {
            adjust();
        }
        int done = 0;
        while (done < frames) {
            int part = pull(Math.min(BLOCK, frames - done));
            if (part == 0) {
                break;
            }
            for (int track = 0; track < channels; track++) {
                filters[track].filter(outputs[track], outputs[track], part);
            }
            amplify(interleaved, offset + done * channels, part);
            done += part;
        }
        return done;
    }

    /**
     * Reads seconds at once.
     *
     * @param seconds how many, at most to the end of the tape
     * @return the samples of each channel
     */
    public double[][] seconds(double seconds) {
        int frames = Math.toIntExact(Math.round(Require.notNegative("duration in s", seconds) * sampleRateHz));
        float[] interleaved = new float[Math.multiplyExact(frames, channels)];
        int read = read(interleaved, 0, frames);
        double[][] samples = new double[channels][read];
        for (int i = 0; i < read; i++) {
            for (int track = 0; track < channels; track++) {
                samples[track][i] = interleaved[i * channels + track];
            }
        }
        return samples;
    }

    /** Moves the tape; what the gaps find is left in {@link #outputs}. Fewer than wanted at the end of the tape. */
    private int pull(int frames) {
        for (int frame = 0; frame < frames; frame++) {
            if (position - (HALF - 1) * step >= tape.length()) {
                return frame;
            }
            double moved = step * transport.next();
            double ahead = offset + offsetOfWander * wander.next();
            for (int track = 0; track < channels; track++) {
                outputs[track][frame] = gaps.flux(track, track == 0 ? ahead : -ahead);
            }
            gaps.advance(moved);
            position += moved;
        }
        return frames;
    }

    private void amplify(float[] interleaved, int offset, int frames) {
        Electronics electronics = machine.electronics();
        int at = offset;
        for (int frame = 0; frame < frames; frame++) {
            double humNow = humAmplitude * (hum.next() + THIRD_OF_HUM * humThird.next());
            for (int track = 0; track < channels; track++) {
                double other = channels == 1 ? 0 : crosstalk * outputs[1 - track][frame];
                double clean = electronics.distorted(outputs[track][frame] + other);
                interleaved[at++] = (float) (reference * clean + humNow + noise * noises[track].next());
            }
        }
    }

    private void adjust() {
        adjustments = machine.adjustments();
        transport.meanSpeed(machine.error(TrimmerLaws.SPEED));
        double samplesPerMm = VirtualRecorder.TAPE_RATE / machine.speedMmPerSecond();
        TrackLayout layout = machine.layout();
        offset = layout.gapOffsetMm(machine.error(TrimmerLaws.REPLAY_AZIMUTH)) / 2 * samplesPerMm;
        offset = Math.max(-GapReader.REACH / 2.0, Math.min(GapReader.REACH / 2.0, offset));
        offsetOfWander = layout.gapOffsetMm(machine.heads().wanderArcmin()) / 2 * samplesPerMm;
        SignalPath path = new SignalPath(machine);
        for (int track = 0; track < channels; track++) {
            int channel = track + 1;
            filters[track].design(hz -> path.replayRatio(channel, hz, tape.azimuthArcmin()));
        }
    }
}
