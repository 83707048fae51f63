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

/** Uncertainties, budgets, verdicts and the check of a converter, from outside. */
@NullUnmarked // what a JSON object lacks is null, and fails the test that asks for it
class AssessmentTest {
    @TempDir
    private static Path folder;

    private static Path tone;
    private static Path noise;

    @BeforeAll
    static void generate() {
        tone = folder.resolve("tone.wav");
        noise = folder.resolve("noise.wav");
        run(
                "generate",
                "--out",
                tone.toString(),
                "--seconds",
                "45",
                "--channels",
                "2",
                "--rate",
                "16000",
                "--speed-error",
                "0.4",
                "--flutter",
                "4:0.1",
                "--hiss",
                "-60");
        run("generate", "--out", noise.toString(), "--seconds", "15", "--level", "-200", "--hiss", "-60");
    }

    private static Path file(String name, String text) throws IOException {
        return Files.writeString(folder.resolve(name), text);
    }

    private static Map<String, Object> measured(String... more) throws IOException {
        String[] arguments = new String[more.length + 4];
        arguments[0] = "measure";
        arguments[1] = "--format";
        arguments[2] = "json";
        System.arraycopy(more, 0, arguments, 3, more.length);
        arguments[arguments.length - 1] = tone.toString();
        Outcome outcome = run(arguments);
        assertThat(outcome.err()).isEmpty();
        assertThat(outcome.status()).isZero();
        return JSON.std.mapFrom(outcome.out());
    }

    @SuppressWarnings("unchecked") // the lists of the contract hold objects
    private static List<Map<String, Object>> list(Map<String, Object> object, String name) {
        return (List<Map<String, Object>>) object.get(name);
    }

    @SuppressWarnings("unchecked") // as the contract says
    private static Map<String, Object> object(Map<String, Object> object, String name) {
        return (Map<String, Object>) object.get(name);
    }

    private static Map<String, Object> reading(Map<String, Object> measurement, String quantity) {
        return list(measurement, "readings").stream()
                .filter(r -> r.get("quantity").equals(quantity))
                .findFirst()
                .orElseThrow();
    }

    private static double number(Object value) {
        return ((Number) value).doubleValue();
    }

    /** Identity and polarity are nominal properties; everything else that has a value has its uncertainty. */
    @Test
    void everyValidReadingHasAnExpandedUncertainty() throws IOException {
        List<Map<String, Object>> readings = list(measured(), "readings");
        assertThat(readings).hasSizeGreaterThan(40);
        Outcome ofNoise = run("measure", "--format", "json", "--as", "noise", noise.toString());
        List<Map<String, Object>> noiseReadings = list(JSON.std.mapFrom(ofNoise.out()), "readings");
        assertThat(noiseReadings).hasSizeGreaterThan(30);
        for (List<Map<String, Object>> each : List.of(readings, noiseReadings)) {
            for (Map<String, Object> reading : each) {
                boolean nominal =
                        List.of("channel.polarity", "channel.identity").contains(reading.get("quantity"));
                if (reading.get("status").equals("valid") && !nominal) {
                    assertThat(reading.get("expandedUncertainty"))
                            .as(reading.toString())
                            .isNotNull();
                    assertThat(number(reading.get("expandedUncertainty"))).isPositive();
                    assertThat(number(reading.get("coverageProbability"))).isEqualTo(0.95);
                }
            }
        }
    }

    /** The truth of the generated tone lies in the intervals; without a certificate they say what they rest on. */
    @Test
    void intervalsHoldTheTruthAndSayThatTheTapeIsAssumed() throws IOException {
        Map<String, Object> measurement = measured();
        Map<String, Object> speed = reading(measurement, "speed.error");
        assertThat(speed.get("assumed")).isEqualTo(true);
        assertThat(number(speed.get("value"))).isCloseTo(0.4, within(number(speed.get("expandedUncertainty"))));
        Map<String, Object> flutter = reading(measurement, "flutter.weighted.two-sigma");
        assertThat(number(flutter.get("value"))).isCloseTo(0.1, within(number(flutter.get("expandedUncertainty"))));
    }

    /** 2 x 0.02 % and 10 ppm instead of 0.2 % and 100 ppm, and a known error of 0.1 %. */
    @Test
    void certificatesCorrectAndNarrow() throws IOException {
        Path tape = file("tape.json", """
                {"name":"speed tape","certificate":"C-17","frequencyPercent":{"value":0.1,"uncertainty":0.04,"factor":2},
                 "slowSpeedPercent":{"atMost":0.005},"ownFlutterPercent":{"atMost":0.005},"levelDb":{"within":0.1},
                 "levelFluctuationDb":{"atMost":0.1},"balanceDb":{"within":0.05},"delayMicroseconds":{"within":1}}""");
        Path converter = file("converter.json", """
                {"name":"converter","clockPpm":{"within":10}}""");
        Map<String, Object> speed =
                reading(measured("--tape", tape.toString(), "--converter", converter.toString()), "speed.error");
        assertThat(number(speed.get("value"))).isCloseTo(100 * (1.004 / 1.001 - 1), within(0.001));
        assertThat(number(speed.get("expandedUncertainty"))).isBetween(0.038, 0.045);
        assertThat(speed).doesNotContainKey("assumed");
    }

    @Test
    void budgetAddsUpToTheExpandedUncertainty() throws IOException {
        Map<String, Object> speed = reading(measured("--budget"), "speed.error");
        Map<String, Object> budget = object(speed, "budget");
        double sum = 0;
        for (Map<String, Object> component : list(budget, "components")) {
            sum += Math.pow(number(component.get("contribution")), 2);
            assertThat(component.get("source").toString()).isNotBlank();
        }
        assertThat(Math.sqrt(sum)).isCloseTo(number(budget.get("combinedUncertainty")), within(1e-12));
        assertThat(budget.get("method")).isEqualTo("JCGM 100:2008");
    }

    /** Half-widths of both ways agree within the 2 % of the closed form and the scatter of 200 000 trials. */
    @Test
    void monteCarloIsAskedForByName() throws IOException {
        Map<String, Object> analytic = measured("--budget");
        Map<String, Object> drawn = measured("--budget", "monte-carlo");
        for (String quantity : List.of("speed.error", "level", "flutter.weighted.rms")) {
            double one = number(reading(analytic, quantity).get("expandedUncertainty"));
            double other = number(reading(drawn, quantity).get("expandedUncertainty"));
            assertThat(other).as(quantity).isCloseTo(one, within(0.03 * one));
        }
        assertThat(object(reading(drawn, "level"), "budget").get("method").toString())
                .contains("Monte Carlo")
                .contains("seed");
    }

    @Test
    void textShowsBudgetsAndVerdicts() {
        Outcome outcome = run("measure", "--budget", "--limits", "din-45500", tone.toString());
        assertThat(outcome.status()).isZero();
        assertThat(outcome.out())
                .contains("budget of speed.error, channel 1")
                .contains("frequency of the test tape")
                .contains("verdicts by din-45500: guarded acceptance")
                .containsPattern("pass +mean speed \\(speed.error, channel 1\\)")
                .containsPattern("undecided +erasure at 1 kHz");
    }

    /** The limit of 0.105 % lies within the uncertainty of 0.1 %: undecided, with what would decide it. */
    @Test
    void limitsOfTheMachineAreJudged() throws IOException {
        Path limits = file("limits.json", """
                {"name":"deck 3","source":"service sheet","limits":[
                 {"quantity":"flutter.weighted.quasi-peak","upper":0.105},
                 {"quantity":"speed.error","lower":-1,"upper":1},
                 {"quantity":"channel.balance","lower":2,"upper":3}]}""");
        List<Map<String, Object>> verdicts = list(measured("--limits", limits.toString()), "verdicts");
        assertThat(verdicts)
                .extracting(v -> v.get("quantity") + " " + v.get("channel") + " " + v.get("verdict"))
                .containsExactly(
                        "flutter.weighted.quasi-peak 1 undecided",
                        "flutter.weighted.quasi-peak 2 undecided",
                        "speed.error 1 pass",
                        "speed.error 2 pass",
                        "channel.balance null fail");
        assertThat((List<?>) verdicts.get(0).get("advice")).isNotEmpty();
        assertThat(number(verdicts.get(2).get("probabilityOfConformity"))).isCloseTo(1, within(1e-6));
        assertThat(verdicts.get(2).get("rule").toString()).contains("guarded");
        List<Map<String, Object>> simple =
                list(measured("--limits", limits.toString(), "--rule", "simple"), "verdicts");
        assertThat(simple.get(0).get("verdict")).isEqualTo("pass");
        List<Map<String, Object>> fourWay =
                list(measured("--limits", limits.toString(), "--rule", "four-way"), "verdicts");
        assertThat(fourWay.get(0).get("verdict")).isEqualTo("conditional-pass");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "{\"limits\":[{\"quantity\":\"speed\",\"upper\":1}]} | limits[0].quantity",
                "{\"limits\":[{\"quantity\":\"speed.error\"}]} | limits[0].upper",
                "{\"limits\":[{\"quantity\":\"speed.error\",\"lower\":2,\"upper\":1}]} | limits[0].lower",
                "{\"limits\":[{\"quantity\":\"level\",\"upper\":1,\"unit\":\"%\"}]} | limits[0].unit",
                "{\"limits\":[]} | limits",
                "{\"limits\":[{\"quantity\":\"speed.error\",\"uper\":1}]} | limits[0]"
            })
    void wrongLimitsNameTheField(String text, String field) throws IOException {
        Path limits = file("wrong.json", text);
        Outcome outcome = run("measure", "--limits", limits.toString(), tone.toString());
        assertThat(outcome.status()).isEqualTo(2);
        assertThat(outcome.err()).contains("wrong.json: ").contains(field);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "{\"levelDb\":{\"within\":-1}} | levelDb.within",
                "{\"levelDb\":{\"value\":0.1}} | levelDb.uncertainty",
                "{\"levelDb\":{\"within\":1,\"atMost\":2}} | levelDb.within",
                "{\"levelDB\":{\"within\":1}} | levelDB"
            })
    void wrongDescriptionsNameTheField(String text, String field) throws IOException {
        Path tape = file("wrong-tape.json", text);
        Outcome outcome = run("measure", "--tape", tape.toString(), tone.toString());
        assertThat(outcome.status()).isEqualTo(2);
        assertThat(outcome.err()).contains("wrong-tape.json: ").contains(field);
    }

    /** The description that the check prints is read back by the measurement. */
    @Test
    void checkedConverterIsDescribedForTheMeasurement() throws IOException {
        Path loop = folder.resolve("loop.wav");
        run("generate", "--out", loop.toString(), "--seconds", "20", "--channels", "2", "--tone", "1000");
        Outcome check = run(
                "check-converter",
                "--name",
                "interface",
                "--silence",
                noise.toString(),
                "--recorded",
                "600.006",
                "--true",
                "600",
                loop.toString());
        assertThat(check.err()).isEmpty();
        assertThat(check.status()).isZero();
        Map<String, Object> described = JSON.std.mapFrom(check.out());
        assertThat(described.get("name")).isEqualTo("interface");
        assertThat(number(object(described, "clockPpm").get("value"))).isCloseTo(10, within(1e-6));
        assertThat(number(object(described, "balanceDb").get("value"))).isCloseTo(0, within(0.001));
        assertThat(number(described.get("noiseDbfs"))).isBetween(-70.0, -50.0);
        Path converter = file("found.json", check.out());
        assertThat(reading(measured("--converter", converter.toString()), "speed.error")
                        .get("status"))
                .isEqualTo("valid");
        Outcome half = run("check-converter", "--recorded", "600", loop.toString());
        assertThat(half.status()).isEqualTo(64);
    }

    /** The files that show the formats can be used as they are. */
    @Test
    void exampleFilesAreRead() throws IOException {
        Path examples = Path.of("instruments");
        Map<String, Object> measurement = measured(
                "--tape",
                examples.resolve("test-tape.json").toString(),
                "--converter",
                examples.resolve("converter.json").toString(),
                "--limits",
                examples.resolve("limits.json").toString());
        assertThat(list(measurement, "verdicts")).hasSizeGreaterThan(5);
        assertThat(reading(measurement, "speed.error")).doesNotContainKey("assumed");
    }
}
