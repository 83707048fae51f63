/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Set;
import org.tapemetrology.signals.table.Confidence;
import org.tapemetrology.signals.table.PublishedTable;
import org.tapemetrology.signals.table.PublishedTables;
import org.tapemetrology.signals.table.TimeConstantRow;

/** Cases of the replay equalisation. */
final class EqualisationCases {
    /** The limit for "conforms" where the printed tolerances were not seen: common practice, no source. */
    private static final double WIDE_DB = 0.5;
    /** Own limit: half of the last digit of a table to one decimal. */
    private static final double NARROW_DB = 0.05;

    private EqualisationCases() {}

    static Suite<EqualisationUnderTest> iec60094() {
        PublishedTable<TimeConstantRow> table = PublishedTables.timeConstants();
        List<Exercise<EqualisationUnderTest>> cases = new ArrayList<>();
        Set<List<Double>> seen = new HashSet<>();
        for (TimeConstantRow row : table.rows()) {
            double bass = row.bassMicroseconds().orElse(0);
            if (seen.add(List.of(bass, row.trebleMicroseconds()))) {
                for (double hz : new double[] {63, 10_000, 16_000}) {
                    cases.add(flux(table, row, hz, 1000));
                }
            }
        }
        for (TimeConstantRow row : table.rows()) {
            if (row.designation().startsWith("cassette")) {
                cases.add(flux(table, row, 10_000, 315));
            }
        }
        return new Suite<>(
                "iec-60094-1",
                "IEC 60094-1:1981 clause 15 and earlier standards: replay equalisation",
                List.of(
                        "tolerances of the printed table: they were not seen; all limits are own",
                        "losses of tape and head: the curve alone is tested"),
                cases);
    }

    private static Exercise<EqualisationUnderTest> flux(
            PublishedTable<TimeConstantRow> table, TimeConstantRow row, double hz, double referenceHz) {
        OptionalDouble bass = row.bassMicroseconds();
        String constants = (bass.isPresent() ? FlutterCases.name(bass.getAsDouble()) + "-" : "")
                + FlutterCases.name(row.trebleMicroseconds());
        String at = FlutterCases.name(hz);
        String re = FlutterCases.name(referenceHz);
        return new CaseDraft<EqualisationUnderTest>(
                        "eq-" + constants + "us-" + at + "-re-" + re,
                        table.clause(),
                        "flux at " + at + " Hz re " + re + " Hz, " + constants.replace("-", " and ") + " us")
                .how("level of the recorded flux")
                .expects(row.fluxDb(hz) - row.fluxDb(referenceHz), EqualisationUnderTest.UNIT, 2)
                .ownLimits(WIDE_DB)
                .narrower(NARROW_DB)
                .source(
                        table.source() + "; level by the formula of clause 15, from memory",
                        row.confidence() == Confidence.MEMORY ? Confidence.MEMORY : Confidence.COMPUTED)
                .by((equalisation, bench) -> Bench.value(
                        equalisation.fluxLevel(bass, row.trebleMicroseconds(), hz, referenceHz),
                        "level of the flux",
                        EqualisationUnderTest.UNIT));
    }
}
