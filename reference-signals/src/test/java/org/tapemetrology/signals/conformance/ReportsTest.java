/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.StringReader;
import java.util.List;
import java.util.Optional;
import javax.xml.parsers.DocumentBuilder;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.xml.sax.InputSource;

/** The forms of a report. */
class ReportsTest {
    private static final String NASTY = "<&\"'> | \\ \u0001\n\uD83D\uDE00 end";

    private static ConformanceReport report() {
        Suite<EqualisationUnderTest> suite = Suites.iec60094Equalisation();
        int[] asked = {0};
        return new ConformanceReport(List.of(suite.run((bass, treble, hz, referenceHz) -> {
            if (asked[0]++ == 0) {
                throw new IllegalStateException(NASTY);
            }
            return Optional.of(new Figure(0, "dB"));
        })));
    }

    /** The XML parser of the platform reads it. */
    @Test
    void jUnitXmlIsWellFormedAndCounts() throws Exception {
        ConformanceReport report = report();
        DocumentBuilder builder = DocumentBuilderFactory.newInstance().newDocumentBuilder();
        Document document = builder.parse(new InputSource(new StringReader(report.toJUnitXml())));
        Element root = document.getDocumentElement();
        assertThat(root.getAttribute("tests")).isEqualTo(String.valueOf(report.caseCount()));
        assertThat(root.getElementsByTagName("testcase").getLength()).isEqualTo(report.caseCount());
        assertThat(root.getElementsByTagName("error").getLength()).isEqualTo(1);
        assertThat((long) root.getElementsByTagName("failure").getLength()).isEqualTo(report.count(Verdict.FAILS));
        assertThat(report.count(Verdict.FAILS)).isGreaterThan(0);
        Element error = (Element) root.getElementsByTagName("error").item(0);
        assertThat(error.getAttribute("message")).contains(NASTY.replace('\u0001', '?'));
    }

    @Test
    void jsonEscapesWhatMustBe() {
        assertThat(JsonReport.quoted("a\"b\\c\u0001\n\uD83D\uDE00"))
                .isEqualTo("\"a\\\"b\\\\c\\u0001\\u000a\\ud83d\\ude00\"");
        String json = report().toJson();
        assertThat(json).endsWith("}\n").contains("\"passes\":false", "\"got\":null", "\"caseCount\":35");
        assertThat(json.strip().chars().filter(c -> c < ' ')).isEmpty();
    }

    @Test
    void textKeepsALineForEachCaseAndCounts() {
        ConformanceReport report = report();
        assertThat(report.toText().lines().filter(line -> line.startsWith("  eq-")))
                .hasSize(report.caseCount());
        assertThat(report.toText()).contains("not read: the meter threw").endsWith(", 1 not read\n");
    }

    @Test
    void markdownSaysWhatIsNotCoveredAndWhatRestsOnMemory() {
        ConformanceReport report = report();
        String page = report.toMarkdown("Title", "Words.");
        assertThat(page)
                .startsWith("# Title\n\nWords.\n")
                .contains("Not covered:\n- ")
                .contains("rest on memory");
        assertThat(page.lines().filter(line -> line.startsWith("| `"))).hasSize(report.caseCount());
    }
}
