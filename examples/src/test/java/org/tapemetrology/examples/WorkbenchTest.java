/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.examples.Outcome.run;

import com.fasterxml.jackson.jr.ob.JSON;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.NullUnmarked;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The command line from outside: streams, exit statuses and the machine-readable contract. */
@NullUnmarked // what a JSON object lacks is null, and fails the test that asks for it
class WorkbenchTest {
    @TempDir
    private static Path folder;

    private static Path tone;

    @BeforeAll
    static void generate() {
        tone = folder.resolve("tone.wav");
        Outcome made = run(
                "generate",
                "--out",
                tone.toString(),
                "--seconds",
                "40",
                "--speed-error",
                "0.5",
                "--flutter",
                "4:0.1",
                "--channels",
                "2",
                "--rate",
                "44100");
        assertThat(made.status()).as(made.err()).isZero();
        assertThat(made.out()).isEmpty();
    }

    private static Map<String, Object> json(String line) throws IOException {
        return JSON.std.mapFrom(line);
    }

    @SuppressWarnings("unchecked")
    private static List<Map<String, Object>> list(Map<String, Object> object, String name) {
        return (List<Map<String, Object>>) object.get(name);
    }

    @SuppressWarnings("unchecked")
    private static Map<String, Object> object(Map<String, Object> object, String name) {
        return (Map<String, Object>) object.get(name);
    }

    private static Map<String, Object> reading(Map<String, Object> measurement, String quantity) {
        return list(measurement, "readings").stream()
                .filter(r -> r.get("quantity").equals(quantity))
                .findFirst()
                .orElseThrow(() -> new AssertionError(quantity + " is missing"));
    }

    private static double number(Object value) {
        return ((Number) value).doubleValue();
    }

    @Test
    void jsonFollowsTheContract() throws IOException {
        Outcome outcome = run("measure", "--format", "json", tone.toString());
        assertThat(outcome.status()).isZero();
        assertThat(outcome.err()).isEmpty();
        assertThat(outcome.lines()).hasSize(1);
        Map<String, Object> measured = json(outcome.lines().get(0));
        assertThat(measured.keySet()).containsExactly("schema", "source", "error", "warnings", "readings");
        assertThat(measured)
                .containsEntry("schema", "org.tapemetrology.measurement/1")
                .containsEntry("error", null);
        Map<String, Object> source = object(measured, "source");
        assertThat(source).containsEntry("file", tone.toString());
        assertThat(source).containsEntry("sampleRateHz", 44100).containsEntry("channels", 2);
        assertThat(number(source.get("durationSeconds"))).isEqualTo(40);
        assertThat(list(measured, "warnings"))
                .as("the azimuth of a single tone is known up to whole cycles")
                .extracting(warning -> warning.get("code"))
                .containsExactly("whole-cycle");

        Map<String, Object> quasiPeak = reading(measured, "flutter.weighted.quasi-peak");
        assertThat(quasiPeak.keySet())
                .containsExactly(
                        "quantity",
                        "channel",
                        "value",
                        "unit",
                        "status",
                        "expandedUncertainty",
                        "coverageProbability",
                        "method",
                        "assumed");
        assertThat(quasiPeak)
                .containsEntry("channel", 1)
                .containsEntry("unit", "%")
                .containsEntry("status", "valid")
                .containsEntry("method", "IEC 60386:1972 method 2")
                .containsEntry("coverageProbability", 0.95)
                .containsEntry("assumed", true);
        assertThat(number(quasiPeak.get("expandedUncertainty"))).isBetween(0.001, 0.02);
        // A 4 Hz sine reads its peak; 24-bit dither and the filters' ends leave less than 0.1 % of it.
        assertThat(number(quasiPeak.get("value"))).isCloseTo(0.1, within(0.0001));
        // A part of a flutter period, at most 0.1 % / (2 pi 4 Hz) over 40 s.
        assertThat(number(reading(measured, "speed.error").get("value"))).isCloseTo(0.5, within(0.0002));
        assertThat(reading(measured, "channel.balance")).containsEntry("channel", null);
        assertThat(object(reading(measured, "flutter.weighted.quasi-peak.maximum"), "at"))
                .containsOnlyKeys("seconds");
    }

    @Test
    void readingsWithoutAValueSayWhy() throws IOException {
        Path silence = folder.resolve("short.wav");
        run("generate", "--out", silence.toString(), "--seconds", "2", "--level", "-20");
        Map<String, Object> measured =
                json(run("measure", "--format", "json", silence.toString()).out());
        assertThat(reading(measured, "flutter.weighted.rms"))
                .containsEntry("value", null)
                .containsEntry("status", "insufficient-data");
        assertThat(number(reading(measured, "level").get("value"))).isCloseTo(-20, within(0.001));
    }

    @Test
    void oneUnreadableFileLeavesTheOthersMeasured() throws IOException {
        Path broken = folder.resolve("broken.wav");
        Files.writeString(broken, "this is no recording at all");
        Outcome outcome =
                run("measure", "--format", "json", tone.toString(), broken.toString(), "nowhere.wav", tone.toString());
        assertThat(outcome.status()).isEqualTo(2);
        assertThat(outcome.lines()).hasSize(4);
        Map<String, Object> failed = json(outcome.lines().get(1));
        assertThat(list(failed, "readings")).isEmpty();
        assertThat(object(failed, "error").get("message").toString())
                .contains("broken.wav")
                .contains("byte");
        assertThat(object(json(outcome.lines().get(2)), "error").get("message").toString())
                .contains("nowhere.wav");
        assertThat(list(json(outcome.lines().get(3)), "readings")).isNotEmpty();
        assertThat(outcome.err()).contains("broken.wav").doesNotContain("Exception");
    }

    @Test
    void aTruncatedFileIsMeasuredUpToWhereItIsWhole() throws IOException {
        byte[] whole = Files.readAllBytes(tone);
        Path cut = folder.resolve("cut.wav");
        Files.write(cut, Arrays.copyOf(whole, whole.length / 2 + 1));
        Outcome outcome = run("measure", "--format", "json", cut.toString());
        assertThat(outcome.status()).isZero();
        Map<String, Object> measured = json(outcome.out());
        assertThat(list(measured, "warnings")).anyMatch(w -> w.get("code").equals("damaged-file"));
        assertThat(reading(measured, "flutter.weighted.rms")).containsEntry("status", "valid");
    }

    @Test
    void aPartIsMeasuredWithTheTimesOfTheWhole() throws IOException {
        Map<String, Object> measured =
                json(run("measure", "--format", "json", "--from", "12", "--to", "30", tone.toString())
                        .out());
        Map<String, Object> highest = reading(measured, "flutter.weighted.quasi-peak.maximum");
        assertThat(number(object(highest, "at").get("seconds"))).isBetween(15.0, 30.0);
        assertThat(reading(measured, "wow.rms")).containsEntry("status", "insufficient-data");
    }

    @Test
    void noiseIsMeasuredWhereAskedFor() throws IOException {
        Path noise = folder.resolve("noise.wav");
        run("generate", "--out", noise.toString(), "--seconds", "12", "--level", "-120", "--hiss", "-60");
        Map<String, Object> measured = json(run("measure", "--format", "json", "--as", "noise", noise.toString())
                .out());
        // White noise of -60 dBFS up to 24 kHz has 22.4/24 of its power, -0.30 dB, below 22.4 kHz; 0.3 dB for the
        // skirt of the band-limiting filter near half the rate.
        assertThat(number(reading(measured, "noise.unweighted").get("value"))).isCloseTo(-60.3, within(0.3));
        assertThat(reading(measured, "noise.a-weighted")).containsEntry("status", "valid");
        assertThat(list(measured, "readings")).anyMatch(r -> r.get("at") != null);
    }

    @Test
    void aRecordingWithoutAToneIsOneOfNoise() throws IOException {
        Path noise = folder.resolve("blank.wav");
        run("generate", "--out", noise.toString(), "--seconds", "12", "--level", "-120", "--hiss", "-60");
        Map<String, Object> measured =
                json(run("measure", "--format", "json", noise.toString()).out());
        assertThat(reading(measured, "noise.quasi-peak")).containsEntry("status", "valid");
        assertThat(reading(measured, "level")).containsEntry("status", "no-carrier");
        assertThat(run("measure", "--reference", tone.toString(), noise.toString())
                        .err())
                .as("a reference of two channels does not go with one of one channel")
                .contains("blank.wav", "2 reference tones");
        Path reference = folder.resolve("reference.wav");
        run("generate", "--out", reference.toString(), "--seconds", "3", "--level", "-20");
        Map<String, Object> re =
                json(run("measure", "--format", "json", "--reference", reference.toString(), noise.toString())
                        .out());
        assertThat(reading(re, "noise.unweighted")).containsEntry("unit", "dB");
        assertThat(number(reading(re, "noise.unweighted").get("value")))
                .isCloseTo(number(reading(measured, "noise.unweighted").get("value")) + 20, within(0.001));
    }

    @Test
    void theSetupGivesVoltageAndLevelReTheReference() throws IOException {
        Path setup = folder.resolve("setup.json");
        Files.writeString(
                setup,
                "{\"fullScaleVolts\":2.0,\"referenceLevelDbfs\":-11,\"mainsHz\":50,\"testTape\":{\"toneHz\":3000}}");
        Map<String, Object> measured =
                json(run("measure", "--format", "json", "--setup", setup.toString(), tone.toString())
                        .out());
        double level = number(reading(measured, "level").get("value"));
        assertThat(number(reading(measured, "level.re-reference").get("value"))).isCloseTo(level + 11, within(1e-9));
        // 0 dBFS is 2 V, which is 20 lg(2 / 0.7745967) = 8.2391 dBu.
        assertThat(number(reading(measured, "level.voltage").get("value"))).isCloseTo(level + 8.2391, within(1e-4));
        assertThat(number(reading(measured, "speed.error").get("value"))).isCloseTo(5.525, within(0.0002));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "{\"mainHz\":50}; mainHz is not known",
                "{\"mainsHz\":500}; mainsHz 500.0 is not in",
                "{\"mainsHz\":\"fifty\"}; mainsHz is no number",
                "{\"testTape\":3150}; testTape is no object",
                "{\"testTape\":{\"tone\":3150}}; testTape.tone is not known",
                "{\"mainsHz\":50,\"mainsHz\":60}; mainsHz",
                "{\"mainsHz\":; not JSON in line 1, column",
                "[1,2]; not JSON",
            })
    void aWrongSetupNamesTheField(String fileAndMessage) throws IOException {
        String[] parts = fileAndMessage.split("; ", 2);
        Path setup = folder.resolve("wrong.json");
        Files.writeString(setup, parts[0]);
        Outcome outcome = run("measure", "--setup", setup.toString(), tone.toString());
        assertThat(outcome.status()).isEqualTo(2);
        assertThat(outcome.out()).isEmpty();
        assertThat(outcome.err()).contains("wrong.json", parts[1]).doesNotContain("Exception");
    }

    @Test
    void nominalDecidesTheSpeedError() throws IOException {
        Map<String, Object> measured = json(run("measure", "--format", "json", "--nominal", "3000", tone.toString())
                .out());
        // 3165.75 Hz re 3000 Hz.
        assertThat(number(reading(measured, "speed.error").get("value"))).isCloseTo(5.525, within(0.0002));
    }

    @Test
    void textTableShowsEveryReading() {
        Outcome outcome = run("measure", tone.toString());
        assertThat(outcome.status()).isZero();
        assertThat(outcome.out())
                .contains("channel 1", "channel 2", "between the channels", "speed.error", "0.5000 +-", "44100 Hz");
    }

    /** A tone of which nobody said what it should be has no speed; how to say it is told beside the table, and only then. */
    @Test
    void aToneNearNoCarrierAsksForItsNominalFrequency() {
        String file = folder.resolve("thousand.wav").toString();
        run("generate", "--tone", "1000", "--seconds", "3", "--out", file);
        assertThat(run("measure", file).out()).contains("no-carrier").contains("--nominal");
        assertThat(run("measure", "--nominal", "1000", file).out()).doesNotContain("--nominal");
        assertThat(run("measure", tone.toString()).out()).doesNotContain("--nominal");
    }

    @Test
    void nothingIsOverwrittenWithoutForce() throws IOException {
        byte[] before = Files.readAllBytes(tone);
        Outcome refused = run("generate", "--out", tone.toString(), "--seconds", "1");
        assertThat(refused.status()).isEqualTo(2);
        assertThat(refused.err()).contains("--force").contains("tone.wav");
        assertThat(Files.readAllBytes(tone)).isEqualTo(before);
        Path other = folder.resolve("forced.wav");
        assertThat(run("generate", "--out", other.toString(), "--seconds", "1").status())
                .isZero();
        assertThat(run("generate", "--out", other.toString(), "--seconds", "2", "--force")
                        .status())
                .isZero();
        assertThat(Files.size(other)).isGreaterThan(2 * 48_000 * 3);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "measure",
                "measure --format xml x.wav",
                "measure --nominal 5 x.wav",
                "measure --nominal fast x.wav",
                "measure --from 5 --to 2 x.wav",
                "measure --as speech x.wav",
                "generate",
                "generate --out x.wav --rate 7",
                "generate --out x.wav --flutter 4",
                "generate --out x.wav --level 3",
                "generate --out x.wav --dropout 1:2:x",
                "report service.json --out report --date yesterday",
                "frobnicate"
            })
    void wrongUsageIs64AndSaysWhatIsWrong(String line) {
        Outcome outcome = run(line.split(" "));
        assertThat(outcome.status()).isEqualTo(64);
        assertThat(outcome.out()).isEmpty();
        assertThat(outcome.err()).isNotBlank().doesNotContain("Exception").doesNotContain("\tat ");
    }

    @Test
    void helpCarriesTheCautions() {
        Outcome outcome = run("--help");
        assertThat(outcome.status()).isZero();
        assertThat(outcome.out()).contains("measure", "generate", "demo", "mains", "demagnetise");
    }
}
