/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.nio.file.Path;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** Options that tell what is known of machine, tape and converter. */
final class SetupOptions {
    @Option(
            names = "--setup",
            paramLabel = "FILE",
            description =
                    "JSON file with tape speed, track spacing and width, full scale in volts, reference level, mains frequency and test tape")
    private @Nullable Path setupFile;

    @Option(names = "--tape", paramLabel = "FILE", description = "JSON description of the test tape")
    private @Nullable Path tapeFile;

    @Option(names = "--converter", paramLabel = "FILE", description = "JSON description of the converter")
    private @Nullable Path converterFile;

    Setup setup() throws IOException {
        Setup setup = setupFile == null ? Setup.NONE : Setup.read(setupFile);
        if (tapeFile != null) {
            setup = setup.with(InstrumentFile.testTape(tapeFile));
        }
        if (converterFile != null) {
            setup = setup.with(InstrumentFile.converter(converterFile));
        }
        return setup;
    }
}
