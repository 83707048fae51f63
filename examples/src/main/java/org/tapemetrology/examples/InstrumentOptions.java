/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.TestTape;
import org.tapemetrology.examples.files.InstrumentFile;
import picocli.CommandLine.Option;

/** Options that tell what is known of test tape and converter. */
final class InstrumentOptions {
    @Option(names = "--tape", paramLabel = "FILE", description = "JSON description of the test tape")
    private @Nullable Path tapeFile;

    @Option(names = "--converter", paramLabel = "FILE", description = "JSON description of the converter")
    private @Nullable Path converterFile;

    /** The test tape, empty where none is given. */
    Optional<TestTape> tape() throws IOException {
        return tapeFile == null ? Optional.empty() : Optional.of(InstrumentFile.testTape(tapeFile));
    }

    /** The converter, empty where none is given. */
    Optional<Converter> converter() throws IOException {
        return converterFile == null ? Optional.empty() : Optional.of(InstrumentFile.converter(converterFile));
    }
}
