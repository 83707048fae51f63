/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.files;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.loss.TrackGeometry;
import org.tapemetrology.core.quantity.Confidence;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.TestTape;

/**
 * What is known of machine, tape and converter, as read from a small JSON file. Every field may be left out:
 *
 * <pre>{"tapeSpeedMillimetresPerSecond":47.6, "trackSpacingMillimetres":0.9, "trackWidthMillimetres":0.6,
 * "fullScaleVolts":2.0, "referenceLevelDbfs":-14.0, "mainsHz":50,
 * "testTape":{"name":"speed tape","toneHz":3150,"fullWidth":false,"frequencyPercent":{"value":0.02,"uncertainty":0.05,"factor":2}},
 * "converter":{"name":"converter","clockPpm":{"within":20}}}</pre>
 *
 * <p>For the errors of tape and converter see {@link InstrumentFile}.
 *
 * @param tapeSpeedMillimetresPerSecond nominal speed of the tape
 * @param trackSpacingMillimetres distance of the middles of the two tracks
 * @param trackWidthMillimetres width of each track
 * @param fullScaleVolts RMS voltage of the sine that reads 0 dBFS
 * @param referenceLevelDbfs level at which the reference section of a test tape replays
 * @param mainsHz mains frequency
 * @param toneHz frequency that the tone of the test tape has at the right speed
 * @param fullWidthTape whether the test tape is recorded over its full width, so that long wavelengths read high by fringing
 * @param testTape how well the test tape is known
 * @param converter how well the converter is known
 */
public record Setup(
        OptionalDouble tapeSpeedMillimetresPerSecond,
        OptionalDouble trackSpacingMillimetres,
        OptionalDouble trackWidthMillimetres,
        OptionalDouble fullScaleVolts,
        OptionalDouble referenceLevelDbfs,
        OptionalDouble mainsHz,
        OptionalDouble toneHz,
        boolean fullWidthTape,
        TestTape testTape,
        Converter converter) {
    private static final String FULL_WIDTH = "fullWidth";

    /** Nothing is known. */
    public static final Setup NONE = new Setup(
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            false,
            TestTape.assumed(),
            Converter.assumed());

    public static Setup read(Path file) throws IOException {
        return of(JsonFields.read(file));
    }

    /** The setup that an object describes, which may hold nothing else. */
    public static Setup of(JsonFields fields) {
        Optional<JsonFields> tape = fields.object("testTape");
        Optional<JsonFields> converter = fields.object("converter");
        Setup setup = new Setup(
                fields.number("tapeSpeedMillimetresPerSecond", 1, 10_000),
                fields.number("trackSpacingMillimetres", 0.01, 100),
                fields.number("trackWidthMillimetres", 0.01, 100),
                fields.number("fullScaleVolts", 1e-6, 1000),
                fields.number("referenceLevelDbfs", -120, 20),
                fields.number("mainsHz", 45, 65),
                tape.map(t -> t.number("toneHz", 20, 82_560)).orElse(OptionalDouble.empty()),
                tape.map(t -> t.flag(FULL_WIDTH)).orElse(false),
                tape.map(InstrumentFile::testTape).orElse(TestTape.assumed()),
                converter.map(InstrumentFile::converter).orElse(Converter.assumed()));
        tape.ifPresent(JsonFields::noOthers);
        converter.ifPresent(JsonFields::noOthers);
        fields.noOthers();
        return setup;
    }

    /** This setup with another tape. */
    public Setup with(TestTape tape) {
        return with(tapeSpeedMillimetresPerSecond, toneHz, fullWidthTape, tape, converter);
    }

    /** This setup with the test tape that an object describes; fields that are not its own are left to the caller. */
    public Setup withTape(JsonFields fields) {
        OptionalDouble tone = fields.number("toneHz", 20, 82_560);
        return with(
                tapeSpeedMillimetresPerSecond,
                tone.isPresent() ? tone : toneHz,
                fields.flag(FULL_WIDTH),
                InstrumentFile.testTape(fields),
                converter);
    }

    /** This setup with another converter. */
    public Setup with(Converter other) {
        return with(tapeSpeedMillimetresPerSecond, toneHz, fullWidthTape, testTape, other);
    }

    /** This setup at another speed of the tape. */
    public Setup withSpeed(double millimetresPerSecond) {
        return with(OptionalDouble.of(millimetresPerSecond), toneHz, fullWidthTape, testTape, converter);
    }

    /** This setup with a tone of another frequency. */
    public Setup withTone(double hz) {
        return with(tapeSpeedMillimetresPerSecond, OptionalDouble.of(hz), fullWidthTape, testTape, converter);
    }

    private Setup with(OptionalDouble speed, OptionalDouble tone, boolean fullWidth, TestTape tape, Converter other) {
        return new Setup(
                speed,
                trackSpacingMillimetres,
                trackWidthMillimetres,
                fullScaleVolts,
                referenceLevelDbfs,
                mainsHz,
                tone,
                fullWidth,
                tape,
                other);
    }

    /** The tracks, where their spacing and the speed are known; a width that is not known is not used. */
    public Optional<TrackGeometry> tracks() {
        if (trackSpacingMillimetres.isEmpty() || tapeSpeedMillimetresPerSecond.isEmpty()) {
            return Optional.empty();
        }
        double spacing = trackSpacingMillimetres.getAsDouble();
        return Optional.of(TrackGeometry.pair(
                "as set up", trackWidthMillimetres.orElse(spacing), spacing, "setup file", Confidence.SECOND_HAND));
    }
}
