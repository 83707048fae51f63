/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.examples.Outcome.run;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.tapemetrology.examples.report.Report.Strip;
import org.tapemetrology.examples.report.Report.StripPoint;

/** Level over time, against tones of known level. */
class LevelTraceTest {
    @TempDir
    private Path folder;

    private List<Strip> trace(String... more) throws IOException {
        Path wav = folder.resolve("tone.wav");
        String[] arguments = new String[more.length + 5];
        List<String> first = List.of("generate", "--out", wav.toString(), "--rate", "8000");
        for (int i = 0; i < arguments.length; i++) {
            arguments[i] = i < 5 ? first.get(i) : more[i - 5];
        }
        assertThat(run(arguments).status()).isZero();
        return LevelTrace.of(wav);
    }

    /** A full-scale sine reads 0 dBFS: one of -8 dBFS reads -8. 0.01 dB: a window of 100 ms holds whole periods of 1 kHz. */
    @Test
    void aToneReadsItsLevel() throws IOException {
        List<Strip> strips = trace("--tone", "1000", "--level", "-8", "--seconds", "2.05", "--channels", "2");
        assertThat(strips).hasSize(2);
        assertThat(strips.get(1).channel()).isEqualTo(2);
        assertThat(strips.get(0).points()).hasSize(20); // the half window at the end is left out
        assertThat(strips.get(0).points())
                .allSatisfy(point -> assertThat(point.mean()).isCloseTo(-8, within(0.01)));
        assertThat(strips.get(0).points().get(3).seconds()).isCloseTo(0.35, within(1e-9));
    }

    /** A dropout of 20 dB over 0.2 s shows where it is. */
    @Test
    void aDropoutShowsAtItsPlace() throws IOException {
        List<StripPoint> points = trace("--tone", "1000", "--level", "-8", "--seconds", "2", "--dropout", "1.0:0.3:20")
                .get(0)
                .points();
        // the middle window is inside the dropout as a whole
        assertThat(points.get(11).mean()).isCloseTo(-28, within(0.1));
        assertThat(points.get(8).mean()).isCloseTo(-8, within(0.01));
    }

    /** Ten minutes are 6000 windows: they are summed up in pairs, and nothing grows beyond bounds. */
    @Test
    void longRecordingsAreSummedUp() throws IOException {
        Strip strip = trace("--tone", "1000", "--level", "-8", "--seconds", "600", "--dropout", "300:0.2:20")
                .get(0);
        assertThat(strip.intervalSeconds()).isCloseTo(0.2, within(1e-9));
        assertThat(strip.points()).hasSize(3000);
        StripPoint deep = strip.points().get(1500);
        assertThat(deep.seconds()).isCloseTo(300.1, within(1e-6));
        // its edges take part in the windows: somewhat less than 20 dB deep, and the mean lies above the lowest window
        assertThat(deep.low()).isBetween(-28.1, -25.0).isLessThan(deep.mean());
        assertThat(strip.points().get(100).low()).isCloseTo(-8, within(0.01));
    }
}
