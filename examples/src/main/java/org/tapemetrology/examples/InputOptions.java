/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.examples.recording.Recording;
import picocli.CommandLine;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;

/** What every command takes that looks at recordings: which files, which part of them, against which tone, how printed. */
final class InputOptions {
    /** How results are printed. */
    enum Format {
        /** A table for people. */
        TEXT,
        /** One JSON object a line. */
        JSON
    }

    private static final double HIGHEST_NOMINAL_HZ = 82_560;

    @Option(names = "--format", paramLabel = "FORMAT", description = "text (the default) or json")
    private Format format = Format.TEXT;

    @Option(
            names = "--nominal",
            paramLabel = "HZ",
            description = "frequency of the tone at the right speed; else the nearest published carrier is assumed")
    private @Nullable Double nominalHz;

    @Option(names = "--from", paramLabel = "S", description = "look at the recordings from this second on")
    private double fromSeconds;

    @Option(names = "--to", paramLabel = "S", description = "look at them up to this second")
    private double toSeconds = Double.POSITIVE_INFINITY;

    @Parameters(arity = "1..*", paramLabel = "FILE", description = "WAV file; - reads one from standard input")
    private List<String> files = List.of();

    /** Refuses values that make no sense, as wrong usage. */
    void check(CommandLine command, double lowestNominalHz) {
        if (!(fromSeconds >= 0 && fromSeconds < toSeconds)) {
            throw new ParameterException(command, "--from " + fromSeconds + " is not between 0 and --to " + toSeconds);
        }
        checkNominal(command, nominalHz(), lowestNominalHz);
    }

    /** Refuses a nominal frequency that no meter takes, as wrong usage. */
    static void checkNominal(CommandLine command, OptionalDouble nominal, double lowestNominalHz) {
        if (nominal.isPresent()
                && !(nominal.getAsDouble() >= lowestNominalHz && nominal.getAsDouble() <= HIGHEST_NOMINAL_HZ)) {
            throw new ParameterException(
                    command,
                    String.format(
                            Locale.ROOT,
                            "--nominal %s is not in %.0f to %.0f Hz",
                            nominal.getAsDouble(),
                            lowestNominalHz,
                            HIGHEST_NOMINAL_HZ));
        }
    }

    boolean isJson() {
        return format == Format.JSON;
    }

    OptionalDouble nominalHz() {
        return nominalHz == null ? OptionalDouble.empty() : OptionalDouble.of(nominalHz);
    }

    /** The recordings in the order in which they were given. */
    List<Recording> recordings() {
        return files.stream()
                .map(file -> new Recording(file, fromSeconds, toSeconds))
                .toList();
    }
}
