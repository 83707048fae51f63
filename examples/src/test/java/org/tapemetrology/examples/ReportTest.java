/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.examples.Outcome.run;

import com.fasterxml.jackson.jr.ob.JSON;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.NullUnmarked;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.conformity.DecisionRule;
import org.tapemetrology.examples.SampleService.Tone;
import org.tapemetrology.examples.recording.Progress;
import org.tapemetrology.examples.report.Report.Stage;
import org.tapemetrology.examples.service.ServiceFile;
import org.tapemetrology.examples.service.ServiceRecord;

/** The report of a service, from outside. */
@NullUnmarked // what a JSON object lacks is null, and fails the test that asks for it
class ReportTest {
    @TempDir
    private static Path story;

    @TempDir
    private Path folder;

    private static Outcome outcome;
    private static String page;
    private static Map<String, Object> json;
    private static List<String> table;

    @BeforeAll
    static void report() throws IOException {
        SampleService sample = new SampleService(story).story();
        Path service = sample.service();
        Path out = story.resolve("report");
        outcome = run(
                "report",
                service.toString(),
                "--out",
                out.toString(),
                "--transport",
                sample.transport().toString(),
                "--date",
                "2026-11-28");
        page = Files.readString(out.resolve("report.html"));
        json = JSON.std.mapFrom(Files.readString(out.resolve("report.json")));
        table = Files.readAllLines(out.resolve("report.csv"));
    }

    @SuppressWarnings("unchecked")
    private static List<Map<String, Object>> list(Map<String, Object> object, String name) {
        return (List<Map<String, Object>>) object.get(name);
    }

    @SuppressWarnings("unchecked")
    private static Map<String, Object> object(Map<String, Object> object, String name) {
        return (Map<String, Object>) object.get(name);
    }

    private static Map<String, Object> step(Map<String, Object> report, String id) {
        return list(report, "steps").stream()
                .filter(step -> step.get("step").equals(id))
                .findFirst()
                .orElseThrow();
    }

    private static String verdict(Map<String, Object> report, String step, String stage) {
        return (String) object(step(report, step), stage).get("verdict");
    }

    private static double number(Object value) {
        return ((Number) value).doubleValue();
    }

    @Test
    void aSoundServiceIsReportedWithoutProblems() {
        assertThat(outcome.status()).isZero();
        assertThat(outcome.err()).isEmpty();
        assertThat(list(json, "problems")).isEmpty();
        assertThat(json.get("schema")).isEqualTo("org.tapemetrology.report/1");
        assertThat(json.get("made")).isEqualTo("2026-11-28");
    }

    /** 2 % fast at the end of the tape is worse than 1.6 % at its start, and both fail 1 %. */
    @Test
    void theWorstPlaceDecides() {
        Map<String, Object> before = object(step(json, "speed"), "before");
        assertThat(before.get("verdict")).isEqualTo("fail");
        assertThat(before.get("place")).isEqualTo("end");
        assertThat((String) before.get("decidedBy")).contains("speed.error").contains("+2.00");
        assertThat(verdict(json, "speed", "after")).isEqualTo("pass");
        assertThat(verdict(json, "flutter", "before")).isEqualTo("fail");
        assertThat(verdict(json, "flutter", "after")).isEqualTo("pass");
        assertThat(verdict(json, "tape-handling", "before")).isEqualTo("fail");
        assertThat(verdict(json, "tape-handling", "after")).isEqualTo("pass");
        assertThat(step(json, "bias").get("after")).isNull();
    }

    /** The verdicts of the report are those that the service itself shows. */
    @Test
    void reportAndServiceAgree() throws IOException {
        Path file = new SampleService(folder)
                .mono()
                .recording("speed", "before", "\"position\":\"start\"", Tone.of(0.1, 0.05))
                .recording("speed", "before", "\"position\":\"end\"", Tone.of(-1.6, 0.05))
                .recording("flutter", "before", "", Tone.of(0.1, 0.16))
                .recording("flutter", "after", "nowhere.wav", "")
                .recording("replay-azimuth", "after", "", Tone.of(0.1, 0.05))
                .entered(
                        "{\"step\":\"cleaning\",\"stage\":\"after\",\"date\":\"2026-11-19\",\"name\":\"cleaned\"},"
                                + "{\"step\":\"meters\",\"stage\":\"after\",\"date\":\"2026-11-21\",\"name\":\"torque\",\"value\":3,\"unit\":\"mN m\",\"upper\":2}")
                .service();
        Map<String, Object> told = made(file).json;
        ServiceRecord record = ServiceRecord.of(ServiceFile.read(file), DecisionRule.guarded(), Progress.silent());
        int verdicts = 0;
        for (Stage stage : Stage.values()) {
            for (ServiceRecord.Standing standing : record.standings(stage)) {
                Map<String, Object> outcome = object(step(told, standing.step().id()), stage.id());
                assertThat(outcome == null ? null : outcome.get("verdict"))
                        .as(standing.step().id() + " " + stage.id())
                        .isEqualTo(standing.verdict().map(v -> v.id()).orElse(null));
                verdicts += outcome == null ? 0 : 1;
            }
        }
        assertThat(verdicts).isEqualTo(6);
    }

    /** The readings are those of the measurement contract, with the truth of the recordings in them. */
    @Test
    void jsonHoldsReadingsOfTheContractWithBudgets() {
        Map<String, Object> speed = list(json, "recordings").get(1);
        assertThat(object(speed, "source").get("sampleRateHz")).isEqualTo(SampleService.RATE);
        Map<String, Object> reading = list(speed, "readings").stream()
                .filter(r -> r.get("quantity").equals("speed.error"))
                .findFirst()
                .orElseThrow();
        assertThat(reading)
                .containsKeys(
                        "channel", "value", "unit", "status", "expandedUncertainty", "coverageProbability", "method");
        // the tape is known within 0.05 %, and the recording has no error of its tone
        assertThat(number(reading.get("value"))).isCloseTo(2.0, within(0.01));
        assertThat(list(object(reading, "budget"), "components")).isNotEmpty();
        assertThat(list(speed, "verdicts").get(0).get("verdict")).isEqualTo("fail");
        assertThat(list(speed, "speedOverTimePercent")).hasSize(1);
        assertThat(list(list(json, "recordings").get(4), "levelOverTimeDbfs")).hasSize(2);
    }

    /** 47.6 mm/s at 1.8 % over, on 2 mm and on 11.5 mm of diameter (kinematics). */
    @Test
    void componentsOfTheFlutterCarryTheNamesOfParts() {
        List<Map<String, Object>> components = list(list(json, "recordings").get(2), "components");
        assertThat(number(components.get(0).get("frequencyHz"))).isCloseTo(1.018 * 47.6 / (Math.PI * 2), within(0.05));
        assertThat(list(components.get(0), "parts").get(0).get("part")).isEqualTo("capstan");
        assertThat(list(components.get(1), "parts").get(0).get("part")).isEqualTo("pinch roller");
        assertThat(page).contains("capstan").contains("pinch roller");
    }

    /** One row for each reading and for each figure read by hand, all with as many cells as there are columns. */
    @Test
    void csvHasARowForEachReading() {
        int readings = list(json, "recordings").stream()
                .mapToInt(r -> list(r, "readings").size())
                .sum();
        assertThat(table).hasSize(1 + readings + list(json, "entered").size());
        int columns = table.get(0).split(",", -1).length;
        assertThat(table).allSatisfy(row -> assertThat(cells(row)).hasSize(columns));
        assertThat(table.get(0)).startsWith("step,stage,date,place,file,counts,part,quantity,channel,frequencyHz,");
        assertThat(table.stream().filter(row -> row.contains("speed.error") && row.contains(",fail,")))
                .hasSize(4);
    }

    /** Cells of a row by RFC 4180. */
    private static List<String> cells(String row) {
        List<String> cells = new ArrayList<>();
        StringBuilder cell = new StringBuilder();
        boolean quoted = false;
        for (int i = 0; i < row.length(); i++) {
            char c = row.charAt(i);
            if (c == '"') {
                quoted = !quoted;
            } else if (c == ',' && !quoted) {
                cells.add(cell.toString());
                cell.setLength(0);
            } else {
                cell.append(c);
            }
        }
        cells.add(cell.toString());
        return cells;
    }

    /** What the page must have: everything in itself, landmarks, a way past the contents, names for every table and drawing. */
    @Test
    void thePageNeedsNothingElseAndCanBeRead() {
        assertThat(page)
                .startsWith("<!DOCTYPE html>")
                .contains("<html lang=\"en\">", "Content-Security-Policy", "default-src &#39;none&#39;")
                .contains("<header>", "<nav aria-label=", "<main>", "<footer>", "class=\"skip\"", "@page { size: A4")
                .doesNotContain("<script", "http://", "https://", "<link", "<img", "url(", "@import");
        assertThat(occurrences("<table")).isPositive().isEqualTo(occurrences("<caption>"));
        assertThat(occurrences("role=\"img\"")).isPositive().isEqualTo(occurrences("<desc "));
        assertThat(occurrences("<th scope=\"col\"")).isPositive();
        assertThat(occurrences("<figure>") + occurrences("<figure class"))
                .isEqualTo(occurrences("<summary>Values") + occurrences("<summary>Components"));
        List<String> ids = java.util.regex.Pattern.compile(" id=\"([^\"]*)\"")
                .matcher(page)
                .results()
                .map(match -> match.group(1))
                .toList();
        assertThat(ids).doesNotHaveDuplicates();
        for (String section : List.of(
                "Result",
                "Machine and setup",
                "Steps before and after",
                "Verdicts",
                "Read by hand",
                "Level, balance and azimuth",
                "Response",
                "Speed over time",
                "Level over time",
                "Flutter spectrum and parts",
                "Recordings and readings",
                "Uncertainty budgets",
                "What is missing",
                "Cautions")) {
            assertThat(page).contains(">" + section + "</h2>");
        }
        assertThat(page).contains("let its capacitors discharge", "take-up torque", "companding-noise-reduction");
    }

    private static int occurrences(String text) {
        return (page.length() - page.replace(text, "").length()) / text.length();
    }

    @Test
    void whatIsMissingIsTold() {
        assertThat(json.get("missing").toString())
                .contains("before the repair of: ", "after the repair of: ", "bias", "certificate");
    }

    @Test
    void nothingIsOverwrittenUnasked() throws IOException {
        SampleService sample = new SampleService(folder);
        Path out = Files.createDirectory(folder.resolve("out"));
        Files.writeString(out.resolve("report.csv"), "mine");
        Path file = sample.service();
        Outcome refused = run("report", file.toString(), "--out", out.toString());
        assertThat(refused.status()).isEqualTo(2);
        assertThat(refused.err()).contains("report.csv is there already").contains("--force");
        assertThat(Files.readString(out.resolve("report.csv"))).isEqualTo("mine");
        assertThat(out.resolve("report.html")).doesNotExist();
        assertThat(run("report", file.toString(), "--out", out.toString(), "--force")
                        .status())
                .isZero();
        assertThat(Files.readString(out.resolve("report.csv"))).startsWith("step,");
    }

    /** Names are never markup, nor a formula of a spreadsheet. */
    @Test
    void hostileNamesStayNames() throws IOException {
        String hostile = "<script>alert(1)</script>\"' onload=x <img src=//example.org>";
        SampleService sample = new SampleService(folder)
                .named(hostile)
                .entered(
                        "{\"step\":\"meters\",\"stage\":\"after\",\"date\":\"2026-11-21\",\"name\":\"=HYPERLINK(1)\",\"value\":3,\"unit\":\"</td><b>\"}")
                .recording("speed", "before", "</title><script>.wav", "");
        Made made = made(sample.service());
        assertThat(made.page)
                .doesNotContain("<script", "<img", "<b>")
                .contains("&lt;script&gt;alert(1)&lt;/script&gt;", "&lt;/title&gt;&lt;script&gt;.wav");
        assertThat(made.json.get("machine")).isEqualTo(hostile);
        assertThat(made.table).contains(",'=HYPERLINK(1),");
    }

    private record Made(Outcome outcome, String page, Map<String, Object> json, String table) {}

    private Made made(Path file, String... more) throws IOException {
        Path out = folder.resolve("made");
        List<String> arguments =
                new ArrayList<>(List.of("report", file.toString(), "--out", out.toString(), "--force"));
        arguments.addAll(List.of(more));
        Outcome done = run(arguments.toArray(new String[0]));
        return new Made(
                done,
                Files.readString(out.resolve("report.html")),
                JSON.std.mapFrom(Files.readString(out.resolve("report.json"))),
                Files.readString(out.resolve("report.csv")));
    }

    /** What went wrong stands in the report and on standard error; the rest is reported. */
    private void assertTold(Made made, String... words) {
        assertThat(made.outcome.status()).isEqualTo(2);
        assertThat(made.outcome.err()).startsWith("report: ").contains(words);
        assertThat(list(made.json, "problems").toString()).contains(words);
        assertThat(made.page).contains(">1 problem<").contains(words[0]);
        assertThat((Boolean) made.json.get("proven")).isFalse();
    }

    @Test
    void aMissingRecordingLeavesTheRest() throws IOException {
        Made made = made(new SampleService(folder)
                .recording("speed", "before", "", Tone.of(0.1, 0.05))
                .recording("flutter", "before", "nowhere.wav", "")
                .service());
        assertTold(made, "nowhere.wav", "recordings[1]");
        assertThat(verdict(made.json, "speed", "before")).isEqualTo("pass");
        assertThat(verdict(made.json, "flutter", "before")).isEqualTo("undecided");
    }

    /** A tone of 1 kHz is not that of a 3150 Hz tape: speed is not 68 % slow, it is not known. */
    @Test
    void aWrongTapeIsNotJudged() throws IOException {
        Made made = made(new SampleService(folder)
                .recording("speed", "before", "\"testTape\":\"speed tape\"", new Tone(1000, 0, 0.05, -8, 0, 0))
                .recording("flutter", "before", "\"testTape\":\"speed tape\"", Tone.of(0.1, 0.05))
                .service());
        assertTold(made, "speed tape", "1000.0 Hz", "wrong tape");
        assertThat(verdict(made.json, "speed", "before")).isEqualTo("undecided");
        assertThat(list(list(made.json, "recordings").get(0), "verdicts"))
                .allMatch(verdict -> verdict.get("verdict").equals("undecided"));
        assertThat(verdict(made.json, "flutter", "before")).isEqualTo("pass");
    }

    /** A recording that serves two steps is wrong once. */
    @Test
    void aWrongTapeIsToldOnceForAllItsSteps() throws IOException {
        SampleService sample = new SampleService(folder);
        sample.write("speed.wav", 2, new Tone(1000, 0, 0.05, -8, 0, 0));
        String json = sample.recording("speed", "before", "speed.wav", "\"testTape\":\"speed tape\"")
                .json()
                .replace("\"step\":\"speed\"", "\"steps\":[\"speed\",\"flutter\"]");
        Made made = made(sample.service(json));
        assertTold(made, "speed tape", "1000.0 Hz", "wrong tape", "speed and flutter");
        assertThat(verdict(made.json, "speed", "before")).isEqualTo("undecided");
        assertThat(verdict(made.json, "flutter", "before")).isEqualTo("undecided");
    }

    /** An older figure that failed is in the table, and in no verdict any more. */
    @Test
    void anOlderFigureReadByHandIsHistory() throws IOException {
        String torque = "{\"step\":\"tape-handling\",\"stage\":\"after\",\"name\":\"take-up torque\",\"unit\":\"mN m\","
                + "\"lower\":3.5,\"upper\":6,";
        Made made = made(new SampleService(folder)
                .entered(torque + "\"date\":\"2026-11-21\",\"value\":2.5}," + torque
                        + "\"date\":\"2026-11-22\",\"value\":4.5}")
                .service());
        assertThat(verdict(made.json, "tape-handling", "after")).isEqualTo("pass");
        assertThat(list(made.json, "entered"))
                .extracting(entry -> entry.get("value"), entry -> entry.get("counts"))
                .containsExactly(tuple(2.5, false), tuple(4.5, true));
        assertThat(made.page).contains("2.5\u00a0mN m").contains("history");
    }

    /** Speed and flutter are told by one channel; azimuth is not. */
    @Test
    void aRecordingOfOneChannelOfTwoIsTold() throws IOException {
        SampleService sample = new SampleService(folder);
        sample.write("mono.wav", 1, Tone.of(0.1, 0.05));
        Made made = made(sample.recording("replay-azimuth", "before", "mono.wav", "")
                .recording("flutter", "before", "", Tone.of(0.1, 0.05))
                .service());
        assertTold(made, "mono.wav", "one channel");
        assertThat(verdict(made.json, "replay-azimuth", "before")).isEqualTo("undecided");
        assertThat(verdict(made.json, "flutter", "before")).isEqualTo("pass");
    }

    /** One recording serves two steps: both are told, and it is drawn once. */
    @Test
    void aRecordingCanServeSeveralSteps() throws IOException {
        SampleService sample = new SampleService(folder);
        sample.write("both.wav", 2, Tone.of(0.1, 0.05));
        Made made = made(
                sample.service(
                        sample.json()
                                .replace(
                                        "\"recordings\":[",
                                        "\"recordings\":[{\"steps\":[\"speed\",\"flutter\"],\"stage\":\"before\",\"date\":\"2026-11-20\",\"file\":\"both.wav\"}")));
        assertThat(made.outcome.status()).isZero();
        assertThat(verdict(made.json, "speed", "before")).isEqualTo("pass");
        assertThat(verdict(made.json, "flutter", "before")).isEqualTo("pass");
        assertThat(list(made.json, "recordings"))
                .hasSize(2)
                .allMatch(r -> r.get("number").equals(1));
        assertThat(made.page).containsOnlyOnce("id=\"speed-1-t\"").containsOnlyOnce("id=\"spectrum-1-t\"");
    }

    /** The parts of the transport can stand in the service file itself; wrong ones are told, and lines then have no names. */
    @Test
    void partsStandInTheServiceFile() throws IOException {
        SampleService sample = new SampleService(folder)
                .recording("flutter", "before", "\"testTape\":\"speed tape\"", Tone.of(0.1, 0.1));
        String with = sample.json()
                .replace("\"recordings\":", "\"transport\":" + SampleService.TRANSPORT + ",\"recordings\":");
        Made made = made(sample.service(with));
        assertThat(made.outcome.status()).isZero();
        assertThat(list(list(list(made.json, "recordings").get(0), "components").get(0), "parts")
                        .get(0)
                        .get("part"))
                .isEqualTo("capstan");
        assertThat(made.page).contains(">Parts of the transport<");
        assertThat(made.json.get("missing").toString()).doesNotContain("parts of the transport");
        Made wrong = made(sample.service(with.replace("\"kind\":\"roller\"", "\"kind\":\"rolller\"")));
        assertTold(wrong, "transport.parts[1].kind");
        assertThat(verdict(wrong.json, "flutter", "before")).isEqualTo("pass");
        assertThat(wrong.json.get("missing").toString()).contains("parts of the transport");
    }

    /** A recording of a programme: its readings carry the names of its steps, and its response is drawn within its field. */
    @Test
    void programmesAreReportedStepByStep() throws IOException {
        Path programme = Files.writeString(
                folder.resolve("programme.json"),
                "{\"name\":\"short\",\"steps\":["
                        + "{\"name\":\"reference\",\"kind\":\"tone\",\"frequencyHz\":1000,\"levelDbfs\":-12,\"seconds\":3},"
                        + "{\"name\":\"pause\",\"kind\":\"pause\",\"seconds\":2},"
                        + "{\"name\":\"sweep\",\"kind\":\"sweep\",\"fromHz\":40,\"toHz\":12500,\"levelDbfs\":-20,\"seconds\":8}]}");
        Outcome written = run(
                "generate",
                "--programme",
                programme.toString(),
                "--out",
                folder.resolve("programme.wav").toString());
        assertThat(written.status()).as(written.err()).isZero();
        SampleService sample = new SampleService(folder)
                .recording("replay-response", "after", "programme.wav", "\"programme\":\"programme.json\"");
        Made made = made(
                sample.service(
                        sample.json()
                                .replace(
                                        "\"limits\":[",
                                        "\"limits\":[{\"quantity\":\"response\",\"fromHz\":100,\"toHz\":10000,\"lower\":-3,\"upper\":3},")));
        assertThat(made.outcome.err()).isEmpty();
        assertThat(list(list(made.json, "recordings").get(0), "readings"))
                .isNotEmpty()
                .allMatch(reading -> reading.get("step") != null)
                .anyMatch(reading -> reading.get("quantity").equals("response")
                        && reading.get("step").equals("sweep"));
        assertThat(list(list(made.json, "recordings").get(0), "verdicts"))
                .isNotEmpty()
                .allMatch(verdict -> number(object(verdict, "at").get("frequencyHz")) >= 99
                        && number(object(verdict, "at").get("frequencyHz")) <= 10_100);
        assertThat(made.page).contains("id=\"response-0-t\"", "shaded: tolerance field", "100\u00a0Hz to 10\u00a0kHz");
        assertThat(made.table).contains(",sweep,response,");
    }

    /** On a mono machine one channel is all there is. */
    @Test
    void aMonoMachineIsWhole() throws IOException {
        Made made = made(new SampleService(folder)
                .mono()
                .recording("speed", "after", "", Tone.of(0.1, 0.05))
                .service());
        assertThat(made.outcome.status()).isZero();
        assertThat(verdict(made.json, "speed", "after")).isEqualTo("pass");
        assertThat(list(made.json, "steps"))
                .noneMatch(step -> step.get("step").equals(ServiceStep.SEPARATION_OF_CHANNELS.id()));
    }

    /** A wrong entry is left out, named by its place in the file, and its step is undecided; what is sound is reported. */
    @Test
    void wrongEntriesAreLeftOut() throws IOException {
        SampleService sample = new SampleService(folder)
                .recording("speed", "before", "a.wav", "\"positoin\":\"start\"")
                .recording("flutter", "after", "b.wav", "\"testTape\":\"no such tape\"")
                .recording("speed", "before", "", Tone.of(0.1, 0.05));
        Made made = made(sample.service());
        assertThat(made.outcome.status()).isEqualTo(2);
        assertThat(list(made.json, "problems")).hasSize(2);
        assertThat(made.outcome.err())
                .contains("recordings[0].positoin", "recordings[1].testTape")
                .contains("left out");
        assertThat(verdict(made.json, "speed", "before")).isEqualTo("undecided");
        assertThat(verdict(made.json, "flutter", "after")).isEqualTo("undecided");
        assertThat(list(made.json, "recordings")).hasSize(1);
        assertThat(list(made.json, "recordings").get(0).get("number")).isEqualTo(3);
    }

    @Test
    void aFileThatCannotBeReadIsReportedAsSuch() throws IOException {
        SampleService sample = new SampleService(folder);
        Made broken = made(sample.service("{\"schema\":"));
        assertTold(broken, "service.json", "not JSON in line 1");
        assertThat(broken.page).contains("could not be read").contains(">Cautions</h2>");
        Made heads = made(sample.service(sample.json().replace("\"heads\":2", "\"heads\":7")));
        assertTold(heads, "machine.heads");
        assertThat(heads.json.get("machine")).isEqualTo("cassette deck 3");
        Made field = made(sample.service(sample.json().replace("\"entered\"", "\"enterd\"")));
        assertTold(field, "enterd");
        assertThat(list(field.json, "steps")).isNotEmpty();
        Outcome none = run("report", folder.resolve("none.json").toString(), "--out", folder.toString());
        assertThat(none.status()).isEqualTo(2);
        assertThat(none.err()).contains("none.json: no such file");
        assertThat(run("report", "service.json").status()).isEqualTo(64);
    }

    @Test
    void wrongPartsOfTheTransportAreTold() throws IOException {
        Path parts = Files.writeString(folder.resolve("parts.json"), "{\"parts\":[]}");
        Made made = made(new SampleService(folder).service(), "--transport", parts.toString());
        assertTold(made, "parts.json", "tapeSpeedMillimetresPerSecond");
    }
}
