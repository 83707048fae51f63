/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;

/** What may stand in text and attributes: HTML, 13.1.2.4 and 13.1.3 (WHATWG). */
class MarkupTest {
    @Test
    void textAndAttributesAreEscaped() {
        assertThat(new Markup()
                        .open("p", "title", "\"><script>alert('1')</script>")
                        .text("<b> & \"quoted\"")
                        .breakable("<i>a.b")
                        .close()
                        .done())
                .startsWith("<p title=\"&quot;&gt;&lt;script&gt;alert(&#39;1&#39;)&lt;/script&gt;\">")
                .contains("&lt;b&gt; &amp; &quot;quoted&quot;")
                .contains("&lt;i&gt;a.<wbr>b");
    }

    /** Controls are no text of HTML; a mark that turns the direction would make one name look like another. */
    @Test
    void whatIsUnseenIsShown() {
        assertThat(new Markup().text("a\u0000b\u202ec\u2066d\ud800e\u0085f").done())
                .isEqualTo("a\ufffdb\ufffdc\ufffdd\ufffde\ufffdf");
        assertThat(new Markup().text("\u00e4 \u03bc \ud83d\udce6\n").done()).isEqualTo("\u00e4 \u03bc \ud83d\udce6\n");
    }

    /** Drawings are the same in every country. */
    @Test
    void coordinatesHaveAPoint() {
        assertThat(new Markup()
                        .empty("line", "x1", 1.2345, "x2", 2.0, "y1", -0.5)
                        .done())
                .isEqualTo("<line x1=\"1.23\" x2=\"2\" y1=\"-0.50\"/>");
    }

    @Test
    void everythingIsClosed() {
        assertThatThrownBy(() -> new Markup().open("p").done())
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining("p");
        assertThatThrownBy(() -> new Markup().open("p", "title")).isInstanceOf(IllegalArgumentException.class);
    }
}
