/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.tapemetrology.examples.files.JsonLine;
import org.tapemetrology.signals.Decibels;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.WhiteNoise;
import org.tapemetrology.signals.wav.WavEncoding;
import org.tapemetrology.signals.wav.WavWriter;

/** A service of an invented machine with short recordings of known truth, before and after its repair. */
final class SampleService {
    static final int RATE = 16_000;
    /** Enough for weighted figures (8 s) and a diagnosis (10 s). */
    static final double SECONDS = 12;

    static final String TRANSPORT = """
            {"tapeSpeedMillimetresPerSecond":47.6,"parts":[
            {"name":"capstan","kind":"capstan","diameterMillimetres":2.0},
            {"name":"pinch roller","kind":"roller","diameterMillimetres":11.5},
            {"name":"motor","kind":"shaft","ratePerSecond":33.3}]}
            """;

    private final Path folder;
    private final List<String> recordings = new ArrayList<>();
    private String machine = "cassette deck 3";
    private String entered = "";
    private int channels = 2;

    SampleService(Path folder) {
        this.folder = folder;
    }

    /** What a tone is like. */
    record Tone(
            double hz,
            double speedErrorPercent,
            double flutterPercent,
            double levelDbfs,
            double balanceDb,
            double delayUs) {
        static Tone of(double speedErrorPercent, double flutterPercent) {
            return new Tone(3150, speedErrorPercent, flutterPercent, -8, 0, 0);
        }
    }

    SampleService named(String name) {
        machine = name;
        return this;
    }

    SampleService mono() {
        channels = 1;
        return this;
    }

    SampleService entered(String entries) {
        entered = entries;
        return this;
    }

    /** Capstan and pinch roller of {@link #TRANSPORT} make the flutter: 23.8 mm/s over their radius times pi. */
    Path write(String name, int ofChannels, Tone tone) throws IOException {
        Path wav = folder.resolve(name);
        List<SampledSignal> signals = new ArrayList<>();
        for (int channel = 0; channel < ofChannels; channel++) {
            double ratio = 1 + tone.speedErrorPercent() / 100;
            FmTone played = FmTone.builder(tone.hz())
                    .amplitude(Decibels.toRatio(tone.levelDbfs() + channel * tone.balanceDb()))
                    .startPhase(-channel * 2 * Math.PI * tone.hz() * tone.delayUs() * 1e-6)
                    .speedError(tone.speedErrorPercent() / 100)
                    .sine(ratio * 47.6 / (Math.PI * 2.0), tone.flutterPercent() / 100)
                    .sine(ratio * 47.6 / (Math.PI * 11.5), tone.flutterPercent() / 300)
                    .build();
            Signal hiss = new WhiteNoise(5 + channel, Decibels.toRatio(-62), RATE);
            signals.add(SampledSignal.of(played.plus(hiss), RATE));
        }
        try (WavWriter writer = WavWriter.to(wav)
                .sampleRateHz(RATE)
                .channels(ofChannels)
                .encoding(WavEncoding.PCM_24)
                .dither(1)
                .create()) {
            writer.write(signals.toArray(new SampledSignal[0]), Math.round(SECONDS * RATE));
        }
        return wav;
    }

    SampleService recording(String step, String stage, String file, String more) {
        recordings.add("{\"step\":\"" + step + "\",\"stage\":\"" + stage + "\",\"date\":\"2026-11-20\",\"file\":\""
                + file + "\"" + (more.isEmpty() ? "" : "," + more) + "}");
        return this;
    }

    /** Adds a recording and makes its file. */
    SampleService recording(String step, String stage, String more, Tone tone) throws IOException {
        String file = step + "-" + stage + "-" + recordings.size() + ".wav";
        write(file, channels, tone);
        return recording(step, stage, file, more);
    }

    /** A whole story: fast, fluttering, out of balance and out of azimuth before; none of it after. */
    SampleService story() throws IOException {
        String tape = "\"testTape\":\"speed tape\"";
        return recording("speed", "before", tape + ",\"position\":\"start\"", Tone.of(1.6, 0.1))
                .recording("speed", "before", tape + ",\"position\":\"end\"", Tone.of(2.0, 0.1))
                .recording("flutter", "before", tape, Tone.of(1.8, 0.3))
                .recording("replay-azimuth", "before", tape, new Tone(3150, 0, 0.05, -8, 0, 40))
                .recording("replay-level", "before", tape, new Tone(3150, 0, 0.05, -10, -1.8, 0))
                .recording("speed", "after", tape + ",\"position\":\"end\"", Tone.of(0.2, 0.05))
                .recording("flutter", "after", tape, Tone.of(0.1, 0.06))
                .recording("replay-azimuth", "after", tape, new Tone(3150, 0, 0.05, -8, 0, 3))
                .recording("replay-level", "after", tape, new Tone(3150, 0, 0.05, -8, 0.1, 0))
                .entered(
                        "{\"step\":\"cleaning\",\"stage\":\"before\",\"date\":\"2026-11-19\",\"name\":\"cleaned and demagnetised\"},"
                                + "{\"step\":\"tape-handling\",\"stage\":\"before\",\"date\":\"2026-11-19\",\"name\":\"take-up torque\","
                                + "\"value\":2.5,\"unit\":\"mN m\",\"lower\":3.5,\"upper\":6},"
                                + "{\"step\":\"tape-handling\",\"stage\":\"after\",\"date\":\"2026-11-21\",\"name\":\"take-up torque\","
                                + "\"value\":4.5,\"unit\":\"mN m\",\"lower\":3.5,\"upper\":6},"
                                + "{\"step\":\"meters\",\"stage\":\"after\",\"date\":\"2026-11-21\",\"name\":\"bias frequency\","
                                + "\"value\":85,\"unit\":\"kHz\"}");
    }

    /** The service file as it stands. */
    String json() {
        return "{\"schema\":\"org.tapemetrology.service/1\",\"machine\":{\"name\":"
                + JsonLine.of(name -> name.writeString(machine))
                + ",\"heads\":2,\"channels\":" + channels + "},"
                + "\"setup\":{\"tapeSpeedMillimetresPerSecond\":47.6,\"trackSpacingMillimetres\":0.9,\"referenceLevelDbfs\":-8,\"mainsHz\":50},"
                + "\"limits\":[{\"quantity\":\"speed.error\",\"lower\":-1,\"upper\":1},"
                + "{\"quantity\":\"flutter.weighted.quasi-peak\",\"upper\":0.18},"
                + "{\"quantity\":\"azimuth.delay\",\"lower\":-15,\"upper\":15},"
                + "{\"quantity\":\"channel.balance\",\"lower\":-1,\"upper\":1},"
                + "{\"quantity\":\"level.re-reference\",\"lower\":-1,\"upper\":1}],"
                + "\"testTapes\":[{\"name\":\"speed tape\",\"toneHz\":3150,\"frequencyPercent\":{\"within\":0.05}}],"
                + "\"converter\":{\"clockPpm\":{\"within\":20}},"
                + "\"recordings\":[" + String.join(",", recordings) + "],\"entered\":[" + entered + "]}";
    }

    Path service() throws IOException {
        return service(json());
    }

    Path service(String json) throws IOException {
        return Files.writeString(folder.resolve("service.json"), json);
    }

    Path transport() throws IOException {
        return Files.writeString(folder.resolve("transport.json"), TRANSPORT);
    }
}
