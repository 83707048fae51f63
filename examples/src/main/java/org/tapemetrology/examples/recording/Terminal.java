/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.recording;

import java.io.Console;
import java.io.IOException;
import java.lang.ProcessBuilder.Redirect;
import java.util.concurrent.TimeUnit;

/** Whether a person watches. */
public final class Terminal {
    private static final long PATIENCE_SECONDS = 2;

    private Terminal() {}

    /** Whether the process has a console. Up to Java 21 it has one on a terminal alone; from Java 22 on it has to be asked. */
    @SuppressWarnings("SystemConsoleNull")
    static boolean hasConsole() {
        Console console = System.console();
        if (console == null) {
            return false;
        }
        try {
            return (boolean) Console.class.getMethod("isTerminal").invoke(console);
        } catch (ReflectiveOperationException beforeJava22) {
            return true;
        }
    }

    /**
     * Whether standard error is a terminal, though standard input may be a pipe, where Java knows no console. The POSIX utility
     * "test" is asked; where there is none, such as on Windows, the answer is no.
     */
    public static boolean isOnStandardError() {
        if (hasConsole()) {
            return true;
        }
        try {
            Process asked = new ProcessBuilder("test", "-t", "2")
                    .redirectError(Redirect.INHERIT)
                    .start();
            return asked.waitFor(PATIENCE_SECONDS, TimeUnit.SECONDS) && asked.exitValue() == 0;
        } catch (IOException noSuchUtility) {
            return false;
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
            return false;
        }
    }
}
