/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.Content;
import org.tapemetrology.core.LiveMeter;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.flutter.FlutterIndicator;
import org.tapemetrology.core.flutter.ToneMeter;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.wav.WavFormat;
import org.tapemetrology.examples.files.Failures;
import org.tapemetrology.examples.live.LiveDisplay;
import org.tapemetrology.examples.live.LiveInput;
import org.tapemetrology.examples.live.LiveSession;
import org.tapemetrology.examples.live.SoundCard;
import org.tapemetrology.examples.output.MeasurementJson;
import org.tapemetrology.examples.recording.MeterSettings;
import org.tapemetrology.examples.recording.Recording;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Measures while the tape runs. */
@Command(
        name = "live",
        mixinStandardHelpOptions = true,
        description =
                "Measures what comes on standard input, or from a sound card, and shows speed, flutter, levels, balance and azimuth meanwhile; at the end it prints what \"measure --format json\" prints of the same recording.",
        footer = {
            "",
            "Any capture program can be piped in, as raw samples (--rate, --channels, --pcm; lowest byte first) or with a "
                    + "WAV header. Figures stand as their mean since the last change with how well it is known (+-, 95 %% of the "
                    + "fluctuation), and as the mean of the last 3 s (now): turn a trimmer by the latter, read the former. "
                    + "Samples that a sound card lost are counted; what a capture program lost before it wrote cannot be seen. "
                    + "The measurement ends with the input, after --seconds, or when interrupted. JSON goes to standard output, "
                    + "figures to standard error.",
            "On the bench keep hands, tools and meter leads clear of the mains side of an open machine; work on it live only "
                    + "if qualified. Keep the level into loudspeakers and headphones low.",
            "Exit status: 0 where something was measured, 2 where it could not be read, 64 for wrong usage."
        })
final class LiveCommand implements Callable<Integer> {
    private static final double BLOCK_SECONDS = 0.02;
    private static final int CARD_RATE = 48_000;

    private final InputStream in;
    private final PrintStream out;
    private final PrintStream err;

    @Spec
    private CommandSpec spec = CommandSpec.create();

    @Option(
            names = "--rate",
            paramLabel = "HZ",
            description = "sampling rate; needed for raw samples, 48000 for a card")
    private @Nullable Integer rateHz;

    @Option(names = "--channels", paramLabel = "N", description = "number of channels; 2 where nothing tells it")
    private @Nullable Integer channels;

    @Option(
            names = "--pcm",
            paramLabel = "FORMAT",
            description = "how raw samples are stored: u8, s16 (the default), s24, s32, f32 or f64")
    private LiveInput.Pcm pcm = LiveInput.Pcm.S16;

    @Option(
            names = "--card",
            arity = "0..1",
            fallbackValue = "",
            paramLabel = "NAME",
            description = "read from the sound card whose name holds this; the first that will do without a name")
    private @Nullable String card;

    @Option(
            names = "--nominal",
            paramLabel = "HZ",
            description = "frequency of the tone at the right speed; else the nearest published carrier is assumed")
    private @Nullable Double nominalHz;

    @Option(
            names = "--flutter",
            paramLabel = "ID",
            converter = FlutterFigure.class,
            description = {
                "flutter figure to show:",
                "flutter.weighted.quasi-peak (the default)",
                "flutter.weighted.two-sigma",
                "flutter.weighted.rms",
                "flutter.weighted.average",
                "flutter.unweighted.peak",
                "flutter.unweighted.rms",
                "flutter.unweighted.average",
                "wow.rms",
                "flutter.rms"
            })
    private Quantity flutter = Quantity.FLUTTER_WEIGHTED_QUASI_PEAK;

    @Option(
            names = "--meter",
            paramLabel = "METER",
            converter = MeterName.class,
            description = "level meter to show: volume (the default), programme-peak-1, programme-peak-2 or none")
    private LiveMeter.Indicator indicator = LiveMeter.Indicator.VOLUME;

    @Option(
            names = "--display",
            paramLabel = "HOW",
            description =
                    "table (drawn anew in its place), lines (one each second), none, or auto (the default): table on a terminal")
    private LiveDisplay.Style display = LiveDisplay.Style.AUTO;

    @Option(names = "--seconds", paramLabel = "S", description = "end after this time of the recording")
    private double seconds = Double.POSITIVE_INFINITY;

    @Mixin
    private SetupOptions knowing = new SetupOptions();

    /** Finds a flutter figure by its id. */
    static final class FlutterFigure extends Choices<Quantity> {
        FlutterFigure() {
            super(FlutterIndicator.FIGURES, Quantity::id);
        }
    }

    /** Finds a level meter by its name. */
    static final class MeterName extends Choices<LiveMeter.Indicator> {
        MeterName() {
            super(List.of(LiveMeter.Indicator.values()), meter -> switch (meter) {
                case NONE -> "none";
                case VOLUME -> "volume";
                case PROGRAMME_PEAK_ONE -> "programme-peak-1";
                case PROGRAMME_PEAK_TWO -> "programme-peak-2";
            });
        }
    }

    LiveCommand(InputStream in, PrintStream out, PrintStream err) {
        this.in = in;
        this.out = out;
        this.err = err;
    }

    @Override
    public Integer call() throws IOException {
        check();
        MeterSettings settings = new MeterSettings(
                Content.AUTOMATIC,
                nominalHz == null ? OptionalDouble.empty() : OptionalDouble.of(nominalHz),
                knowing.setup(),
                List.of(),
                false);
        String name = card == null ? LiveInput.STANDARD_INPUT : card.isEmpty() ? "sound card" : card;
        try (LiveInput input = open()) {
            Recording.requireMeasurable(input.reader().format(), input.name());
            return measure(input, settings);
        } catch (IOException | IllegalArgumentException unreadable) {
            err.println("live: " + Failures.message(unreadable));
            out.println(MeasurementJson.line(Recording.Result.failed(name, unreadable)));
            return Workbench.SOMETHING_FAILED;
        }
    }

    private void check() {
        require("--rate", rateHz, ToneMeter.LOWEST_SAMPLE_RATE_HZ, ToneMeter.HIGHEST_SAMPLE_RATE_HZ);
        require("--channels", channels, 1, RecordingMeter.MOST_CHANNELS);
        InputOptions.checkNominal(
                spec.commandLine(),
                nominalHz == null ? OptionalDouble.empty() : OptionalDouble.of(nominalHz),
                ToneMeter.LOWEST_NOMINAL_HZ);
        if (!(seconds > 0)) {
            throw new ParameterException(spec.commandLine(), "--seconds " + seconds + " is not above 0");
        }
    }

    private void require(String option, @Nullable Integer value, int least, int most) {
        if (value != null && (value < least || value > most)) {
            throw new ParameterException(
                    spec.commandLine(), option + " " + value + " is not in " + least + " to " + most);
        }
    }

    private LiveInput open() throws IOException {
        if (card != null) {
            return SoundCard.open(card, rateHz == null ? CARD_RATE : rateHz, channels == null ? 2 : channels, pcm);
        }
        return LiveInput.of(in, optional(rateHz), optional(channels), pcm);
    }

    private static OptionalInt optional(@Nullable Integer value) {
        return value == null ? OptionalInt.empty() : OptionalInt.of(value);
    }

    private int measure(LiveInput input, MeterSettings settings) throws IOException {
        WavFormat format = input.reader().format();
        LiveMeter meter = LiveMeter.builder(settings.builder(format.sampleRateHz(), format.channels()))
                .flutter(flutter)
                .indicator(indicator)
                .build();
        LiveSession session = new LiveSession(input, meter, new LiveDisplay(err, display, System::nanoTime), out);
        // Whoever interrupts wants the result, though the reading thread may wait for samples that never come.
        Thread atInterrupt = new Thread(() -> {
            session.end();
            Runtime.getRuntime().halt(Workbench.ALL_MEASURED);
        });
        Runtime.getRuntime().addShutdownHook(atInterrupt);
        try {
            int block = (int) Math.round(BLOCK_SECONDS * format.sampleRateHz());
            float[] samples = new float[block * format.channels()];
            long most = Math.max(1, Math.round(seconds * format.sampleRateHz()));
            int count = input.reader().read(samples, 0, block);
            while (count > 0 && session.take(samples, (int) Math.min(count, most - session.frames()))) {
                if (session.frames() >= most) {
                    break;
                }
                count = input.reader().read(samples, 0, block);
            }
            if (session.frames() == 0) {
                throw new IOException(input.name() + ": no whole sample came");
            }
            session.end();
        } finally {
            forget(atInterrupt);
        }
        return Workbench.ALL_MEASURED;
    }

    /** Takes the hook away, unless it is at work. */
    private static void forget(Thread hook) {
        try {
            Runtime.getRuntime().removeShutdownHook(hook);
        } catch (IllegalStateException interrupted) {
            // The hook prints what there is, and ends the process.
        }
    }
}
