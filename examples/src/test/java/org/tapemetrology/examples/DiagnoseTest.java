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
import org.junit.jupiter.params.provider.CsvSource;

/** The command that names the part at fault, from outside. */
@NullUnmarked // what a JSON object lacks is null, and fails the test that asks for it
class DiagnoseTest {
    private static final String TRANSPORT = """
            {"tapeSpeedMillimetresPerSecond":47.6,"parts":[
            {"name":"capstan","kind":"capstan","diameterMillimetres":2.0},
            {"name":"pinch roller","kind":"roller","diameterMillimetres":11.5},
            {"name":"motor","kind":"shaft","ratePerSecond":33.3},
            {"name":"flywheel","kind":"wheel","drivenBy":"motor","driverDiameterMillimetres":8,"diameterMillimetres":60},
            {"name":"gear","kind":"wheel","drivenBy":"flywheel","driverTeeth":20,"teeth":50,"relativeUncertainty":0.001},
            {"name":"main belt","kind":"belt","lengthMillimetres":210,"speedMillimetresPerSecond":630},
            {"name":"small belt","kind":"belt","lengthMillimetres":120,"drivenBy":"motor","pulleyDiameterMillimetres":6},
            {"name":"take-up pack","kind":"pack","hubRadiusMillimetres":11,"fullRadiusMillimetres":25.2},
            {"name":"erase-head guide","kind":"guide","freeLengthMillimetres":60}]}
            """;

    @TempDir
    private static Path folder;

    private static Path tone;

    @BeforeAll
    static void generate() {
        tone = folder.resolve("tone.wav");
        run(
                "generate",
                "--out",
                tone.toString(),
                "--seconds",
                "45",
                "--rate",
                "44100",
                "--speed-error",
                "1",
                "--flutter",
                "7.65:0.12",
                "--flutter",
                "1.33:0.05",
                "--flutter",
                "700:0.02",
                "--hiss",
                "-60");
    }

    private static Path file(String text) throws IOException {
        return Files.writeString(folder.resolve("transport.json"), text);
    }

    @SuppressWarnings("unchecked")
    private static List<Map<String, Object>> list(Map<String, Object> object, String name) {
        return (List<Map<String, Object>>) object.get(name);
    }

    private static double number(Object value) {
        return ((Number) value).doubleValue();
    }

    /** 1.01 times 47.6 mm/s on 2 mm is 7.65 Hz, on 11.5 mm 1.33 Hz (kinematics). */
    @Test
    void jsonNamesThePartAndWhatItsRepairWins() throws IOException {
        Outcome outcome = run(
                "diagnose",
                "--format",
                "json",
                "--nominal",
                "3150",
                "--transport",
                file(TRANSPORT).toString(),
                tone.toString());
        assertThat(outcome.status()).as(outcome.err()).isZero();
        Map<String, Object> diagnosis = JSON.std.mapFrom(outcome.out());
        assertThat(diagnosis)
                .containsEntry("schema", "org.tapemetrology.diagnosis/1")
                .containsEntry("error", null);
        Map<String, Object> first = list(diagnosis, "components").get(0);
        assertThat(first)
                .containsKeys(
                        "frequencyHz", "peakDeviationPercent", "significance", "parts", "weightedQuasiPeakWithout");
        assertThat(number(first.get("frequencyHz"))).isCloseTo(7.65, within(1e-4));
        assertThat(number(first.get("peakDeviationPercent"))).isCloseTo(0.12, within(0.0005));
        assertThat(number(first.get("significance"))).isGreaterThan(0.995);
        assertThat(list(first, "parts").get(0)).containsEntry("part", "capstan");
        assertThat(number(list(first, "parts").get(0).get("probability"))).isGreaterThan(0.9);
        // What is left is the roller's: 0.05 % at 1.33 Hz, some 5 dB down by the weighting, and noise.
        assertThat(number(first.get("weightedQuasiPeakWithout"))).isBetween(0.02, 0.04);
        assertThat(list(diagnosis, "repairs").get(0)).containsEntry("part", "capstan");
        assertThat(list(diagnosis, "readings")).isNotEmpty();
        // Beyond 470 Hz a component is one of the scrape band; 0.02 % of peak are 0.0141 % of RMS.
        Map<String, Object> resonance = list(diagnosis, "scrape").get(0);
        assertThat(number(resonance.get("frequencyHz"))).isCloseTo(700, within(2.0));
        assertThat(number(resonance.get("rmsDeviationPercent"))).isCloseTo(0.01414, within(0.0005));
    }

    @Test
    void textRanksTheParts() throws IOException {
        Outcome outcome = run("diagnose", "--transport", file(TRANSPORT).toString(), tone.toString());
        assertThat(outcome.status()).as(outcome.err()).isZero();
        assertThat(outcome.out()).contains("capstan", "pinch roller", "7.650 Hz", "what a repair would leave");
        assertThat(outcome.out().indexOf("capstan")).isLessThan(outcome.out().indexOf("pinch roller"));
        assertThat(run("diagnose", tone.toString()).out()).contains("no part explains it");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "{\"parts\":[]} | tapeSpeedMillimetresPerSecond is missing",
                "{\"tapeSpeedMillimetresPerSecond\":47.6} | parts has no part",
                "{\"tapeSpeedMillimetresPerSecond\":47.6,\"parts\":[{\"name\":\"a\"}]} | parts[0].kind is missing",
                "{\"tapeSpeedMillimetresPerSecond\":47.6,\"parts\":[{\"name\":\"a\",\"kind\":\"wheel\",\"drivenBy\":\"b\",\"driverTeeth\":2,\"teeth\":4}]} | drivenBy b is none",
                "{\"tapeSpeedMillimetresPerSecond\":47.6,\"parts\":[{\"name\":\"a\",\"kind\":\"capstan\",\"diameter\":2}]} | parts[0].diameterMillimetres is missing",
                "{\"tapeSpeedMillimetresPerSecond\":47.6,\"parts\":[{\"name\":\"a\",\"kind\":\"capstan\",\"diameterMillimetres\":2,\"size\":2}]} | parts[0].size is not known",
                "{\"tapeSpeedMillimetresPerSecond\":47.6,\"parts\":[{\"name\":\"a\",\"kind\":\"capstn\"}]} | parts[0].kind capstn is none of",
            })
    void aWrongTransportNamesTheField(String text, String message) throws IOException {
        Outcome outcome = run("diagnose", "--transport", file(text).toString(), tone.toString());
        assertThat(outcome.status()).isEqualTo(2);
        assertThat(outcome.err()).contains("transport.json", message).doesNotContain("Exception");
    }

    @Test
    void aRecordingWithoutAToneIsToldAndTheOthersDiagnosed() throws IOException {
        Path silence = folder.resolve("silence.wav");
        run("generate", "--out", silence.toString(), "--seconds", "12", "--level", "-120", "--hiss", "-60");
        Outcome outcome = run("diagnose", "--format", "json", silence.toString(), tone.toString());
        assertThat(outcome.status()).isEqualTo(2);
        assertThat(outcome.out().lines()).hasSize(2);
        assertThat(outcome.err()).contains("silence.wav", "no test tone");
        assertThat(run("diagnose", "--to", "5", tone.toString()).err()).contains("shorter than the 10 s");
        assertThat(run("diagnose").status()).isEqualTo(64);
        assertThat(run("diagnose", "--nominal", "20", tone.toString()).status()).isEqualTo(64);
    }
}
