/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.tapemetrology.signals.Decibels;
import org.tapemetrology.signals.Signal;

/**
 * The record head at work, sample after sample of the tape: gain and equalisation, saturation, bias law, and what the
 * tape adds. It works at twice the rate of the tape, so that harmonics beyond it leave no aliases behind.
 */
final class RecordPass implements TapeReader {
    /** The emphasis, of a corner from 2 kHz up, dies away within these samples. */
    private static final int CURRENT_HALF = 31;

    private static final double CURRENT_WINDOW = 0;
    private static final int FLUX_HALF = 127;
    private static final double FLUX_WINDOW = 4;
    private static final double FAST_RATE = 2.0 * VirtualRecorder.TAPE_RATE;
    private static final double PASS_HZ = 20_500;
    private static final double STOP_HZ = 23_000;
    private static final double MODULATION_NOISE_HZ = 300;
    private static final int BLOCK = 512;

    private final VirtualRecorder machine;
    private final VirtualTape tape;
    private final long length;
    private final Signal[] inputs;
    private final TransportPass transport;
    private final SymmetricFilter[] currents;
    private final SymmetricFilter[] fluxes;
    private final Saturation[] saturations;
    /** What flows through the head and then stands on the tape, one array per track. */
    private final double[][] flows;

    private final TapeSurface[] surfaces;
    private final GaussianNoise[] noises;
    private final double[] modulation;
    private final double[] lead;
    private final double modulationFeedback;
    private final double modulationDrive;
    private final double hiss;
    private final double inputGain;
    private final double startAzimuth;
    private long adjustments = -1;
    private long produced;
    private long wholeSeconds;
    private double fraction;

    RecordPass(VirtualRecorder machine, VirtualTape tape, double seconds, Signal[] inputs, SplittableRandom seeds) {
        this.machine = machine;
        this.tape = tape;
        this.inputs = inputs.clone();
        length = Math.max(1, Math.round(seconds * VirtualRecorder.TAPE_RATE));
        double speedError = machine.error(TrimmerLaws.SPEED);
        // A step is one of the tape, so a fast machine makes more of them in a second.
        transport = new TransportPass(machine.transport(), speedError, seeds, FAST_RATE * (1 + speedError / 100));
        int channels = inputs.length;
        currents = new SymmetricFilter[channels];
        fluxes = new SymmetricFilter[channels];
        saturations = new Saturation[channels];
        flows = new double[channels][2 * BLOCK];
        surfaces = new TapeSurface[channels];
        noises = new GaussianNoise[channels];
        modulation = new double[channels];
        lead = new double[channels];
        for (int track = 0; track < channels; track++) {
            currents[track] = new SymmetricFilter(CURRENT_HALF, FAST_RATE, CURRENT_WINDOW, 1);
            fluxes[track] = new SymmetricFilter(FLUX_HALF, FAST_RATE, FLUX_WINDOW, 2);
            saturations[track] = new Saturation(0);
            surfaces[track] = new TapeSurface(tape, track);
            noises[track] = new GaussianNoise(seeds.split());
        }
        modulationFeedback = StrictMath.exp(-2 * Math.PI * MODULATION_NOISE_HZ / VirtualRecorder.TAPE_RATE);
        modulationDrive = tape.modulationNoisePercent() / 100 * Math.sqrt(1 - modulationFeedback * modulationFeedback);
        // A tone of amplitude 1 has an RMS value of 1/sqrt(2).
        hiss = Decibels.toRatio(tape.hissDb() + tape.biasNoiseDb()) / Math.sqrt(2);
        inputGain = 1 / Decibels.toRatio(machine.referenceDbfs());
        startAzimuth = machine.recordAzimuthArcmin();
        int warmUp = 2 * (CURRENT_HALF + FLUX_HALF);
        double begin = -(warmUp / 2) / (FAST_RATE * (1 + speedError / 100));
        wholeSeconds = (long) Math.floor(begin);
        fraction = begin - wholeSeconds;
        adjust();
        record(warmUp / 2);
    }

    @Override
    public void read(double[][] tracks, int offset, int count) {
        if (machine.adjustments() != adjustments) {
            adjust();
        }
        for (int done = 0; done < count; done += BLOCK) {
            int part = Math.min(BLOCK, count - done);
            record(part);
            int onTape = (int) Math.max(0, Math.min(part, length - produced));
            for (int track = 0; track < tracks.length; track++) {
                int from = offset + done;
                magnetise(track, tracks[track], from, onTape);
                Arrays.fill(tracks[track], from + onTape, from + part, 0);
            }
            produced += part;
        }
    }

    @Override
    public long length() {
        return length;
    }

    @Override
    public double azimuthArcmin() {
        return startAzimuth;
    }

    /** The whole recording. */
    void drainTo(float[][] tracks) {
        double[][] block = new double[tracks.length][BLOCK];
        for (int from = 0; from < length; from += block[0].length) {
            int count = (int) Math.min(block[0].length, length - from);
            read(block, 0, count);
            for (int track = 0; track < tracks.length; track++) {
                for (int i = 0; i < count; i++) {
                    tracks[track][from + i] = (float) block[track][i];
                }
            }
        }
    }

    private void magnetise(int track, double[] to, int from, int count) {
        double[] flux = flows[track];
        for (int i = 0; i < count; i++) {
            modulation[track] = modulationFeedback * modulation[track] + modulationDrive * noises[track].next();
            to[from + i] = flux[i] * surfaces[track].next() * (1 + modulation[track]) + hiss * noises[track].next();
        }
    }

    /** Two steps of the record head for each sample of the tape; its fluxes are left in {@link #flows}. */
    private void record(int count) {
        int steps = 2 * count;
        for (int i = 0; i < steps; i++) {
            for (int track = 0; track < inputs.length; track++) {
                double moment = fraction + lead[track];
                double whole = Math.floor(moment);
                flows[track][i] = inputGain * inputs[track].at(wholeSeconds + (long) whole, moment - whole);
            }
            fraction += 1 / (FAST_RATE * transport.next());
            if (fraction >= 1) {
                fraction -= 1;
                wholeSeconds++;
            }
        }
        for (int track = 0; track < inputs.length; track++) {
            double[] flow = flows[track];
            currents[track].filter(flow, flow, steps);
            saturations[track].apply(flow, steps);
            fluxes[track].filter(flow, flow, count);
        }
    }

    private void adjust() {
        adjustments = machine.adjustments();
        double speedError = machine.error(TrimmerLaws.SPEED);
        transport.meanSpeed(speedError);
        SignalPath path = new SignalPath(machine);
        // Gaps at the place x of the tape: that of track 2 comes there later by the whole of the offset.
        double offset = machine.layout().gapOffsetMm(machine.recordAzimuthArcmin()) / path.speed();
        for (int track = 0; track < inputs.length; track++) {
            int channel = track + 1;
            lead[track] = inputs.length == 1 ? 0 : (track == 0 ? -offset : offset) / 2;
            // On the tape a frequency of the input stands as if the machine had its nominal speed.
            currents[track].design(hz -> path.recordCurrentRatio(channel, hz * (1 + speedError / 100)));
            fluxes[track].design(hz -> edge(hz)
                    * path.recordedFluxRatio(
                            channel, hz * (1 + speedError / 100), 1000 * machine.speedMmPerSecond() / hz, tape));
            saturations[track] = path.saturation(channel, tape);
        }
    }

    /** What the tape cannot hold ends here, by half a cosine. */
    private static double edge(double hz) {
        if (hz <= PASS_HZ) {
            return 1;
        }
        return hz >= STOP_HZ ? 0 : 0.5 * (1 + StrictMath.cos(Math.PI * (hz - PASS_HZ) / (STOP_HZ - PASS_HZ)));
    }
}
