/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.tapemetrology.examples.Outcome.run;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The service of a machine, from outside. Order and limits of the steps: common practice, no source. */
class ServiceTest {
    private static final String SERVICE = """
            {"schema":"org.tapemetrology.service/1",
             "machine":{"name":"cassette deck 3","heads":2,"channels":2},
             "setup":{"tapeSpeedMillimetresPerSecond":47.6,"mainsHz":50},
             "limits":[{"quantity":"speed.error","lower":-1,"upper":1},
                       {"quantity":"flutter.weighted.quasi-peak","upper":0.18}],
             "testTapes":[{"name":"speed tape","toneHz":3150,"frequencyPercent":{"within":0.05}}],
             "converter":{"clockPpm":{"within":20}},
             "recordings":[],"entered":[]}
            """;

    @TempDir
    private Path folder;

    private Path service;

    @BeforeEach
    void write() throws IOException {
        service = Files.writeString(folder.resolve("service.json"), SERVICE);
    }

    private void tone(String name, String speedError) {
        run(
                "generate",
                "--out",
                folder.resolve(name).toString(),
                "--seconds",
                "12",
                "--rate",
                "16000",
                "--speed-error",
                speedError,
                "--flutter",
                "4:0.1");
    }

    private Outcome service(String... more) {
        String[] arguments = new String[more.length + 2];
        arguments[0] = "service";
        arguments[1] = service.toString();
        System.arraycopy(more, 0, arguments, 2, more.length);
        return run(arguments);
    }

    @Test
    void leadsThroughTheStepsInTheTradesOrder() {
        assertThat(service().out()).contains("Next: cleaning.");
        service("--step", "cleaning", "--done", "cleaned and demagnetised");
        assertThat(service().out()).contains("Next: tape-handling.");
        Outcome handled = service(
                "--step",
                "tape-handling",
                "--done",
                "take-up torque",
                "--value",
                "4.5",
                "--unit",
                "mN m",
                "--lower",
                "3.5",
                "--upper",
                "6");
        assertThat(handled.out()).contains("Next: speed.").doesNotContain("First: no reference tape");
    }

    /** Whoever goes on without the preparation is told before a reference tape is loaded. */
    @Test
    void referenceTapesArePreparedFor() {
        service("--step", "cleaning", "--stage", "after", "--done", "cleaned");
        Outcome next = service("--step", "tape-handling", "--stage", "after", "--done", "scrap tape unharmed");
        assertThat(next.out()).contains("Next: speed.").contains("First: no reference tape");
    }

    /** 2 % fast against 1 %: it is to fall by 2.00 %; after the repair it passes, and what was before is kept. */
    @Test
    void keepsBeforeAndAfterAndSaysHowFarToTurn() throws IOException {
        tone("before.wav", "2");
        tone("after.wav", "0.05");
        Outcome before = service("--step", "speed", "--recording", "before.wav", "--tape", "speed tape");
        assertThat(before.out())
                .containsPattern("speed +before: fail +after: -")
                .contains("it is to fall by 2.00 %")
                .contains("good enough within 0.9");
        Outcome after =
                service("--step", "speed", "--stage", "after", "--recording", "after.wav", "--tape", "speed tape");
        assertThat(after.out()).containsPattern("speed +before: fail +after: pass");
        assertThat(Files.readString(service)).contains("before.wav").contains("after.wav");
    }

    @Test
    void aServiceWithoutLimitsSaysThatItNamesNone() throws IOException {
        Files.writeString(service, SERVICE.replaceAll("(?s)\"limits\":\\[.*?\\],\n", "\"limits\":[],\n"));
        tone("before.wav", "0.1");
        Outcome unlimited = service("--step", "speed", "--recording", "before.wav", "--tape", "speed tape");
        assertThat(unlimited.out())
                .containsPattern("speed +before: undecided")
                .contains("the service file names no limit, so nothing can be decided");
        Files.writeString(
                service,
                SERVICE.replaceAll("(?s)\\{\"quantity\":\"speed.error\".*?\\},", "")
                        .replace("0.18", "5"));
        Outcome of = service("--step", "speed", "--recording", "before.wav", "--tape", "speed tape");
        assertThat(of.out()).doesNotContain("names no limit");
    }

    /** Of the recordings at the start and at the end of the tape the worse one counts; again at one place the newer one. */
    @Test
    void theWorstPlaceCountsAndTheLastRecordingOfIt() {
        tone("good.wav", "0.1");
        tone("bad.wav", "-1.6");
        service("--step", "speed", "--recording", "good.wav", "--position", "start");
        Outcome worst = service("--step", "speed", "--recording", "bad.wav", "--position", "end");
        assertThat(worst.out()).containsPattern("speed +before: fail").contains("it is to rise by 1.60 %");
        Outcome again = service("--step", "speed", "--recording", "good.wav", "--position", "end");
        assertThat(again.out()).containsPattern("speed +before: pass");
    }

    private Outcome torque(String value, String... more) {
        List<String> arguments = new ArrayList<>(List.of("--step", "tape-handling", "--done", "take-up torque"));
        arguments.addAll(List.of("--value", value, "--unit", "mN m", "--lower", "3.5", "--upper", "6"));
        arguments.addAll(List.of(more));
        return service(arguments.toArray(String[]::new));
    }

    /** A day and a time are asked for as they are to be written, not by the name of a class. */
    @Test
    void aDayAndATimeAreRefusedByAnExample() {
        assertThat(torque("4.5", "--date", "yesterday").err())
                .contains("--date")
                .contains("'yesterday' is no day as 2026-11-25")
                .doesNotContain("java.");
        assertThat(torque("4.5", "--date", "2026-11-20", "--time", "noon").err())
                .contains("--time")
                .contains("'noon' is no time as 14:30")
                .doesNotContain("java.");
    }

    /** Of the entries of one name and place the last counts, whatever their order in the file; the older one stays in it. */
    @Test
    void aFigureReadByHandAgainTakesThePlaceOfTheOlder() throws IOException {
        assertThat(torque("7.5", "--date", "2026-11-20").out()).containsPattern("tape-handling +before: fail");
        Outcome again = torque("4.5", "--date", "2026-11-21");
        assertThat(again.out()).containsPattern("tape-handling +before: pass").doesNotContain("7.5 mN m");
        assertThat(Files.readString(service)).contains("7.5").contains("4.5");
        Outcome late = torque("2", "--date", "2026-11-19");
        assertThat(late.out()).containsPattern("tape-handling +before: pass");
        Outcome other = torque("2", "--date", "2026-11-22", "--direction", "reverse");
        assertThat(other.out())
                .containsPattern("tape-handling +before: fail")
                .contains("take-up torque 2.0 mN m (reverse)")
                .contains("take-up torque 4.5 mN m");
    }

    /** What was entered after the repair, and what the next repair makes due again; what was found before it stays. */
    @Test
    void aRepairMakesWhatWasReadByHandDueAgain() {
        String[] speed = {"--step", "speed", "--done"};
        service(with(speed, "strobe", "--stage", "before", "--date", "2026-11-20"));
        service(with(speed, "strobe", "--stage", "after", "--date", "2026-11-21"));
        service(with(speed, "counter", "--stage", "after", "--date", "2026-11-21"));
        service("--repair", "transport", "--done", "new belt", "--date", "2026-11-22");
        Outcome half = service(with(speed, "strobe", "--stage", "after", "--date", "2026-11-23"));
        assertThat(half.out())
                .containsPattern("speed +before: pass +after: undecided")
                .contains("counter due again: transport repaired on 2026-11-22 (new belt)")
                .doesNotContain("strobe due again");
        Outcome whole = service(with(speed, "counter", "--stage", "after", "--date", "2026-11-23"));
        assertThat(whole.out()).containsPattern("speed +before: pass +after: pass");
    }

    /** One place was recorded again after the repair, the other was not; and no reference tape goes in before a scrap tape. */
    @Test
    void aRepairMakesARecordingDueAgain() {
        tone("good.wav", "0.1");
        String[] speed = {"--step", "speed", "--stage", "after", "--recording", "good.wav"};
        service("--step", "tape-handling", "--stage", "after", "--done", "scrap tape unharmed", "--date", "2026-11-20");
        service(with(speed, "--position", "start", "--date", "2026-11-21"));
        service(with(speed, "--position", "end", "--date", "2026-11-21"));
        Outcome repaired = service("--repair", "transport", "--done", "new belt", "--date", "2026-11-22");
        assertThat(repaired.out()).containsPattern("tape-handling +before: - +after: undecided");
        Outcome half = service(with(speed, "--position", "start", "--date", "2026-11-23"));
        assertThat(half.out())
                .containsPattern("speed +before: - +after: undecided")
                .contains("end due again: transport repaired on 2026-11-22 (new belt)")
                .doesNotContain("start due again");
        Outcome whole = service(with(speed, "--position", "end", "--date", "2026-11-23"));
        assertThat(whole.out()).containsPattern("speed +before: - +after: pass");
    }

    private static String[] with(String[] first, String... more) {
        return Stream.of(first, more).flatMap(Stream::of).toArray(String[]::new);
    }

    /** A missing recording is told; the rest stands. */
    @Test
    void aMissingRecordingLeavesTheOthers() {
        tone("good.wav", "0.1");
        service("--step", "flutter", "--recording", "good.wav");
        Outcome missing = service("--step", "speed", "--recording", "nowhere.wav");
        assertThat(missing.status()).isZero();
        assertThat(missing.out())
                .contains("nowhere.wav")
                .containsPattern("speed +before: undecided")
                .containsPattern("flutter +before: pass");
    }

    /** One track has no separation, and a machine with two heads no record azimuth of its own. */
    @Test
    void aMonoMachineHasItsOwnSteps() {
        Path mono = folder.resolve("mono.json");
        Outcome begun = run("service", mono.toString(), "--new", "dictation machine", "--channels", "1");
        assertThat(begun.out())
                .contains("1 channel")
                .doesNotContain("separation")
                .doesNotContain("record-azimuth");
        Outcome again = run("service", mono.toString(), "--new", "another");
        assertThat(again.status()).isEqualTo(2);
        assertThat(again.err()).contains("is there already");
        Outcome three =
                run("service", folder.resolve("three.json").toString(), "--new", "studio machine", "--heads", "3");
        assertThat(three.out()).contains("record-azimuth").contains("separation");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "service/1 | service/9 | schema",
                "\"heads\":2 | \"heads\":4 | machine.heads",
                "\"heads\":2 | \"hedas\":2 | machine.heads",
                "speed.error | speed.eror | limits[0].quantity",
                "\"within\":0.05 | \"within\":-1 | testTapes[0].frequencyPercent.within",
                "\"recordings\":[] | \"recordings\":[{\"step\":\"speed\",\"stage\":\"later\",\"date\":\"2026-11-25\",\"file\":\"a.wav\"}] | recordings[0].stage",
                "\"recordings\":[] | \"recordings\":[{\"step\":\"speed\",\"stage\":\"after\",\"date\":\"25.11.\",\"file\":\"a.wav\"}] | recordings[0].date",
                "\"recordings\":[] | \"recordings\":[{\"step\":\"cleaning\",\"stage\":\"after\",\"date\":\"2026-11-25\",\"file\":\"a.wav\"}] | recordings[0].step",
                "\"entered\":[] | \"entered\":[{\"step\":\"meters\",\"stage\":\"after\",\"date\":\"2026-11-25\",\"name\":\"a\",\"value\":3}] | entered[0].unit",
                "\"entered\":[] | \"enterd\":[] | enterd"
            })
    void wrongFilesNameTheField(String right, String wrong, String field) throws IOException {
        Files.writeString(service, SERVICE.replace(right, wrong));
        Outcome outcome = service();
        assertThat(outcome.status()).isEqualTo(2);
        assertThat(outcome.err()).contains("service.json: ").contains(field);
    }

    /** What would make the file wrong is refused, and the file stays as it was. */
    @Test
    void nothingWrongIsAdded() throws IOException {
        String before = Files.readString(service);
        Outcome outcome = service("--step", "speed", "--recording", "a.wav", "--tape", "no such tape");
        assertThat(outcome.status()).isEqualTo(2);
        assertThat(outcome.err()).contains("recordings[0].testTape");
        assertThat(Files.readString(service)).isEqualTo(before);
        assertThat(service("--recording", "a.wav").status()).isEqualTo(64);
    }
}
