/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.report;

/** The look of the page, on screens of any width and on A4 paper. Colours come from {@link Palette} alone, by their names. */
final class StyleSheet {
    private static final String RULES = """
            * { box-sizing: border-box; }
            html { color: INK; background: PAPER; font: 16px/1.5 system-ui, "DejaVu Sans", sans-serif; }
            body { margin: 0; }
            body > header, main, body > nav, body > footer { max-width: 74rem; margin: 0 auto; padding: 0 1rem; }
            body > header { padding-top: 1.2rem; border-top: 6px double LINK; }
            h1 { font-size: 1.6rem; line-height: 1.25; margin: 0 0 .3rem; }
            h2 { font-size: 1.25rem; margin: 2.2rem 0 .6rem; color: LINK; border-bottom: 1px solid RULE; }
            h3 { font-size: 1.05rem; margin: 1.4rem 0 .4rem; }
            h1, h2, h3, p, li, th, td, dd, dt, summary, figcaption, caption { overflow-wrap: anywhere; }
            p { margin: .4rem 0; max-width: 48rem; }
            a { color: LINK; }
            :focus-visible { outline: 3px solid LINK; outline-offset: 2px; }
            .skip { position: absolute; left: 1rem; top: -6rem; background: PAPER; padding: .4rem .8rem; }
            .skip:focus { top: .4rem; }
            nav ol { display: flex; flex-wrap: wrap; gap: .1rem 1.4rem; margin: .6rem 0; padding: 0; list-style: none; }
            nav a { display: inline-block; padding: .2rem 0; }
            .lead { font-size: 1.15rem; }
            .note { border-left: 5px solid FAIL; background: SHADE; padding: .5rem .9rem; margin: .8rem 0; }
            .note.care { border-left-color: LINK; }
            .note h2, .note h3 { margin: .2rem 0; border: 0; }
            ul, ol { padding-left: 1.4rem; margin: .4rem 0; }
            .facts { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 21rem), 1fr)); gap: 0 2rem; }
            dl { margin: 0; }
            dl div { display: grid; grid-template-columns: minmax(0, 2fr) minmax(0, 3fr); gap: .8rem; border-bottom: 1px solid RULE; }
            dt { color: QUIET; }
            dd { margin: 0; }
            table { border-collapse: collapse; width: 100%; margin: .8rem 0 1.2rem; font-size: .92rem; }
            caption { text-align: left; font-weight: 600; padding: .2rem 0; }
            th, td { text-align: left; vertical-align: top; padding: .3rem .6rem .3rem 0; border-bottom: 1px solid RULE; }
            thead th { background: SHADE; padding-left: .3rem; overflow-wrap: break-word; }
            tbody th { font-weight: 600; padding-left: .3rem; }
            .verdict { font-weight: 600; white-space: nowrap; }
            .verdict .sign { width: .95em; height: .95em; margin-right: .35em; vertical-align: -.1em; }
            .pass, .conditional-pass { color: PASS; }
            .fail, .conditional-fail { color: FAIL; }
            .undecided { color: UNDECIDED; }
            .nowrap { white-space: nowrap; }
            .quiet, .key { color: QUIET; }
            .key { font-size: .85rem; }
            .charts { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 22rem), 1fr)); gap: 1rem 1.6rem; }
            figure { margin: 0; min-width: 0; max-width: 30rem; break-inside: avoid; }
            figcaption { font-weight: 600; font-size: .92rem; }
            figure > svg { display: block; width: 100%; height: auto; }
            figure > svg text { font-size: 11px; fill: INK; stroke: PAPER; stroke-width: 3px; stroke-linejoin: round; paint-order: stroke; }
            summary { cursor: pointer; padding: .25rem 0; color: LINK; }
            details table { font-size: .85rem; }
            body > footer { margin-top: 2.5rem; padding-bottom: 2rem; color: QUIET; font-size: .85rem; }
            @media screen and (max-width: 44rem) {
              main table, main tbody, main tr, main tbody th, main td, main caption { display: block; width: auto; }
              main thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
              main tbody tr { border: 1px solid RULE; margin: .5rem 0; }
              main tbody th { background: SHADE; padding: .3rem .5rem; }
              main td { display: grid; grid-template-columns: minmax(0, 2fr) minmax(0, 3fr); gap: .6rem; padding: .25rem .5rem; }
              main td.none { display: none; }
              main td::before { content: attr(data-column); color: QUIET; overflow-wrap: anywhere; }
            }
            @page { size: A4; margin: 16mm 15mm 18mm; }
            @media print {
              html { font-size: 9.5pt; }
              body > nav, .skip { display: none; }
              body > header, main, body > footer { max-width: none; padding: 0; }
              h2, h3, caption, figcaption { break-after: avoid; }
              tr, figure, .note { break-inside: avoid; }
              thead { display: table-header-group; }
              .charts { grid-template-columns: 1fr 1fr; }
              details:not([open]) { display: none; }
              summary { list-style: none; }
              a { color: INK; text-decoration: none; }
              * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
            }
            """;

    private StyleSheet() {}

    static String text() {
        String sheet = RULES;
        for (Palette colour : Palette.values()) {
            sheet = sheet.replaceAll("\\b" + colour.name() + "\\b", colour.hex());
        }
        return sheet;
    }
}
