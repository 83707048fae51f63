/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Locale;
import java.util.Set;

/**
 * Writes elements of HTML and SVG. Text and attributes are escaped here and nowhere else: whatever names a service file holds,
 * none of it becomes markup. Thread-confined.
 */
final class Markup {
    /** Elements after which a line break of the source does not show. */
    private static final Set<String> ENDS_A_LINE = Set.of(
            "head", "header", "nav", "section", "figure", "table", "tr", "li", "div", "p", "h2", "h3", "details");

    private final StringBuilder out = new StringBuilder();
    private final Deque<String> open = new ArrayDeque<>();

    /** Opens an element; attributes are names and values in turn. */
    Markup open(String element, Object... attributes) {
        start(element, attributes).append('>');
        open.push(element);
        return this;
    }

    /** An element without content. */
    Markup empty(String element, Object... attributes) {
        boolean isVoid = element.equals("meta");
        start(element, attributes).append(isVoid ? ">" : "/>");
        return this;
    }

    private StringBuilder start(String element, Object... attributes) {
        if (attributes.length % 2 != 0) {
            throw new IllegalArgumentException(element + ": an attribute has no value");
        }
        out.append('<').append(element);
        for (int i = 0; i < attributes.length; i += 2) {
            out.append(' ').append(attributes[i]).append("=\"");
            Object value = attributes[i + 1];
            escape(value instanceof Double number ? coordinate(number) : String.valueOf(value));
            out.append('"');
        }
        return out;
    }

    /** Text inside the open element. */
    Markup text(String text) {
        escape(text);
        return this;
    }

    /** Text of HTML in which a line may break after the points of an id such as {@code flutter.weighted.rms}. */
    Markup breakable(String text) {
        int from = 0;
        for (int i = 1; i < text.length() - 1; i++) {
            if (text.charAt(i) == '.'
                    && Character.isLetter(text.charAt(i - 1))
                    && Character.isLetter(text.charAt(i + 1))) {
                escape(text.substring(from, i + 1));
                out.append("<wbr>");
                from = i + 1;
            }
        }
        escape(text.substring(from));
        return this;
    }

    /** Closes the element that was opened last. */
    Markup close() {
        String element = open.pop();
        out.append("</").append(element).append('>');
        if (ENDS_A_LINE.contains(element)) {
            out.append('\n');
        }
        return this;
    }

    /** A paragraph that stands back. */
    Markup quiet(String text) {
        return element("p", text, "class", "quiet");
    }

    /** An element with text alone. */
    Markup element(String element, String text, Object... attributes) {
        return open(element, attributes).text(text).close();
    }

    /** A style sheet of this program's own: nothing of a service file may come in here. */
    Markup style(String ownSheet) {
        out.append("<style>\n").append(ownSheet).append("</style>\n");
        return this;
    }

    /** Everything that was written; every element must be closed. */
    String done() {
        if (!open.isEmpty()) {
            throw new IllegalStateException("still open: " + open);
        }
        return out.toString();
    }

    /** Drawings need no more than a hundredth of a unit. */
    private static String coordinate(double value) {
        String text = String.format(Locale.ROOT, "%.2f", value);
        return text.endsWith(".00") ? text.substring(0, text.length() - 3) : text;
    }

    private void escape(String text) {
        text.codePoints().forEach(c -> {
            switch (c) {
                case '&' -> out.append("&amp;");
                case '<' -> out.append("&lt;");
                case '>' -> out.append("&gt;");
                case '"' -> out.append("&quot;");
                case '\'' -> out.append("&#39;");
                default -> out.appendCodePoint(isUnseen(c) ? '\ufffd' : c);
            }
        });
    }

    /** Controls, lone surrogates, and marks that turn the direction of the text that follows: none of them is a name. */
    private static boolean isUnseen(int c) {
        return (Character.isISOControl(c) && c != '\n' && c != '\t')
                || (c >= Character.MIN_SURROGATE && c <= Character.MAX_SURROGATE)
                || (c >= 0x202a && c <= 0x202e)
                || (c >= 0x2066 && c <= 0x2069);
    }
}
