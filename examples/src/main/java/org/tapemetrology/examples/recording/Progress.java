/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.recording;

import java.io.PrintStream;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** Tells on standard error how far long work has come, where a person watches. */
public final class Progress {
    private static final long FIRST_AFTER_NANOS = 1_000_000_000L;
    private static final long EVERY_NANOS = 200_000_000L;

    private final @Nullable PrintStream terminal;
    private long start;
    private long last;
    private boolean shown;

    private Progress(@Nullable PrintStream terminal) {
        this.terminal = terminal;
    }

    /** Silent unless the process has a terminal. */
    public static Progress onTerminal(PrintStream err) {
        return new Progress(Terminal.hasConsole() ? err : null);
    }

    /** Says nothing. */
    public static Progress silent() {
        return new Progress(null);
    }

    /** Tells how many of several recordings are done. */
    public void done(int count, int all) {
        if (terminal != null) {
            terminal.print(String.format(Locale.ROOT, "\r%d of %d recordings measured", count, all));
            if (count == all) {
                terminal.println();
            }
            terminal.flush();
        }
    }

    /** Silent. */
    public static Progress none() {
        return new Progress(null);
    }

    /** Tells how many of several recordings are measured. */
    public void recordings(int measured, int all) {
        if (terminal == null) {
            return;
        }
        terminal.print(String.format(Locale.ROOT, "\r%d of %d recordings measured", measured, all));
        if (measured == all) {
            terminal.println();
        }
        terminal.flush();
    }

    void begin() {
        start = System.nanoTime();
        last = start;
        shown = false;
    }

    void at(String name, double seconds) {
        if (terminal == null) {
            return;
        }
        long now = System.nanoTime();
        if (now - start > FIRST_AFTER_NANOS && now - last > EVERY_NANOS) {
            terminal.print(String.format(Locale.ROOT, "\r%s: %.0f s measured", name, seconds));
            terminal.flush();
            last = now;
            shown = true;
        }
    }

    void end() {
        if (terminal != null && shown) {
            terminal.println();
        }
    }
}
