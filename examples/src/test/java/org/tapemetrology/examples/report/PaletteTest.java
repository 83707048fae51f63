/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Contrast of the colours by WCAG 2.1: relative luminance and contrast ratio as defined there, 4.5:1 for text (1.4.3), 3:1 for
 * what is drawn (1.4.11). Formulas from the published recommendation, from memory.
 */
class PaletteTest {
    private static final double TEXT = 4.5;
    private static final double GRAPHIC = 3;

    static double luminance(String hex) {
        double[] weights = {0.2126, 0.7152, 0.0722};
        double sum = 0;
        for (int i = 0; i < 3; i++) {
            double value = Integer.parseInt(hex.substring(1 + 2 * i, 3 + 2 * i), 16) / 255.0;
            sum += weights[i] * (value <= 0.03928 ? value / 12.92 : Math.pow((value + 0.055) / 1.055, 2.4));
        }
        return sum;
    }

    static double contrast(Palette one, Palette other) {
        double a = luminance(one.hex());
        double b = luminance(other.hex());
        return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    }

    /** Black on white has 21:1, by definition the highest; #777777 on white 4.48:1, a well-known case just below the limit. */
    @Test
    void theFormulaIsThatOfTheRecommendation() {
        assertThat((1 + 0.05) / (luminance("#000000") + 0.05)).isEqualTo(21);
        // two decimals are how the figure is quoted
        assertThat((1 + 0.05) / (luminance("#777777") + 0.05)).isBetween(4.475, 4.485);
    }

    @ParameterizedTest
    @EnumSource(names = {"INK", "QUIET", "LINK", "PASS", "FAIL", "UNDECIDED"})
    void textStandsOut(Palette text) {
        assertThat(contrast(text, Palette.PAPER)).isGreaterThanOrEqualTo(TEXT);
        assertThat(contrast(text, Palette.SHADE)).isGreaterThanOrEqualTo(TEXT);
    }

    /** Numbers and names stand on the field of a limit too. */
    @Test
    void textOfChartsStandsOut() {
        assertThat(contrast(Palette.INK, Palette.FIELD)).isGreaterThanOrEqualTo(TEXT);
    }

    @ParameterizedTest
    @EnumSource(names = {"BEFORE", "AFTER", "SECOND", "EDGE", "QUIET"})
    void marksStandOut(Palette mark) {
        assertThat(contrast(mark, Palette.PAPER)).isGreaterThanOrEqualTo(GRAPHIC);
        assertThat(contrast(mark, Palette.FIELD)).isGreaterThanOrEqualTo(GRAPHIC);
    }

    /** The style sheet has no colour that is not in the palette, and no name of one is left in it. */
    @Test
    void thereAreNoOtherColours() {
        List<String> known = Arrays.stream(Palette.values()).map(Palette::hex).toList();
        Matcher colours = Pattern.compile("#[0-9a-fA-F]{3,8}\\b").matcher(StyleSheet.text());
        assertThat(colours.results().map(match -> match.group()).toList())
                .isNotEmpty()
                .allMatch(known::contains);
        for (Palette colour : Palette.values()) {
            assertThat(StyleSheet.text()).doesNotContainPattern("\\b" + colour.name() + "\\b");
        }
        assertThat(StyleSheet.text()).doesNotContain("rgb(", "hsl(", "url(", "@import");
    }
}
