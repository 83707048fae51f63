/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.wav.WavEncoding;
import org.tapemetrology.signals.wav.WavWriter;

/**
 * Writes suites for meters that are no Java programs: the recordings as 24-bit WAV files, {@value #CASES} with what is
 * asked and expected, and {@value #RESULTS}, in which the figures are entered for {@link SuiteImport}.
 *
 * <p>Has no state: any number of threads may use it, each with a folder of its own. The same suite gives the same
 * files.
 */
public final class SuiteExport {
    /** Name of the table of cases. */
    public static final String CASES = "cases.csv";

    /** Name of the table to be filled in. */
    public static final String RESULTS = "results.csv";

    private SuiteExport() {}

    /**
     * Writes the files.
     *
     * @param suites the suites
     * @param directory where to; made if it is not there
     * @param overwrite whether files that are there already may be replaced
     * @return number of recordings written
     * @throws IOException when a file is there already and may not be replaced, or cannot be written
     */
    public static int write(List<Suite<?>> suites, Path directory, boolean overwrite) throws IOException {
        Files.createDirectories(directory);
        Map<String, Recording> recordings = recordings(suites);
        List<Path> files = new ArrayList<>(List.of(directory.resolve(CASES), directory.resolve(RESULTS)));
        recordings.keySet().forEach(name -> files.add(directory.resolve(fileName(name))));
        for (Path file : files) {
            if (Files.exists(file) && !overwrite) {
                throw new FileAlreadyExistsException(file.toString(), null, "is there already");
            }
        }
        for (Recording recording : recordings.values()) {
            write(recording, directory.resolve(fileName(recording.name())), overwrite);
        }
        Files.writeString(directory.resolve(CASES), cases(suites), StandardCharsets.UTF_8);
        Files.writeString(directory.resolve(RESULTS), emptyResults(suites), StandardCharsets.UTF_8);
        return recordings.size();
    }

    private static Map<String, Recording> recordings(List<Suite<?>> suites) {
        Map<String, Recording> recordings = new LinkedHashMap<>();
        for (Suite<?> suite : suites) {
            for (ConformanceCase about : suite.cases()) {
                about.recordings().forEach(recording -> recordings.put(recording.name(), recording));
            }
        }
        return recordings;
    }

    private static void write(Recording recording, Path file, boolean overwrite) throws IOException {
        WavWriter.Builder builder = WavWriter.to(file)
                .sampleRateHz(recording.sampleRateHz())
                .channels(recording.channels().size())
                .encoding(WavEncoding.PCM_24);
        if (overwrite) {
            builder.overwrite();
        }
        try (WavWriter writer = builder.create()) {
            writer.write(recording.samples().toArray(new SampledSignal[0]), recording.frames());
            if (writer.saturatedSamples() > 0) {
                throw new IllegalStateException(recording.name() + " goes beyond full scale");
            }
        }
    }

    private static String cases(List<Suite<?>> suites) {
        StringBuilder csv = new StringBuilder(Csv.line(List.of(
                "suite",
                "document",
                "case",
                "clause",
                "asks",
                "recordings",
                "how",
                "unit",
                "expected",
                "lower",
                "upper",
                "limits",
                "reference_lower",
                "reference_upper",
                "source",
                "confidence")));
        for (Suite<?> suite : suites) {
            for (ConformanceCase about : suite.cases()) {
                csv.append(Csv.line(List.of(
                        suite.id(),
                        suite.document(),
                        about.id(),
                        about.clause(),
                        about.asks(),
                        about.recordings().stream()
                                .map(recording -> fileName(recording.name()))
                                .collect(Collectors.joining(" ")),
                        about.how(),
                        about.unit(),
                        Csv.number(about.expected()),
                        Csv.number(about.document().lower()),
                        Csv.number(about.document().upper()),
                        about.limitsConfidence().map(SuiteExport::words).orElse("own"),
                        Csv.number(about.referenceGrade().lower()),
                        Csv.number(about.referenceGrade().upper()),
                        about.source(),
                        words(about.confidence()))));
            }
        }
        return csv.toString();
    }

    private static String emptyResults(List<Suite<?>> suites) {
        StringBuilder csv = new StringBuilder(Csv.line(SuiteImport.COLUMNS));
        for (Suite<?> suite : suites) {
            suite.cases().forEach(about -> csv.append(Csv.line(List.of(about.id(), "", about.unit()))));
        }
        return csv.toString();
    }

    private static String fileName(String recording) {
        return recording + ".wav";
    }

    private static String words(Enum<?> word) {
        return word.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
