/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.examples.Outcome.run;

import com.fasterxml.jackson.jr.ob.JSON;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.NullUnmarked;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Test programmes from outside: described, written, recognised and measured. */
@NullUnmarked // what a JSON object lacks is null, and fails the test that asks for it
class ProgrammeTest {
    private static final String PROGRAMME = "{\"name\":\"short\",\"steps\":["
            + "{\"name\":\"reference\",\"kind\":\"tone\",\"frequencyHz\":1000,\"levelDbfs\":-12,\"seconds\":3},"
            + "{\"name\":\"pause\",\"kind\":\"pause\",\"seconds\":2},"
            + "{\"name\":\"low\",\"kind\":\"tone\",\"frequencyHz\":125,\"levelDbfs\":-20,\"seconds\":2.5},"
            + "{\"name\":\"high\",\"kind\":\"tone\",\"frequencyHz\":8000,\"levelDbfs\":-20,\"channels\":\"right\","
            + "\"seconds\":2.5},"
            + "{\"name\":\"sweep\",\"kind\":\"sweep\",\"fromHz\":40,\"toHz\":12500,\"levelDbfs\":-20,\"seconds\":8},"
            + "{\"name\":\"tones\",\"kind\":\"multitone\",\"frequenciesHz\":[100,1000,4000],\"levelDbfs\":-26,"
            + "\"seconds\":4},"
            + "{\"name\":\"noise\",\"kind\":\"pink-noise\",\"levelDbfs\":-20,\"seconds\":5}]}";

    @TempDir
    private static Path folder;

    private static Path description;
    private static Path sound;

    @BeforeAll
    static void generate() throws IOException {
        description = folder.resolve("programme.json");
        Files.writeString(description, PROGRAMME);
        sound = folder.resolve("programme.wav");
        Outcome made = run("generate", "--programme", description.toString(), "--out", sound.toString());
        assertThat(made.status()).as(made.err()).isZero();
    }

    @SuppressWarnings("unchecked")
    private static List<Map<String, Object>> list(Map<String, Object> object, String name) {
        return (List<Map<String, Object>>) object.get(name);
    }

    private static Map<String, Object> measured(String... more) throws IOException {
        String[] line = new String[more.length + 6];
        System.arraycopy(
                new String[] {"measure", "--format", "json", "--programme", description.toString()}, 0, line, 0, 5);
        System.arraycopy(more, 0, line, 5, more.length);
        line[line.length - 1] = sound.toString();
        Outcome outcome = run(line);
        assertThat(outcome.status()).as(outcome.err()).isZero();
        return JSON.std.mapFrom(outcome.out());
    }

    @Test
    void everyStepIsWrittenRecognisedAndMeasured() throws IOException {
        Map<String, Object> measured = measured();
        assertThat(measured).containsEntry("schema", "org.tapemetrology.measurement/1");
        assertThat(list(measured, "steps"))
                .extracting(step -> step.get("name"))
                .containsExactly("reference", "pause", "low", "high", "sweep", "tones", "noise");
        assertThat(list(measured, "readings")).allMatch(reading -> reading.get("step") != null);
        Map<String, Object> level = list(measured, "readings").stream()
                .filter(r ->
                        r.get("step").equals("reference") && r.get("quantity").equals("level"))
                .findFirst()
                .orElseThrow();
        // 24 bits with dither and the edges left out.
        assertThat(((Number) level.get("value")).doubleValue()).isCloseTo(-12, within(0.005));
        assertThat(list(measured, "warnings"))
                .extracting(warning -> warning.get("code"))
                .doesNotContain("step-missing", "step-cut-short", "step-uncertain");
        assertThat(Files.size(sound)).isBetween(27L * 48_000 * 6, 27L * 48_000 * 6 + 200);
    }

    @Test
    void whatIsMissingIsAWarning() throws IOException {
        Map<String, Object> measured = measured("--from", "4", "--to", "19");
        assertThat(list(measured, "warnings"))
                .filteredOn(warning -> warning.get("code").equals("step-missing"))
                .extracting(warning -> warning.get("message").toString())
                .anyMatch(message -> message.contains("step reference"))
                .anyMatch(message -> message.contains("step noise"));
        assertThat(list(measured, "steps")).extracting(step -> step.get("name")).contains("low", "high", "sweep");
    }

    @Test
    void theTableNamesTheSteps() {
        Outcome outcome = run("measure", "--programme", description.toString(), sound.toString());
        assertThat(outcome.status()).as(outcome.err()).isZero();
        assertThat(outcome.out()).contains("step reference: 0.0", "step sweep", "response", "channel 1");
    }

    @ParameterizedTest
    @ValueSource(strings = {"speed-and-azimuth", "level-and-response", "record-side"})
    void builtInProgrammesAreWritten(String name) {
        Path file = folder.resolve(name + ".wav");
        Outcome made = run("generate", "--programme", name, "--out", file.toString(), "--rate", "44100");
        assertThat(made.status()).as(made.err()).isZero();
        assertThat(made.err()).contains("programme " + name).doesNotContain("beyond full scale");
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "{\"steps\":[]}; steps",
                "{\"steps\":[{\"name\":\"a\",\"kind\":\"hiss\",\"seconds\":2}]}; steps[0].kind hiss is none of",
                "{\"steps\":[{\"name\":\"a\",\"kind\":\"tone\",\"levelDbfs\":-9,\"seconds\":2}]}; steps[0].frequencyHz",
                "{\"steps\":[{\"name\":\"a\",\"kind\":\"pause\",\"seconds\":0.1}]}; steps[0].seconds 0.1 is not in",
                "{\"steps\":[{\"name\":\"a\",\"kind\":\"pause\",\"second\":2,\"seconds\":2}]}; steps[0].second is not",
                "{\"steps\":[{\"name\":\"a\",\"kind\":\"pause\",\"seconds\":2}]}; nothing but pauses"
            })
    void aWrongDescriptionNamesTheField(String fileAndMessage) throws IOException {
        String[] parts = fileAndMessage.split("; ", 2);
        Path wrong = folder.resolve("wrong.json");
        Files.writeString(wrong, parts[0]);
        Outcome outcome = run("measure", "--programme", wrong.toString(), sound.toString());
        assertThat(outcome.status()).isEqualTo(2);
        assertThat(outcome.err()).contains("wrong.json", parts[1]).doesNotContain("Exception");
    }

    /** -12 dBFS at the reference alone: the other tones, of -20 dBFS, are not judged by it. */
    @Test
    void aLimitCanBeForOneStep() throws IOException {
        String limit = "{\"limits\":[{\"quantity\":\"level\",\"programmeStep\":\"%s\",\"lower\":-13,\"upper\":-11}]}";
        Path limits = Files.writeString(folder.resolve("step-limits.json"), String.format(limit, "reference"));
        assertThat(list(measured("--limits", limits.toString()), "verdicts"))
                .hasSize(2)
                .allMatch(verdict -> verdict.get("step").equals("reference")
                        && verdict.get("verdict").equals("pass"));
        Files.writeString(limits, String.format(limit, "pause"));
        assertThat(list(measured("--limits", limits.toString()), "verdicts"))
                .extracting(verdict -> verdict.get("verdict"))
                .containsExactly("undecided");
        Files.writeString(limits, String.format(limit, "refrence"));
        Outcome wrong =
                run("measure", "--programme", description.toString(), "--limits", limits.toString(), sound.toString());
        assertThat(wrong.status()).isNotZero();
        assertThat(wrong.err()).contains("programmeStep \"refrence\" of level is none of programme short");
    }

    /** Each step is judged by the limits that speak of it; setup, budgets and verdicts go with every step. */
    @Test
    void stepsAreJudgedAndHaveBudgets() throws IOException {
        Path limits = Files.writeString(
                folder.resolve("limits.json"),
                "{\"limits\":[{\"quantity\":\"level\",\"lower\":-13,\"upper\":-11},"
                        + "{\"quantity\":\"response\",\"fromHz\":63,\"toHz\":400,\"lower\":-3,\"upper\":3},"
                        + "{\"quantity\":\"erasure\",\"lower\":60}]}");
        Path setup = Files.writeString(
                folder.resolve("setup.json"),
                "{\"tapeSpeedMillimetresPerSecond\":47.6,\"trackSpacingMillimetres\":0.9,\"referenceLevelDbfs\":-12,"
                        + "\"testTape\":{\"fullWidth\":true,\"levelDb\":{\"within\":0.1}}}");
        Map<String, Object> measured =
                measured("--limits", limits.toString(), "--budget", "analytic", "--setup", setup.toString());
        assertThat(list(measured, "verdicts"))
                .anyMatch(v -> "reference".equals(v.get("step"))
                        && v.get("quantity").equals("level")
                        && v.get("verdict").equals("pass"))
                .anyMatch(v -> "low".equals(v.get("step")) && v.get("verdict").equals("fail"))
                .anyMatch(v -> v.get("step") == null
                        && v.get("quantity").equals("erasure")
                        && v.get("verdict").equals("undecided"))
                .noneMatch(v -> v.get("quantity").equals("response"));
        assertThat(list(measured, "warnings"))
                .extracting(warning -> warning.get("code"))
                .contains("fringing");
        assertThat(list(measured, "readings"))
                .anyMatch(r -> r.get("quantity").equals("level") && r.get("budget") != null)
                .anyMatch(r -> r.get("quantity").equals("azimuth.angle"))
                .anyMatch(r -> r.get("quantity").equals("level.re-reference")
                        && r.get("status").equals("valid"));
        Outcome table =
                run("measure", "--programme", description.toString(), "--limits", limits.toString(), sound.toString());
        assertThat(table.out()).contains("step reference", "pass", "of no step");
    }

    @Test
    void whatDoesNotGoTogetherIsWrongUsage() {
        Outcome outcome = run("measure", "--programme", "record-side", "--as", "noise", sound.toString());
        assertThat(outcome.status()).isEqualTo(64);
        assertThat(outcome.err()).contains("--programme does not go with");
    }
}
