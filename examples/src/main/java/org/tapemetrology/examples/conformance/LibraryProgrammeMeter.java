/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleFunction;
import org.tapemetrology.core.level.BallisticMeter;
import org.tapemetrology.signals.conformance.Figure;
import org.tapemetrology.signals.conformance.ProgrammeMeterUnderTest;
import org.tapemetrology.signals.conformance.RecordingFormat;

/** A meter of this library with ballistics, to be tested. */
public final class LibraryProgrammeMeter implements ProgrammeMeterUnderTest {
    private final DoubleFunction<BallisticMeter> meterForRate;
    private final List<BallisticMeter> meters = new ArrayList<>();

    private LibraryProgrammeMeter(DoubleFunction<BallisticMeter> meterForRate) {
        this.meterForRate = meterForRate;
    }

    /**
     * The volume indicator.
     *
     * @return a meter at rest
     */
    public static LibraryProgrammeMeter volumeIndicator() {
        return new LibraryProgrammeMeter(BallisticMeter::volumeIndicator);
    }

    /**
     * The peak programme meter of type I.
     *
     * @return a meter at rest
     */
    public static LibraryProgrammeMeter typeOne() {
        return new LibraryProgrammeMeter(BallisticMeter::programmePeakTypeOne);
    }

    /**
     * The peak programme meter of type II.
     *
     * @return a meter at rest
     */
    public static LibraryProgrammeMeter typeTwo() {
        return new LibraryProgrammeMeter(BallisticMeter::programmePeakTypeTwo);
    }

    @Override
    public void start(RecordingFormat format) {
        meters.clear();
        for (int i = 0; i < format.channels(); i++) {
            meters.add(meterForRate.apply(format.sampleRateHz()));
        }
    }

    @Override
    public void accept(double[][] block, int length) {
        for (int i = 0; i < meters.size(); i++) {
            meters.get(i).accept(block[i], 0, length);
        }
    }

    @Override
    public Optional<Figure> read(Asked asked, int channel) {
        int which = switch (asked) {
            case NOW -> 0;
            case MAXIMUM -> 1;
        };
        return LibraryTone.figure(Optional.of(meters.get(channel).readings().get(which)));
    }
}
