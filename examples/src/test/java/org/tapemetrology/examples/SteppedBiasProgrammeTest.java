/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.conformity.DecisionRule;
import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.examples.bench.VirtualBench;
import org.tapemetrology.examples.files.ProgrammeFile;
import org.tapemetrology.examples.recording.Progress;
import org.tapemetrology.examples.report.Report.Stage;
import org.tapemetrology.examples.service.CombinedFigures;
import org.tapemetrology.examples.service.ServiceFile;
import org.tapemetrology.examples.service.ServiceRecord;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.recorder.BiasLaw;
import org.tapemetrology.signals.recorder.Playback;
import org.tapemetrology.signals.recorder.VirtualRecorder;
import org.tapemetrology.signals.wav.WavEncoding;
import org.tapemetrology.signals.wav.WavWriter;

/**
 * A programme with stepped bias, recorded on a virtual recorder whose bias is turned at every step, then once more with the
 * bias that was chosen: its law of bias is what the figures are held against.
 */
class SteppedBiasProgrammeTest {
    private static final int RATE = VirtualBench.RATE_HZ;
    private static final double HERTZ = 6300;
    /** Re the bias that the tape wants, in dB. */
    private static final double[] BIASES = {-8, -7, -6, -5, -4, -3, -2, -1, 0, 1};

    private static final double CHOSEN = 0.5;

    @TempDir
    private Path folder;

    private static VirtualRecorder machine(double biasDb) {
        return VirtualRecorder.cassette()
                .seed(3)
                .componentError("bias-1", biasDb) // beyond the stops of the trimmer too
                .error("bias-1", biasDb)
                .componentError("bias-2", biasDb)
                .error("bias-2", biasDb)
                .build();
    }

    /** Records a stretch of a signal on both channels with a bias, and writes what comes off the tape. */
    private static void record(Signal signal, double from, double to, double biasDb, WavWriter writer)
            throws IOException {
        VirtualRecorder machine = machine(biasDb);
        Signal stretch = seconds -> signal.at(from + seconds);
        Playback playback = machine.replay(machine.record(machine.ratedTape(), to - from, stretch, stretch), RATE);
        float[] block = new float[2 * RATE];
        for (int frames = playback.read(block, 0, RATE); frames > 0; frames = playback.read(block, 0, RATE)) {
            double[][] planes = new double[2][frames];
            for (int i = 0; i < 2 * frames; i++) {
                planes[i % 2][i / 2] = block[i];
            }
            writer.write(planes);
        }
    }

    private WavWriter writer(String name) throws IOException {
        return WavWriter.to(folder.resolve(name))
                .sampleRateHz(RATE)
                .channels(2)
                .encoding(WavEncoding.PCM_24)
                .create();
    }

    @Test
    void peakAndDropAreThoseOfTheTape() throws IOException {
        List<String> steps = new ArrayList<>();
        steps.add("{\"name\":\"reference\",\"kind\":\"tone\",\"frequencyHz\":1000,\"levelDbfs\":-24,\"seconds\":4}");
        for (int i = 0; i < BIASES.length; i++) {
            steps.add("{\"name\":\"gap " + i + "\",\"kind\":\"pause\",\"seconds\":1.2}");
            steps.add("{\"name\":\"bias " + i + "\",\"kind\":\"tone\",\"frequencyHz\":" + HERTZ
                    + ",\"levelDbfs\":-32,\"seconds\":2}");
        }
        Path file = Files.writeString(folder.resolve("stepped.json"), "{\"steps\":[" + String.join(",", steps) + "]}");
        Programme programme = ProgrammeFile.named(file.toString());
        Signal sent = new ProgrammeSignal(programme, 1);
        try (WavWriter writer = writer("stepped.wav")) {
            record(sent, 0, programme.startSeconds(1), 0, writer);
            for (int i = 0; i < BIASES.length; i++) {
                record(sent, programme.startSeconds(1 + 2 * i), programme.startSeconds(3 + 2 * i), BIASES[i], writer);
            }
        }
        double level = Math.pow(10, -32 / 20.0);
        try (WavWriter writer = writer("chosen.wav")) {
            record(t -> level * Math.sin(2 * Math.PI * HERTZ * t), 0, 5, CHOSEN, writer);
        }
        String parts = String.join(
                ",",
                IntStream.range(0, BIASES.length)
                        .mapToObj(i -> "\"bias " + i + "\"")
                        .toList());
        String biases = String.join(
                ",",
                IntStream.range(0, BIASES.length)
                        .mapToObj(i -> Double.toString(BIASES[i]))
                        .toList());
        String common = "\"step\":\"bias\",\"stage\":\"after\",\"date\":\"2026-11-20\",";
        Path service = Files.writeString(
                folder.resolve("service.json"),
                "{\"schema\":\"org.tapemetrology.service/1\",\"machine\":{\"name\":\"deck\",\"heads\":2,\"channels\":2},"
                        + "\"limits\":[{\"quantity\":\"bias.drop\",\"lower\":-1,\"upper\":8}],\"recordings\":[{"
                        + common
                        + "\"file\":\"stepped.wav\",\"programme\":\"stepped.json\",\"parts\":{\"bias\":[" + parts
                        + "]},\"biases\":[" + biases + "]},{" + common + "\"file\":\"chosen.wav\",\"nominalHz\":"
                        + HERTZ
                        + ",\"bias\":" + CHOSEN + "}]}");

        CombinedFigures figures = ServiceRecord.of(ServiceFile.read(service), DecisionRule.guarded(), Progress.silent())
                .combined(ServiceStep.BIAS, Stage.AFTER)
                .figures();

        BiasLaw law = machine(0).ratedTape().biasLaw();
        double micrometres = 1000 * machine(0).speedMmPerSecond() / HERTZ;
        double peakDb = 20 * Math.log10(law.peakBias(micrometres));
        double chosen = Math.pow(10, CHOSEN / 20);
        double drop = law.overBiasDrop(micrometres) - 20 * Math.log10(law.sensitivityRatio(chosen, micrometres));
        for (int channel = 1; channel <= 2; channel++) {
            Reading reading =
                    figures.measurement().find(Quantity.BIAS_DROP, channel).orElseThrow();
            double half = reading.uncertainty().orElseThrow().halfWidth();
            // Two intervals of 95 %: their half-widths, 0.25 and 0.31 dB when this was written, and a half more.
            assertThat(reading.value().orElseThrow()).isCloseTo(drop, within(1.5 * half));
            assertThat(half).isLessThan(0.6);
        }
        Matcher peaks =
                Pattern.compile("highest level at a bias of (-[0-9.]+)").matcher(String.join("; ", figures.notes()));
        for (int channel = 1; channel <= 2; channel++) {
            assertThat(peaks.find()).isTrue();
            // The top is flat: half a decibel of bias beside the peak is 0.04 dB of level, as much as it jumps in 2 s.
            assertThat(Double.parseDouble(peaks.group(1))).isCloseTo(peakDb, within(0.5));
        }
    }
}
