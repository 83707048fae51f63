/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.format.DateTimeParseException;
import java.util.concurrent.Callable;
import java.util.function.Function;
import org.tapemetrology.examples.files.Failures;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Help.Ansi;

/** The command line of the workbench. Without a command it runs the demonstration. */
@Command(
        name = "workbench",
        mixinStandardHelpOptions = true,
        version = "tape metrology workbench 0.1.0",
        description = "Measures tape recorders by recordings of test tapes.",
        subcommands = {
            MeasureCommand.class,
            DiagnoseCommand.class,
            ServiceCommand.class,
            AlignCommand.class,
            PractiseCommand.class,
            ReportCommand.class,
            CheckConverterCommand.class,
            LiveCommand.class,
            GenerateCommand.class,
            ConformanceCommand.class,
            DemoCommand.class
        },
        footerHeading = "%nCautions%n",
        footer = {
            "Isolate a machine from the mains and let its capacitors discharge before you open it; work on a live "
                    + "chassis only if qualified, through an isolating transformer or residual-current protection. Keep test "
                    + "tones low into loudspeakers and headphones. Before a reference tape: demagnetise the path, disable "
                    + "recording, try the tape handling with a scrap tape. Keep demagnetisers away from tapes, watches and "
                    + "pacemakers; ventilate where you use solvents. Local codes, the maker's service instructions and licensed "
                    + "practice come first."
        })
public final class Workbench implements Callable<Integer> {
    /** Everything was measured. */
    static final int ALL_MEASURED = 0;
    /** At least one input or output failed. */
    static final int SOMETHING_FAILED = 2;
    /** The command line was wrong. */
    static final int WRONG_USAGE = 64;

    private final PrintStream out;
    private final PrintStream err;

    private Workbench(PrintStream out, PrintStream err) {
        this.out = out;
        this.err = err;
    }

    /**
     * Runs the workbench and ends the process where the status is not 0.
     *
     * @param arguments the command line
     */
    public static void main(String[] arguments) {
        int status = run(
                new PrintStream(System.out, true, StandardCharsets.UTF_8),
                new PrintStream(System.err, true, StandardCharsets.UTF_8),
                arguments);
        if (status != ALL_MEASURED) {
            System.exit(status);
        }
    }

    /** Runs the workbench with streams of the caller's; returns the exit status. */
    static int run(PrintStream out, PrintStream err, String... arguments) {
        return run(System.in, out, err, arguments);
    }

    /** The same with a standard input of the caller's for what is measured live. */
    static int run(InputStream in, PrintStream out, PrintStream err, String... arguments) {
        Workbench workbench = new Workbench(out, err);
        CommandLine commands = new CommandLine(workbench, new Factory(in, out, err))
                .setOut(new PrintWriter(out, true, StandardCharsets.UTF_8))
                .setErr(new PrintWriter(err, true, StandardCharsets.UTF_8))
                .setColorScheme(CommandLine.Help.defaultColorScheme(Ansi.OFF))
                .setUsageHelpWidth(100)
                .setCaseInsensitiveEnumValuesAllowed(true)
                .registerConverter(Path.class, Workbench::path)
                .registerConverter(LocalDate.class, given -> parsed(given, LocalDate::parse, "day as 2026-11-25"))
                .registerConverter(LocalTime.class, given -> parsed(given, LocalTime::parse, "time as 14:30"))
                .setParameterExceptionHandler((wrong, given) -> {
                    err.println(wrong.getMessage());
                    err.println(
                            "Try '" + wrong.getCommandLine().getCommandSpec().qualifiedName() + " --help'.");
                    return WRONG_USAGE;
                })
                .setExecutionExceptionHandler((failure, command, parsed) -> {
                    err.println(command.getCommandName() + ": " + Failures.message(failure));
                    return SOMETHING_FAILED;
                });
        try {
            return commands.execute(arguments);
        } catch (OutOfMemoryError tooLarge) {
            err.println("the memory does not suffice; java -Xmx gives the program more");
            return SOMETHING_FAILED;
        }
    }

    @Override
    public Integer call() throws IOException {
        return new DemoCommand(out, err).call();
    }

    /** Hands the streams to the commands. */
    private record Factory(InputStream in, PrintStream out, PrintStream err) implements CommandLine.IFactory {
        @Override
        public <K> K create(Class<K> type) throws Exception {
            if (type == MeasureCommand.class) {
                return type.cast(new MeasureCommand(out, err));
            }
            if (type == DiagnoseCommand.class) {
                return type.cast(new DiagnoseCommand(out, err));
            }
            if (type == ServiceCommand.class) {
                return type.cast(new ServiceCommand(out, err));
            }
            if (type == AlignCommand.class) {
                return type.cast(new AlignCommand(in, out));
            }
            if (type == PractiseCommand.class) {
                return type.cast(new PractiseCommand(in, out));
            }
            if (type == ReportCommand.class) {
                return type.cast(new ReportCommand(err));
            }
            if (type == CheckConverterCommand.class) {
                return type.cast(new CheckConverterCommand(out, err));
            }
            if (type == LiveCommand.class) {
                return type.cast(new LiveCommand(in, out, err));
            }
            if (type == GenerateCommand.class) {
                return type.cast(new GenerateCommand(err));
            }
            if (type == ConformanceCommand.class) {
                return type.cast(new ConformanceCommand(out, err));
            }
            if (type == DemoCommand.class) {
                return type.cast(new DemoCommand(out, err));
            }
            return CommandLine.defaultFactory().create(type);
        }
    }

    /** A path, or an error that names what cannot be one. */
    private static Path path(String given) {
        try {
            return Path.of(given);
        } catch (InvalidPathException wrong) {
            throw new CommandLine.TypeConversionException(
                    "'" + wrong.getInput() + "' is no path: " + wrong.getReason());
        }
    }

    /** A day or a time, or an error that shows how one is written. */
    private static <T> T parsed(String given, Function<String, T> parser, String example) {
        try {
            return parser.apply(given);
        } catch (DateTimeParseException wrong) {
            throw new CommandLine.TypeConversionException("'" + given + "' is no " + example);
        }
    }
}
