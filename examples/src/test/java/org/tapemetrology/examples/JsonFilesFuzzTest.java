/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;
import org.tapemetrology.examples.files.InstrumentFile;
import org.tapemetrology.examples.files.LimitFile;
import org.tapemetrology.examples.files.ProgrammeFile;
import org.tapemetrology.examples.files.Setup;
import org.tapemetrology.examples.files.TransportFile;
import org.tapemetrology.examples.service.ServiceFile;

/** Any bytes as a file of each kind are read, or refused with a message that names the file. */
@Tag("fuzz")
class JsonFilesFuzzTest {
    @TempDir
    static Path folder;

    /** Reads a file of one kind. */
    @FunctionalInterface
    private interface Reader {
        Object read(Path file) throws IOException;
    }

    private static final List<Reader> READERS = List.of(
            ServiceFile::read,
            LimitFile::read,
            Setup::read,
            TransportFile::read,
            InstrumentFile::testTape,
            InstrumentFile::converter,
            file -> ProgrammeFile.named(file.toString()));

    @FuzzTest(maxDuration = "1h")
    void anyBytesAreReadOrRefused(byte[] bytes) throws IOException {
        Path file = folder.resolve("fuzz.json");
        Files.write(file, bytes);
        for (Reader reader : READERS) {
            read(reader, file); // the first time, classes are loaded and instrumented
            AllocatedBytes allocated = new AllocatedBytes();
            read(reader, file);
            allocated.check();
        }
    }

    private static void read(Reader reader, Path file) {
        try {
            reader.read(file);
        } catch (IOException | IllegalArgumentException refused) {
            if (refused.getMessage() == null || !refused.getMessage().contains("fuzz.json")) {
                throw new IllegalStateException("the message does not name the file", refused);
            }
        }
    }
}
