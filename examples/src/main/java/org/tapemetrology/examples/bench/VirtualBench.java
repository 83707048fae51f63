/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.bench;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.function.Consumer;
import org.tapemetrology.core.RequestMeter;
import org.tapemetrology.core.alignment.AlignmentPlan;
import org.tapemetrology.core.alignment.Request;
import org.tapemetrology.core.alignment.SentTone;
import org.tapemetrology.core.alignment.Take;
import org.tapemetrology.core.alignment.Turn;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.recorder.Playback;
import org.tapemetrology.signals.recorder.TestTape;
import org.tapemetrology.signals.recorder.Trimmer;
import org.tapemetrology.signals.recorder.VirtualRecorder;
import org.tapemetrology.signals.recorder.VirtualTape;
import org.tapemetrology.signals.wav.WavEncoding;
import org.tapemetrology.signals.wav.WavWriter;

/** A virtual recorder on the table: only its recordings are seen. Every round takes a fresh piece of tape. */
public final class VirtualBench implements Bench {
    /** Sampling rate of the recordings. */
    public static final int RATE_HZ = 48_000;

    private static final int BLOCK = 4800;

    private final VirtualRecorder machine;
    private final VirtualTape tape;
    private final double referenceHz;
    private long pieces;

    /**
     * A bench.
     *
     * @param machine the machine
     * @param pieces start of the random numbers of the pieces of tape
     */
    public VirtualBench(VirtualRecorder machine, long pieces) {
        this.machine = machine;
        this.tape = machine.ratedTape();
        this.referenceHz = machine.referenceHz();
        this.pieces = pieces;
    }

    /**
     * What the maker of machine and tape would say.
     *
     * @return a plan with the tolerances of common practice
     */
    public AlignmentPlan plan() {
        boolean cassette = machine.speedMmPerSecond() < 100;
        int heads = machine.threeHeads() ? 3 : 2;
        double biasHz = cassette ? 6300 : 10_000;
        double drop = tape.biasLaw().overBiasDrop(1000 * machine.speedMmPerSecond() / biasHz);
        return cassette
                ? AlignmentPlan.cassette(heads, machine.channels(), machine.referenceDbfs(), drop)
                : AlignmentPlan.openReel(heads, machine.channels(), machine.referenceDbfs(), drop);
    }

    @Override
    public List<Measurement> perform(Request request, Consumer<String> stopped) {
        turn(request.before(), stopped);
        RequestMeter meter = new RequestMeter(
                request,
                referenceHz,
                RATE_HZ,
                machine.channels(),
                org.tapemetrology.core.uncertainty.TestTape.assumed(),
                Converter.assumed());
        for (int i = 0; i < request.takes().size(); i++) {
            if (i > 0) {
                turn(request.between(), stopped);
            }
            measure(playback(request.source(), request.takes().get(i)), meter);
        }
        return meter.measurements();
    }

    /**
     * Plays or records a take and keeps what comes off the tape, for any meter to measure.
     *
     * @param source test tape or own recording
     * @param take tones and length
     * @param out the WAV file, which must not be there yet
     * @throws IOException where it cannot be written
     */
    public void write(Request.Source source, Take take, Path out) throws IOException {
        write(playback(source, take), out);
    }

    /**
     * Plays a test tape of several sections, each of one tone, without a gap between them.
     *
     * @param sections tones and lengths
     * @param out the WAV file, which must not be there yet
     * @throws IOException where it cannot be written
     */
    public void writeTape(List<Take> sections, Path out) throws IOException {
        pieces++;
        write(tape(sections, 0), out);
    }

    /**
     * Records signals on a fresh piece of tape, replays it and keeps what comes off the tape.
     *
     * @param seconds length of the recording
     * @param out the WAV file, which must not be there yet
     * @param inputs one signal per channel, full scale 1
     * @throws IOException where it cannot be written
     */
    public void writeRecording(double seconds, Path out, Signal... inputs) throws IOException {
        pieces++;
        write(recording(seconds, inputs), out);
    }

    private static void write(Playback playback, Path out) throws IOException {
        int channels = playback.channels();
        float[] block = new float[BLOCK * channels];
        double[][] planes = new double[channels][];
        try (WavWriter writer = WavWriter.to(out)
                .sampleRateHz(RATE_HZ)
                .channels(channels)
                .encoding(WavEncoding.PCM_24)
                .create()) {
            for (int frames = playback.read(block, 0, BLOCK); frames > 0; frames = playback.read(block, 0, BLOCK)) {
                for (int channel = 0; channel < channels; channel++) {
                    planes[channel] = new double[frames];
                    for (int i = 0; i < frames; i++) {
                        planes[channel][i] = block[i * channels + channel];
                    }
                }
                writer.write(planes);
            }
        }
    }

    private void turn(List<Turn> turns, Consumer<String> stopped) {
        for (Turn turn : turns) {
            Trimmer trimmer = machine.trimmer(turn.trimmer());
            trimmer.turn(turn.turns());
            if (trimmer.atStop()) {
                stopped.accept(turn.trimmer());
            }
        }
    }

    private Playback playback(Request.Source source, Take take) {
        double seconds = take.seconds() + 2 * EDGE_SECONDS;
        pieces++;
        if (source == Request.Source.TEST_TAPE) {
            return tape(List.of(take), EDGE_SECONDS);
        }
        Signal[] inputs = new Signal[machine.channels()];
        Arrays.fill(inputs, SentSound.of(take, machine.referenceDbfs()));
        return recording(seconds, inputs);
    }

    /** A test tape of even coating, as such tapes are; each take is longer by the edges, that a hand needs. */
    private Playback tape(List<Take> takes, double edge) {
        TestTape.Builder builder = TestTape.builder()
                .fluxivity(machine.fluxivity())
                .stock(tape.toBuilder(pieces)
                        .jumps(0.2, 0.5)
                        .sensitivityRangeDb(0)
                        .build());
        for (Take take : takes) {
            SentTone tone = take.tones().get(0);
            builder.tone(take.tones().toString(), tone.frequencyHz(), tone.levelDb(), take.seconds() + 2 * edge);
        }
        return machine.replay(builder.build(), RATE_HZ);
    }

    private Playback recording(double seconds, Signal... inputs) {
        VirtualTape piece = tape.toBuilder(pieces).build();
        return machine.threeHeads()
                ? machine.monitor(piece, seconds, RATE_HZ, inputs)
                : machine.replay(machine.record(piece, seconds, inputs), RATE_HZ);
    }

    private void measure(Playback playback, RequestMeter meter) {
        float[] block = new float[BLOCK * machine.channels()];
        int edge = (int) (EDGE_SECONDS * RATE_HZ);
        playback.read(new float[edge * machine.channels()], 0, edge);
        for (int frames = playback.read(block, 0, BLOCK); frames > 0; frames = playback.read(block, 0, BLOCK)) {
            meter.accept(block, 0, frames);
        }
        meter.endTake();
    }
}
