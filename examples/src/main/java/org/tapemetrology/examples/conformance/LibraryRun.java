/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.function.Predicate;
import org.tapemetrology.signals.conformance.CaseResult;
import org.tapemetrology.signals.conformance.ConformanceReport;
import org.tapemetrology.signals.conformance.Suite;
import org.tapemetrology.signals.conformance.SuiteReport;
import org.tapemetrology.signals.conformance.Suites;

/** Runs the suites on the meters of this library. */
public final class LibraryRun {
    private final Predicate<String> wanted;
    private final Consumer<CaseResult> progress;
    private final List<SuiteReport> reports = new ArrayList<>();

    private LibraryRun(Predicate<String> wanted, Consumer<CaseResult> progress) {
        this.wanted = wanted;
        this.progress = progress;
    }

    /**
     * Runs suites on the meters of this library.
     *
     * @param wanted which suites, by their ids; at least one
     * @param progress is told each result as it comes
     * @return a report for each suite, in the order of {@link Suites#all()}
     */
    public static ConformanceReport run(Predicate<String> wanted, Consumer<CaseResult> progress) {
        LibraryRun run = new LibraryRun(wanted, progress);
        LibraryFlutterMeter flutter = new LibraryFlutterMeter();
        LibraryNoiseMeter noise = new LibraryNoiseMeter();
        run.add(Suites.iec60386QuasiPeak(), flutter);
        run.add(Suites.iec60386TwoSigma(), flutter);
        run.add(Suites.nab1965(), flutter);
        run.add(Suites.jisC5551(), flutter);
        run.add(Suites.din45500Speed(), new LibrarySpeedMeter());
        run.add(Suites.ituRBs468(), noise);
        run.add(Suites.iec61672AWeighting(), noise);
        run.add(Suites.iec60268Part17(), LibraryProgrammeMeter.volumeIndicator());
        run.add(Suites.iec60268Part10TypeOne(), LibraryProgrammeMeter.typeOne());
        run.add(Suites.iec60268Part10TypeTwo(), LibraryProgrammeMeter.typeTwo());
        run.add(Suites.iec60094Equalisation(), new LibraryEqualisation());
        return new ConformanceReport(run.reports);
    }

    private <M> void add(Suite<M> suite, M meter) {
        if (wanted.test(suite.id())) {
            reports.add(suite.run(meter, progress));
        }
    }
}
