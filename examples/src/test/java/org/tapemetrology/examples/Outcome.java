/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.ByteArrayOutputStream;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.List;

/** What a run of the workbench printed, and its exit status. */
public record Outcome(int status, String out, String err) {
    /** Runs the workbench inside this program. */
    public static Outcome run(String... arguments) {
        return run(InputStream.nullInputStream(), arguments);
    }

    /** The same with a standard input. */
    public static Outcome run(InputStream in, String... arguments) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ByteArrayOutputStream err = new ByteArrayOutputStream();
        int status = Workbench.run(
                in,
                new PrintStream(out, true, StandardCharsets.UTF_8),
                new PrintStream(err, true, StandardCharsets.UTF_8),
                arguments);
        return new Outcome(status, out.toString(StandardCharsets.UTF_8), err.toString(StandardCharsets.UTF_8));
    }

    /** The lines that were printed. */
    List<String> lines() {
        return out.lines().toList();
    }
}
