/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.StringReader;
import java.util.List;
import org.junit.jupiter.api.Test;

class TableReaderTest {
    private static final String ABOUT = "# standard: S\n# edition: 1\n# clause: 2\n# unit: dB\n# source: text\n";
    private static final String COLUMNS = "a,confidence\n";

    @Test
    void wholeTableIsRead() throws IOException {
        PublishedTable<Double> table = read(ABOUT + "# note: n\n" + COLUMNS + "1.5,MEMORY\n-2,VERIFIED\n");

        assertThat(table.rows()).containsExactly(1.5, -2.0);
        assertThat(table.standard()).isEqualTo("S");
        assertThat(table.note()).isEqualTo("n");
    }

    @Test
    void missingTableIsAnError() {
        assertThatThrownBy(() -> TableReader.resource("no-such-table.csv", List.of("a"), row -> row))
                .isInstanceOf(IllegalStateException.class)
                .hasMessage("the table no-such-table.csv is missing");
    }

    @Test
    void tableWithoutRowsIsAnError() {
        assertFails(ABOUT + COLUMNS, "t.csv, line 6: the table has no rows");
        assertFails(ABOUT, "the table has no rows");
    }

    @Test
    void unknownMissingOrMovedColumnIsAnError() {
        assertFails(ABOUT + "a,confidence,extra\n1,MEMORY,2\n", "expected: [a, confidence]");
        assertFails(ABOUT + "a\n1\n", "the columns are [a]");
        assertFails(ABOUT + "confidence,a\nMEMORY,1\n", "the columns are [confidence, a]");
    }

    @Test
    void damagedRowIsAnErrorWithItsPlace() {
        assertFails(ABOUT + COLUMNS + "1,MEMORY\n2\n", "t.csv, line 8: the row has 1 cells, expected: 2");
        assertFails(ABOUT + COLUMNS + "1.2.3,MEMORY\n", "line 7: the cell a holds no number but 1.2.3");
        assertFails(ABOUT + COLUMNS + "NaN,MEMORY\n", "line 7: the cell a holds no number but NaN");
        assertFails(ABOUT + COLUMNS + ",MEMORY\n", "the cell a is empty");
        assertFails(ABOUT + COLUMNS + "1,SURE\n", "holds SURE, which is no Confidence");
        assertFails(ABOUT + COLUMNS + "\n", "the row has 1 cells");
    }

    @Test
    void incompleteOriginIsAnError() {
        assertFails(ABOUT.replace("# source: text\n", "") + COLUMNS + "1,MEMORY\n", "expected: all of");
        assertFails(ABOUT + "# sauce: x\n" + COLUMNS + "1,MEMORY\n", "the key sauce is unknown");
        assertFails(ABOUT + "# unit: x\n" + COLUMNS + "1,MEMORY\n", "the key unit stands twice");
        assertFails(ABOUT.replace("text", "") + COLUMNS + "1,MEMORY\n", "the key source has no text");
    }

    private static void assertFails(String text, String message) {
        assertThatThrownBy(() -> read(text))
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining(message);
    }

    private static PublishedTable<Double> read(String text) throws IOException {
        return TableReader.read("t.csv", new StringReader(text), List.of("a", "confidence"), row -> {
            row.confidence("confidence");
            return row.number("a");
        });
    }
}
