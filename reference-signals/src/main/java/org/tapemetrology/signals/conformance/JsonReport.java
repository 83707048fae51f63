/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.Locale;

/** The report as one JSON object. */
final class JsonReport {
    private static final String SCHEMA = "org.tapemetrology.conformance/1";

    private final StringBuilder json = new StringBuilder();

    private JsonReport() {}

    static String of(ConformanceReport report) {
        JsonReport writer = new JsonReport();
        writer.write(report);
        return writer.json.append('\n').toString();
    }

    private void write(ConformanceReport report) {
        json.append('{');
        text("schema", SCHEMA).append(',');
        json.append("\"passes\":").append(report.passes()).append(',');
        json.append("\"caseCount\":").append(report.caseCount()).append(',');
        json.append("\"suites\":[");
        String comma = "";
        for (SuiteReport suite : report.suites()) {
            json.append(comma);
            write(suite);
            comma = ",";
        }
        json.append("]}");
    }

    private void write(SuiteReport suite) {
        json.append('{');
        text("id", suite.id()).append(',');
        text("document", suite.document()).append(',');
        json.append("\"passes\":").append(suite.passes()).append(',');
        json.append("\"caseCount\":").append(suite.cases().size()).append(',');
        json.append("\"cases\":[");
        String comma = "";
        for (CaseResult result : suite.results()) {
            json.append(comma);
            write(result);
            comma = ",";
        }
        json.append("]}");
    }

    private void write(CaseResult result) {
        ConformanceCase about = result.about();
        json.append('{');
        text("id", about.id()).append(',');
        text("clause", about.clause()).append(',');
        text("asks", about.asks()).append(',');
        text("unit", about.unit()).append(',');
        number("expected", about.expected()).append(',');
        number("got", result.got().orElse(Double.NaN)).append(',');
        number("shareOfTolerance", result.share().orElse(Double.NaN)).append(',');
        text("verdict", result.verdict().words()).append(',');
        text("reason", result.reason()).append(',');
        limits("limits", about.document());
        json.append(',');
        limits("referenceGrade", about.referenceGrade());
        json.append(',');
        text("source", about.source()).append(',');
        text("confidence", words(about.confidence())).append(',');
        text("limitsConfidence", about.limitsConfidence().map(JsonReport::words).orElse("own limit"));
        json.append('}');
    }

    private void limits(String name, Limits limits) {
        json.append('"').append(name).append("\":{");
        number("lower", limits.lower()).append(',');
        number("upper", limits.upper()).append(',');
        text("origin", words(limits.origin())).append('}');
    }

    private static String words(Enum<?> word) {
        return word.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** A number, or null where it is none or infinite, which JSON does not know. */
    private StringBuilder number(String name, double value) {
        json.append('"').append(name).append("\":");
        return Double.isFinite(value) ? json.append(value) : json.append("null");
    }

    private StringBuilder text(String name, String value) {
        json.append('"').append(name).append("\":");
        return json.append(quoted(value));
    }

    /** A JSON string: quotation mark, backslash and control characters are escaped. */
    static String quoted(String value) {
        StringBuilder quoted = new StringBuilder("\"");
        for (int i = 0; i < value.length(); i++) {
            char c = value.charAt(i);
            if (c == '"' || c == '\\') {
                quoted.append('\\').append(c);
            } else if (c < ' ' || Character.isSurrogate(c)) {
                quoted.append(String.format(Locale.ROOT, "\\u%04x", (int) c));
            } else {
                quoted.append(c);
            }
        }
        return quoted.append('"').toString();
    }
}
