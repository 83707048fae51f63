/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.TestTape;
import org.tapemetrology.examples.files.Setup;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Options that tell what is known of machine, tape and converter. */
final class SetupOptions {
    @Option(
            names = "--setup",
            paramLabel = "FILE",
            description =
                    "JSON file with tape speed, track spacing and width, full scale in volts, reference level, mains frequency and test tape")
    private @Nullable Path setupFile;

    @Mixin
    private InstrumentOptions instruments = new InstrumentOptions();

    Setup setup() throws IOException {
        Setup setup = setupFile == null ? Setup.NONE : Setup.read(setupFile);
        Optional<TestTape> tape = instruments.tape();
        if (tape.isPresent()) {
            setup = setup.with(tape.get());
        }
        Optional<Converter> converter = instruments.converter();
        return converter.isPresent() ? setup.with(converter.get()) : setup;
    }
}
