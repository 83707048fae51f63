/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.tapemetrology.examples.Outcome.run;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Recordings that serve several steps, or that say something only together. The procedures and what is due after a repair:
 * common practice, no source.
 */
class ServiceRecordingsTest {
    private static final String REFERENCE =
            "{\"name\":\"reference\",\"kind\":\"tone\",\"frequencyHz\":1000,\"levelDbfs\":-12,"
                    + "\"seconds\":4},{\"name\":\"pause\",\"kind\":\"pause\",\"seconds\":2}";

    @TempDir
    private Path folder;

    private final List<String> recordings = new ArrayList<>();

    private void recording(String steps, String file, String more) {
        recordings.add(
                "{" + steps + ",\"stage\":\"after\",\"date\":\"2026-11-20\",\"file\":\"" + file + "\"" + more + "}");
    }

    private void tone(String name, double hertz, double dbfs, int channels, int seconds) {
        Outcome made = run(
                "generate",
                "--out",
                folder.resolve(name).toString(),
                "--tone",
                Double.toString(hertz),
                "--level",
                Double.toString(dbfs),
                "--channels",
                Integer.toString(channels),
                "--seconds",
                Integer.toString(seconds),
                "--rate",
                "16000");
        assertThat(made.status()).as(made.err()).isZero();
    }

    /** Writes a programme, and the sound of the same or of another. */
    private void programme(String name, String steps, String soundOf) throws IOException {
        Files.writeString(folder.resolve(name + ".json"), "{\"steps\":[" + steps + "]}");
        Path sent = Files.writeString(folder.resolve(name + "-sent.json"), "{\"steps\":[" + soundOf + "]}");
        Outcome made = run(
                "generate",
                "--programme",
                sent.toString(),
                "--out",
                folder.resolve(name + ".wav").toString(),
                "--rate",
                "16000");
        assertThat(made.status()).as(made.err()).isZero();
    }

    private static String step(String name, double hertz, double dbfs, String channels) {
        return ",{\"name\":\"" + name + "\",\"kind\":\"tone\",\"frequencyHz\":" + hertz + ",\"levelDbfs\":" + dbfs
                + ",\"seconds\":3,\"channels\":\"" + channels + "\"}";
    }

    private Outcome service(int channels, String limits, String more) throws IOException {
        Path file = Files.writeString(
                folder.resolve("service.json"),
                "{\"schema\":\"org.tapemetrology.service/1\",\"machine\":{\"name\":\"deck\",\"heads\":2,\"channels\":"
                        + channels
                        + "},\"setup\":{\"referenceLevelDbfs\":-12},\"limits\":[" + limits
                        + "],\"testTapes\":[{\"name\":\"tape\",\"toneHz\":3150,\"frequencyPercent\":{\"within\":0.02},"
                        + "\"levelDb\":{\"within\":0.05},\"balanceDb\":{\"within\":0.05},\"responseDb\":{\"within\":0.1}},"
                        + "{\"name\":\"full\",\"fullWidth\":true,\"responseDb\":{\"within\":0.1}}],"
                        + "\"converter\":{\"gainDb\":{\"within\":0.02},\"balanceDb\":{\"within\":0.02}},\"recordings\":["
                        + String.join(",", recordings) + "]" + more + "}");
        return run("service", file.toString());
    }

    /**
     * The tone of a 3150 Hz tape stands for 0 dB on the machine's meters, so that one recording serves speed, flutter and
     * level; 0.18 % weighted by the DIN way is an example of a limit that a user enters.
     */
    @Test
    void oneRecordingServesSpeedFlutterAndLevel() throws IOException {
        tone("all.wav", 3150, -12.1, 2, 20);
        recording("\"steps\":[\"speed\",\"flutter\",\"replay-level\"]", "all.wav", ",\"testTape\":\"tape\"");
        Outcome outcome = service(
                2,
                "{\"quantity\":\"speed.error\",\"lower\":-1,\"upper\":1},"
                        + "{\"quantity\":\"flutter.weighted.quasi-peak\",\"upper\":0.18},"
                        + "{\"quantity\":\"level.re-reference\",\"lower\":-0.5,\"upper\":0.5},"
                        + "{\"quantity\":\"channel.balance\",\"lower\":-0.5,\"upper\":0.5}",
                "");
        assertThat(outcome.out())
                .as(outcome.err())
                .containsPattern("speed +before: - +after: pass")
                .containsPattern("flutter +before: - +after: pass")
                .containsPattern("replay-level +before: - +after: pass");
    }

    /** Parts of a programme feed steps; a full-width tape is not judged below 500 Hz, where this one is 5 dB high. */
    @Test
    void aProgrammeFeedsLevelAndResponse() throws IOException {
        String after =
                step("low", 125, -20, "both") + step("middle", 1000, -20, "both") + step("high", 4000, -20, "both");
        programme(
                "tape",
                REFERENCE + after,
                REFERENCE + after.replace("125.0,\"levelDbfs\":-20", "125.0,\"levelDbfs\":-15"));
        String limits = "{\"quantity\":\"level.re-reference\",\"lower\":-0.5,\"upper\":0.5},"
                + "{\"quantity\":\"response\",\"fromHz\":63,\"toHz\":6300,\"lower\":-2,\"upper\":2}";
        String entry = ",\"programme\":\"tape.json\",\"parts\":{\"replay-level\":[\"reference\"]}";
        recording("\"steps\":[\"replay-level\",\"replay-response\"]", "tape.wav", entry + ",\"testTape\":\"tape\"");
        assertThat(service(2, limits, "").out())
                .containsPattern("replay-level +before: - +after: pass")
                .containsPattern("replay-response +before: - +after: fail");
        recordings.clear();
        recording("\"steps\":[\"replay-level\",\"replay-response\"]", "tape.wav", entry + ",\"testTape\":\"full\"");
        assertThat(service(2, limits, "").out())
                .containsPattern("replay-response +before: - +after: pass")
                .contains("below 500 Hz its response reads high by fringing");
    }

    /** Level over bias as a parabola of 0.3 dB a step about 5: at 8 it has dropped by 2.7 dB, smoothing apart. */
    @Test
    void repeatedPassesMakeABiasCurve() throws IOException {
        for (int bias : new int[] {1, 2, 3, 4, 5, 6, 7, 9, 8}) {
            tone("bias-" + bias + ".wav", 6300, -12 - 0.3 * (bias - 5) * (bias - 5), 2, 4);
            recording("\"step\":\"bias\"", "bias-" + bias + ".wav", ",\"nominalHz\":6300,\"bias\":" + bias);
        }
        String limits = "{\"quantity\":\"bias.drop\",\"lower\":1.5,\"upper\":3.5}";
        assertThat(service(2, limits, "").out())
                .containsPattern("bias +before: - +after: pass")
                .containsPattern("highest level at a bias of (4.9|5.0)")
                .contains("for a drop of 2.50 dB set it to 7.");
        recordings.subList(3, 9).clear();
        assertThat(service(2, limits, "").out())
                .containsPattern("bias +before: - +after: undecided")
                .contains("3 biases make no curve");
    }

    /** With the noise reduction one of the tones comes back 2 dB higher, which is beyond 1 dB. */
    @Test
    void compandingIsComparedWithAndWithout() throws IOException {
        String tones = step("loud", 400, -16, "both") + step("soft", 4000, -30, "both");
        programme("off", REFERENCE + tones, REFERENCE + tones);
        programme("on", REFERENCE + tones, REFERENCE + tones.replace("-30", "-28"));
        String more =
                ",\"programme\":\"off.json\",\"parts\":{\"companding-noise-reduction\":[\"reference\",\"loud\",\"soft\"]}";
        recording("\"step\":\"companding-noise-reduction\"", "off.wav", more + ",\"companding\":\"off\"");
        recording("\"step\":\"companding-noise-reduction\"", "on.wav", more + ",\"companding\":\"on\"");
        String limits = "{\"quantity\":\"companding.tracking\",\"lower\":-1,\"upper\":1},"
                + "{\"quantity\":\"level.re-reference\",\"lower\":-2,\"upper\":2}";
        assertThat(service(2, limits, "").out())
                .containsPattern("companding-noise-reduction +before: - +after: fail")
                .containsPattern("fail companding.tracking \\(companding.tracking at 4000 Hz, channel 1\\): 2.00")
                .containsPattern("pass companding.tracking \\(companding.tracking at 400.0 Hz, channel 2\\): 0.00")
                .containsPattern("pass level.re-reference");
        recordings.remove(0);
        assertThat(service(2, limits, "").out())
                .containsPattern("companding-noise-reduction +before: - +after: undecided")
                .contains("no recording without the companding noise reduction");
    }

    /** One channel has no delay: the head is turned through the peak, and set where it was. */
    @Test
    void azimuthOfAMonoMachineGoesByThePeak() throws IOException {
        double[] levels = {-15, -12, -14, -12.1};
        for (int i = 0; i < levels.length; i++) {
            tone("turn-" + i + ".wav", 6300, levels[i], 1, 4);
            recording("\"step\":\"replay-azimuth\"", "turn-" + i + ".wav", ",\"nominalHz\":6300");
        }
        String limits = "{\"quantity\":\"azimuth.level-drop\",\"upper\":0.3},"
                + "{\"quantity\":\"azimuth.delay\",\"lower\":-10,\"upper\":10}";
        assertThat(service(1, limits, "").out())
                .containsPattern("replay-azimuth +before: - +after: pass")
                .doesNotContain("azimuth.delay");
        recordings.subList(2, 4).clear();
        assertThat(service(1, limits, "").out())
                .containsPattern("replay-azimuth +before: - +after: undecided")
                .contains("the peak is not passed yet");
    }

    /** A repair of the electronics makes the replay level due again, until it is measured anew. */
    @Test
    void aRepairOfTheElectronicsMakesTheReplayLevelDue() throws IOException {
        tone("level.wav", 3150, -12, 2, 5);
        String limits = "{\"quantity\":\"level.re-reference\",\"lower\":-0.5,\"upper\":0.5},"
                + "{\"quantity\":\"channel.balance\",\"lower\":-0.5,\"upper\":0.5}";
        recording("\"step\":\"replay-level\"", "level.wav", ",\"time\":\"10:00\",\"testTape\":\"tape\"");
        String repair = ",\"repairs\":[{\"kind\":\"electronics\",\"what\":\"new capacitors\",\"date\":\"2026-11-20\","
                + "\"time\":\"11:00\"}]";
        assertThat(service(2, limits, "").out()).containsPattern("replay-level +before: - +after: pass");
        assertThat(service(2, limits, repair).out())
                .containsPattern("replay-level +before: - +after: undecided")
                .contains("due again: electronics repaired on 2026-11-20 (new capacitors)");
        recording("\"step\":\"replay-level\"", "level.wav", ",\"time\":\"12:00\",\"testTape\":\"tape\"");
        assertThat(service(2, limits, repair).out()).containsPattern("replay-level +before: - +after: pass");
        Outcome again = run(
                "service",
                folder.resolve("service.json").toString(),
                "--repair",
                "electronics",
                "--done",
                "a trimmer changed");
        assertThat(again.out()).as(again.err()).contains("(a trimmer changed)");
    }

    /** Another tape, swapped channels and a mono recording are told, and everything else is still judged. */
    @Test
    void doubtfulRecordingsAreToldAndTheRestIsJudged() throws IOException {
        tone("other.wav", 1000, -12, 2, 5);
        tone("mono.wav", 3150, -12, 1, 5);
        String sides = step("first", 1000, -12, "left")
                + step("second", 1000, -12, "right")
                + step("third", 2000, -12, "left");
        programme(
                "sides",
                REFERENCE + sides,
                REFERENCE
                        + sides.replace("left", "LEFT").replace("right", "left").replace("LEFT", "right"));
        recording("\"step\":\"speed\"", "other.wav", ",\"testTape\":\"tape\"");
        recording("\"step\":\"replay-level\"", "mono.wav", ",\"testTape\":\"tape\"");
        recording("\"step\":\"separation\"", "sides.wav", ",\"programme\":\"sides.json\"");
        recording("\"step\":\"replay-response\"", "other.wav", ",\"programme\":\"level-and-response\"");
        Outcome outcome = service(
                2,
                "{\"quantity\":\"speed.error\",\"lower\":-1,\"upper\":1},{\"quantity\":\"separation\",\"lower\":20},"
                        + "{\"quantity\":\"level.re-reference\",\"lower\":-0.5,\"upper\":0.5}",
                "");
        assertThat(outcome.status()).isZero();
        assertThat(outcome.out())
                .contains("is not that of tape, 3150.0 Hz: a wrong tape")
                .contains("the recording has one channel and the machine two")
                .contains("pass level.re-reference")
                .contains("the channels are swapped")
                .contains("is this another tape?")
                .containsPattern("speed +before: - +after: undecided")
                .containsPattern("separation +before: - +after: undecided");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "\"step\":\"bias\" | x | recordings[0].bias is missing",
                "\"steps\":[\"speed\",\"cleaning\"] | x | recordings[0].steps[1] cleaning is entered",
                "\"steps\":[] | x | recordings[0].steps names none",
                "\"step\":\"replay-level\" | ,\"programme\":\"record-side\" | recordings[0].parts.replay-level is missing",
                "\"step\":\"noise\" | ,\"programme\":\"record-side\",\"parts\":{\"noise\":[\"hiss\"]} | recordings[0].parts.noise \"hiss\" is none of",
                "\"step\":\"noise\" | ,\"parts\":{\"noise\":[\"hiss\"]} | recordings[0].parts are those of a programme",
                "\"step\":\"noise\" | ,\"programme\":\"nowhere.json\" | recordings[0].programme : ",
                "\"step\":\"companding-noise-reduction\" | ,\"programme\":\"record-side\",\"parts\":{\"companding-noise-reduction\":[\"end\"]} | recordings[0].companding is missing",
                "\"step\":\"noise\" | ,\"time\":\"noon\" | recordings[0].time \"noon\" is no time"
            })
    void wrongEntriesNameTheField(String steps, String more, String message) throws IOException {
        recording(steps, "a.wav", more.equals("x") ? "" : more);
        Outcome outcome = service(2, "", "");
        assertThat(outcome.status()).isEqualTo(2);
        assertThat(outcome.err()).contains(message).doesNotContain("Exception");
    }
}
