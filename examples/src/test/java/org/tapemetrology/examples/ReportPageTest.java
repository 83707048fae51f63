/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.conformity.DecisionRule;
import org.tapemetrology.core.conformity.Limit;
import org.tapemetrology.core.quantity.Confidence;
import org.tapemetrology.core.quantity.ExpandedUncertainty;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.examples.PageCheck.Page;
import org.tapemetrology.examples.SampleService.Tone;
import org.tapemetrology.examples.files.TransportFile;
import org.tapemetrology.examples.recording.Progress;
import org.tapemetrology.examples.report.HtmlPage;
import org.tapemetrology.examples.report.Report;
import org.tapemetrology.examples.report.Report.Curves;
import org.tapemetrology.examples.report.Report.Judgement;
import org.tapemetrology.examples.report.Report.NamedLine;
import org.tapemetrology.examples.report.Report.Recorded;
import org.tapemetrology.examples.report.Report.Source;
import org.tapemetrology.examples.report.Report.Spectrum;
import org.tapemetrology.examples.report.Report.SpectrumPoint;
import org.tapemetrology.examples.report.Report.Stage;
import org.tapemetrology.examples.report.Report.Strip;
import org.tapemetrology.examples.report.Report.StripPoint;
import org.tapemetrology.examples.report.Report.Suspect;
import org.tapemetrology.examples.service.ServiceReport;

/**
 * The page in a real browser, on a wide and on a narrow screen: no text overlaps another one, leaves the screen or its drawing,
 * is cut off, or stands out too little from its background (WCAG 2.1, 1.4.3). Chromium must be installed: its absence is a
 * failure.
 */
class ReportPageTest {
    private static final String LONG =
            "wow-and-flutter-section-of-the-second-reference-cassette-of-the-archive".repeat(2);

    @TempDir
    private static Path folder;

    private static String page;

    /** Everything that a page can show: a service with problems, names without a place to break, responses, many lines. */
    @BeforeAll
    static void write() throws IOException {
        SampleService sample = new SampleService(folder)
                .named("cassette deck 3 " + LONG)
                .recording("flutter", "before", "\"position\":\"middle\",\"direction\":\"reverse\"", Tone.of(0.9, 0.18))
                .recording("replay-level", "before", "", new Tone(3150, 0, 0.05, -10, -1.8, 0))
                .recording("replay-level", "after", "", new Tone(3150, 0, 0.05, -8, 0.1, 0))
                .recording("speed", "after", LONG + ".wav", "")
                .entered("{\"step\":\"tape-handling\",\"stage\":\"after\",\"date\":\"2026-11-21\",\"name\":\"" + LONG
                        + "\",\"value\":123456.789,\"unit\":\"mN m\",\"upper\":6}");
        sample.transport();
        Report report = ServiceReport.of(
                sample.service(),
                LocalDate.of(2026, 11, 28),
                Optional.of(TransportFile.read(folder.resolve("transport.json"))),
                DecisionRule.guarded(),
                Progress.silent());
        List<Recorded> recordings = new ArrayList<>(report.recordings());
        recordings.add(response(Stage.BEFORE, 4.5));
        recordings.add(response(Stage.AFTER, 0.6));
        page = HtmlPage.of(new Report(
                report.machine(),
                report.made(),
                report.facts(),
                report.steps(),
                report.handReadings(),
                recordings,
                report.combined(),
                report.problems(),
                report.missing()));
        Files.writeString(Path.of("target", "report-page.html"), page); // for whoever wants to look at it
    }

    /** A response that falls by so many decibels to the top, and strips and lines that are hard to draw. */
    private static Recorded response(Stage stage, double fall) {
        List<Reading> readings = new ArrayList<>();
        List<Judgement> judgements = new ArrayList<>();
        double[] frequencies = {40, 63, 125, 250, 500, 1000, 2000, 4000, 8000, 10_000, 12_500};
        for (double hz : frequencies) {
            Reading reading = Reading.valid(Quantity.RESPONSE, -fall * Math.pow(hz / 12_500, 2), "stepped tones")
                    .atFrequency(hz)
                    .onChannel(1)
                    .withUncertainty(new ExpandedUncertainty(0.4, 0.95));
            readings.add(reading);
            Limit limit = Limit.between(Quantity.RESPONSE, -3, 3, "response", "maker", Confidence.SECOND_HAND)
                    .atFrequency(hz);
            judgements.add(new Judgement(DecisionRule.guarded().decide(limit, reading), List.of()));
        }
        List<StripPoint> jumps = new ArrayList<>();
        for (int i = 0; i < 2000; i++) {
            jumps.add(new StripPoint(i * 0.1, -60 - i % 7, -50 - i % 7, -1000.0 * (i % 3)));
        }
        List<SpectrumPoint> points = new ArrayList<>();
        List<NamedLine> lines = new ArrayList<>();
        for (int i = 0; i < 300; i++) {
            points.add(new SpectrumPoint(0.2 * Math.pow(1.024, i), 1e-5 * (1 + i % 5)));
        }
        for (int i = 0; i < 20; i++) {
            lines.add(new NamedLine(
                    25 + 0.3 * i,
                    0.01,
                    0.1 - 0.004 * i,
                    0.001,
                    List.of(new Suspect(LONG, 2, 0.6), new Suspect("belt", 1, 0.39)),
                    0.01,
                    OptionalDouble.of(0.08)));
        }
        return new Recorded(
                stage == Stage.BEFORE ? 90 : 91,
                ServiceStep.REPLAY_RESPONSE,
                stage,
                LocalDate.of(2026, 11, 20),
                "end, reverse, 4.76 cm/s",
                LONG,
                new Source(LONG + ".wav", 48_000, 2, 60),
                true,
                List.of(),
                new Measurement(readings, List.of()),
                List.of(),
                Optional.empty(),
                judgements,
                List.of(),
                new Curves(
                        Optional.of(new Strip(1, 0.1, jumps)),
                        List.of(new Strip(1, 0.1, jumps), new Strip(2, 0.1, jumps)),
                        Optional.of(new Spectrum(1, points, lines))));
    }

    /**
     * On A4 paper with its margins a line is 180 mm long: 680 px, of which 96 make 25.4 mm (CSS Values and Units, 6.2). Rules for
     * paper are made rules for all in a copy of the page.
     */
    @Test
    void nothingOverlapsOrOverflows() throws IOException, InterruptedException {
        assertThat(page).contains("@media print", "@media screen and (max-width");
        String printed = page.replace("@media screen and (max-width", "@media speech and (max-width")
                .replace("@media print", "@media all");
        Files.writeString(Path.of("target", "report-print.html"), printed);
        List<Integer> widths = List.of(1280, 400, 680);
        List<PageCheck> checks =
                PageCheck.of(List.of(new Page(page, 1280), new Page(page, 400), new Page(printed, 680)), folder);
        for (int i = 0; i < widths.size(); i++) {
            PageCheck check = checks.get(i);
            assertThat(check.width()).isEqualTo(widths.get(i));
            assertThat(check.findings()).as("at " + check.width() + " px").isEmpty();
            assertThat(check.texts()).isGreaterThan(200);
            assertThat(check.drawings()).isGreaterThan(5);
        }
    }

    /** A page with one fault, and how what is found of it begins. */
    private record Faulty(String kind, String body) {}

    private static final List<Faulty> FAULTS = List.of(
            new Faulty("overflow: the page", "<p style='white-space:nowrap'>" + "wide ".repeat(120) + "</p>"),
            new Faulty("overflow: \"beyond", "<p style='position:relative;left:-30px'>beyond the left edge</p>"),
            new Faulty("overlap", "<p style='height:30px'>one text</p><p style='margin-top:-40px'>another text</p>"),
            new Faulty("cut", "<p style='overflow:hidden;width:40px;white-space:nowrap'>cut off at the right</p>"),
            new Faulty(
                    "drawing",
                    "<svg viewBox='0 0 100 20' width='100'><text x='60' y='12'>beyond the drawing</text></svg>"),
            new Faulty(
                    "overlap",
                    "<svg viewBox='0 0 100 20' width='100'><text x='5' y='12'>one</text><text x='9' y='12'>two</text></svg>"),
            new Faulty("contrast", "<p style='color:#999999'>pale</p>"),
            new Faulty(
                    "overlap",
                    "<details><summary>more</summary><p style='margin-bottom:-24px'>one text</p><p>another</p></details>"));

    /** The check must be able to fail: each kind of fault is found, and none in a page that has none. */
    @Test
    void faultsAreFoundAndNothingElse() throws IOException, InterruptedException {
        List<Page> pages = new ArrayList<>();
        FAULTS.forEach(fault -> pages.add(new Page(document(fault.body()), 400)));
        pages.add(new Page(
                document(
                        "<h1>Heading</h1><p>Text that is long enough to be broken into several lines on a narrow screen.</p>"),
                400));
        List<PageCheck> checks = PageCheck.of(pages, folder);
        for (int i = 0; i < FAULTS.size(); i++) {
            String kind = FAULTS.get(i).kind();
            assertThat(checks.get(i).findings()).as(FAULTS.get(i).body()).anyMatch(finding -> finding.startsWith(kind));
        }
        assertThat(checks.get(FAULTS.size()).findings()).isEmpty();
        assertThat(checks.get(FAULTS.size()).texts()).isEqualTo(2);
    }

    private static String document(String body) {
        return "<!DOCTYPE html><html lang=\"en\"><head><title>t</title></head><body>" + body.replace('\'', '"')
                + "</body></html>";
    }
}
