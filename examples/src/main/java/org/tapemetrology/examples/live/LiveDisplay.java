/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.live;

import java.io.PrintStream;
import java.util.List;
import java.util.function.LongSupplier;
import java.util.function.Supplier;
import org.tapemetrology.core.LiveReading;
import org.tapemetrology.examples.recording.Terminal;

/** Shows figures while they come: on a terminal a table that is drawn anew in its place, elsewhere a line each second. */
public final class LiveDisplay {
    /** Blocks come every 20 ms, so that it is drawn every 60 ms: 16 times a second. */
    private static final long TABLE_EVERY_NANOS = 50_000_000L;

    private static final long LINE_EVERY_NANOS = 1_000_000_000L;

    private static final String CONTROL = "\u001b[";
    private static final String ERASE_LINE = CONTROL + "K";
    private static final String ERASE_BELOW = CONTROL + "J";

    private final PrintStream out;
    private final Style style;
    private final LongSupplier nanoTime;
    private boolean begun;
    private long last;
    private int drawn;

    /** How figures are shown. */
    public enum Style {
        /** A table on a terminal, else lines. */
        AUTO,
        /** A table that is drawn anew in its place; needs a terminal that knows the control sequences of ECMA-48. */
        TABLE,
        /** A line each second. */
        LINES,
        /** Nothing. */
        NONE
    }

    public LiveDisplay(PrintStream out, Style style, LongSupplier nanoTime) {
        this.out = out;
        this.style = style == Style.AUTO ? (Terminal.isOnStandardError() ? Style.TABLE : Style.LINES) : style;
        this.nanoTime = nanoTime;
    }

    /** Shows the figures if it is time to. */
    public void show(Supplier<LiveReading> figures) {
        if (style == Style.NONE) {
            return;
        }
        long now = nanoTime.getAsLong();
        if (begun && now - last < (style == Style.TABLE ? TABLE_EVERY_NANOS : LINE_EVERY_NANOS)) {
            return;
        }
        begun = true;
        last = now;
        draw(figures.get());
    }

    /** Shows the last figures. */
    void end(LiveReading figures) {
        if (style != Style.NONE) {
            draw(figures);
        }
    }

    private void draw(LiveReading figures) {
        if (style == Style.LINES) {
            out.println(LiveTable.line(figures));
            return;
        }
        List<String> lines = LiveTable.table(figures);
        StringBuilder text = new StringBuilder();
        if (drawn > 0) {
            text.append(CONTROL).append(drawn).append("A");
        }
        for (String line : lines) {
            text.append(line).append(ERASE_LINE).append(System.lineSeparator());
        }
        out.print(text.append(ERASE_BELOW));
        out.flush();
        drawn = lines.size();
    }
}
