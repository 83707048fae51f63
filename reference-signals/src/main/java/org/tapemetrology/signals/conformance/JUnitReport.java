/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

/** The report in the XML of JUnit. */
final class JUnitReport {
    private JUnitReport() {}

    static String of(ConformanceReport report) {
        StringBuilder xml = new StringBuilder("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
        xml.append("<testsuites tests=\"")
                .append(report.caseCount())
                .append("\" failures=\"")
                .append(report.count(Verdict.FAILS))
                .append("\" errors=\"")
                .append(report.count(Verdict.NOT_READ))
                .append("\">\n");
        for (SuiteReport suite : report.suites()) {
            xml.append("  <testsuite name=\"")
                    .append(escaped(suite.document()))
                    .append("\" tests=\"")
                    .append(suite.cases().size())
                    .append("\" failures=\"")
                    .append(suite.count(Verdict.FAILS))
                    .append("\" errors=\"")
                    .append(suite.count(Verdict.NOT_READ))
                    .append("\">\n");
            for (CaseResult result : suite.results()) {
                append(xml, suite, result);
            }
            xml.append("  </testsuite>\n");
        }
        return xml.append("</testsuites>\n").toString();
    }

    private static void append(StringBuilder xml, SuiteReport suite, CaseResult result) {
        xml.append("    <testcase classname=\"")
                .append(escaped(suite.id()))
                .append("\" name=\"")
                .append(escaped(result.about().id()))
                .append('"');
        if (result.verdict().passes()) {
            xml.append("/>\n");
            return;
        }
        String element = result.verdict() == Verdict.NOT_READ ? "error" : "failure";
        xml.append("><").append(element).append(" message=\"");
        xml.append(escaped(message(result))).append("\"/></testcase>\n");
    }

    private static String message(CaseResult result) {
        ConformanceCase about = result.about();
        return result.got().isEmpty()
                ? result.verdict().words() + ": " + result.reason()
                : Numbers.fixed(result.got(), about.digits() + 2) + " " + about.unit() + ", allowed: "
                        + Numbers.limits(about.document(), Numbers.limitDigits(about)) + " " + about.unit();
    }

    /** Text for an attribute; characters that XML 1.0 does not know become a question mark. */
    static String escaped(String text) {
        StringBuilder escaped = new StringBuilder();
        text.codePoints().forEach(c -> {
            switch (c) {
                case '&' -> escaped.append("&amp;");
                case '<' -> escaped.append("&lt;");
                case '>' -> escaped.append("&gt;");
                case '"' -> escaped.append("&quot;");
                case '\'' -> escaped.append("&apos;");
                case '\t', '\n', '\r' -> escaped.append("&#").append(c).append(';');
                default -> {
                    boolean known = (c >= 0x20 && c <= 0xD7FF) || (c >= 0xE000 && c <= 0xFFFD) || c >= 0x10000;
                    escaped.appendCodePoint(known ? c : '?');
                }
            }
        });
        return escaped.toString();
    }
}
