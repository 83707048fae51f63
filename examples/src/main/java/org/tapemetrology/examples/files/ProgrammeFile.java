/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.files;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.core.programme.Step;
import org.tapemetrology.core.programme.StepSignal;

/**
 * Reads the description of a test programme, or gives one of those that are built in.
 *
 * <pre>{"name":"my tape","referenceHz":1000,"steps":[
 * {"name":"reference","kind":"tone","frequencyHz":1000,"levelDbfs":-12,"seconds":20},
 * {"name":"left alone","kind":"tone","frequencyHz":1000,"levelDbfs":-12,"channels":"left","seconds":10},
 * {"name":"silence","kind":"pause","seconds":10},
 * {"name":"sweep","kind":"sweep","fromHz":40,"toHz":16000,"levelDbfs":-32,"seconds":30},
 * {"name":"tones","kind":"multitone","frequenciesHz":[100,1000,10000],"levelDbfs":-40,"seconds":10},
 * {"name":"noise","kind":"pink-noise","fromHz":20,"toHz":20000,"levelDbfs":-32,"seconds":10}]}</pre>
 *
 * <p>{@code kind} is {@code tone}, {@code sweep}, {@code multitone}, {@code white-noise}, {@code pink-noise} or {@code pause};
 * {@code channels} is {@code both}, {@code left} or {@code right}.
 */
public final class ProgrammeFile {
    /** Names of the programmes that are built in. */
    static final List<String> BUILT_IN = List.of("speed-and-azimuth", "level-and-response", "record-side");

    private static final double[] RESPONSE_HZ = {
        40, 63, 125, 250, 500, 1000, 2000, 4000, 6300, 8000, 10_000, 12_500, 16_000
    };

    /** More than any tape has; what they cost to recognise grows with their square. */
    private static final int MOST_STEPS = 1000;

    private ProgrammeFile() {}

    /** The built-in programme of that name, else that of the file. */
    public static Programme named(String nameOrFile) throws IOException {
        return named(nameOrFile, Path.of(""));
    }

    /** The same, a file as seen from a folder. */
    public static Programme named(String nameOrFile, Path folder) throws IOException {
        return switch (nameOrFile) {
            case "speed-and-azimuth" -> speedAndAzimuth();
            case "level-and-response" -> levelAndResponse();
            case "record-side" -> recordSide();
            default -> read(folder.resolve(nameOrFile));
        };
    }

    private static Step tone(String name, double hertz, double dbfs, Step.Side side, double seconds) {
        return new Step(name, new StepSignal.Tone(hertz, dbfs), side, seconds);
    }

    private static Step pause(String name, double seconds) {
        return new Step(name, new StepSignal.Pause(), Step.Side.BOTH, seconds);
    }

    private static Programme speedAndAzimuth() {
        return new Programme(
                "speed-and-azimuth",
                List.of(
                        tone("speed", 3150, -12, Step.Side.BOTH, 60),
                        pause("pause", 3),
                        tone("azimuth coarse", 1000, -12, Step.Side.BOTH, 10),
                        tone("azimuth fine", 10_000, -22, Step.Side.BOTH, 20),
                        new Step("azimuth noise", new StepSignal.Noise(true, 20, 20_000, -22), Step.Side.BOTH, 15)),
                OptionalDouble.empty());
    }

    private static Programme levelAndResponse() {
        List<Step> steps = new ArrayList<>();
        steps.add(tone("reference level", 315, -12, Step.Side.BOTH, 20));
        steps.add(pause("pause", 3));
        for (double hertz : RESPONSE_HZ) {
            steps.add(tone(String.format(Locale.ROOT, "response %.0f Hz", hertz), hertz, -32, Step.Side.BOTH, 5));
        }
        steps.add(pause("pause before the sweep", 3));
        steps.add(new Step("sweep", new StepSignal.Sweep(40, 16_000, -32), Step.Side.BOTH, 30));
        steps.add(pause("noise floor", 15));
        steps.add(tone("end", 1000, -12, Step.Side.BOTH, 5));
        return new Programme("level-and-response", steps, OptionalDouble.empty());
    }

    private static Programme recordSide() {
        List<Step> steps = new ArrayList<>(List.of(
                tone("record level", 1000, -12, Step.Side.BOTH, 15),
                tone("left alone", 1000, -12, Step.Side.LEFT, 10),
                tone("right alone", 1000, -12, Step.Side.RIGHT, 10),
                pause("pause", 3)));
        for (int over = 0; over <= 9; over += 3) {
            steps.add(tone("distortion at +" + over + " dB", 333, over - 12.0, Step.Side.BOTH, 6));
        }
        steps.add(pause("pause before the response", 3));
        for (double hertz : RESPONSE_HZ) {
            steps.add(tone(String.format(Locale.ROOT, "response %.0f Hz", hertz), hertz, -32, Step.Side.BOTH, 5));
        }
        steps.add(pause("recorded silence", 15));
        steps.add(tone("end", 1000, -12, Step.Side.BOTH, 5));
        return new Programme("record-side", steps, OptionalDouble.empty());
    }

    private static Programme read(Path file) throws IOException {
        JsonFields fields = JsonFields.read(file);
        String name = fields.text("name").orElse(String.valueOf(file.getFileName()));
        OptionalDouble reference = fields.number("referenceHz", StepSignal.LOWEST_HZ, StepSignal.HIGHEST_HZ);
        List<Step> steps = new ArrayList<>();
        int count = fields.objects("steps").size();
        if (count > MOST_STEPS) {
            throw fields.wrong("steps", ": " + count + " are more than " + MOST_STEPS);
        }
        for (JsonFields each : fields.objects("steps")) {
            steps.add(step(each));
        }
        fields.noOthers();
        try {
            return new Programme(name, steps, reference);
        } catch (IllegalArgumentException wrong) {
            throw fields.wrong("steps", ": " + wrong.getMessage());
        }
    }

    private static Step step(JsonFields fields) {
        String kind = fields.requiredText("kind");
        StepSignal signal;
        try {
            signal = switch (kind) {
                case "tone" -> new StepSignal.Tone(hertz(fields, "frequencyHz"), level(fields));
                case "sweep" -> new StepSignal.Sweep(hertz(fields, "fromHz"), hertz(fields, "toHz"), level(fields));
                case "multitone" ->
                    new StepSignal.Multitone(
                            fields.numbers("frequenciesHz", StepSignal.LOWEST_HZ, StepSignal.HIGHEST_HZ),
                            level(fields));
                case "white-noise", "pink-noise" ->
                    new StepSignal.Noise(
                            kind.equals("pink-noise"),
                            fields.number("fromHz", StepSignal.LOWEST_HZ, StepSignal.HIGHEST_HZ)
                                    .orElse(20),
                            fields.number("toHz", StepSignal.LOWEST_HZ, StepSignal.HIGHEST_HZ)
                                    .orElse(20_000),
                            level(fields));
                case "pause" -> new StepSignal.Pause();
                default ->
                    throw fields.wrong(
                            "kind", kind + " is none of tone, sweep, multitone, white-noise, pink-noise, pause");
            };
        } catch (IllegalArgumentException wrong) {
            throw fields.named(wrong, "kind");
        }
        String channels = fields.text("channels").orElse("both");
        Step.Side side = switch (channels) {
            case "both" -> Step.Side.BOTH;
            case "left" -> Step.Side.LEFT;
            case "right" -> Step.Side.RIGHT;
            default -> throw fields.wrong("channels", channels + " is none of both, left, right");
        };
        String name = fields.requiredText("name");
        double seconds = fields.requiredNumber("seconds", Step.SHORTEST_SECONDS, Step.LONGEST_SECONDS);
        fields.noOthers();
        try {
            return new Step(name, signal, side, seconds);
        } catch (IllegalArgumentException wrong) {
            throw fields.named(wrong, "name");
        }
    }

    private static double hertz(JsonFields fields, String name) {
        return fields.requiredNumber(name, StepSignal.LOWEST_HZ, StepSignal.HIGHEST_HZ);
    }

    private static double level(JsonFields fields) {
        return fields.requiredNumber("levelDbfs", StepSignal.LOWEST_DBFS, 0);
    }
}
