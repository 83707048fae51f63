/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.tapemetrology.signals.recorder.RotatingPart;
import org.tapemetrology.signals.recorder.Transport;
import org.tapemetrology.signals.recorder.VirtualRecorder;

/**
 * Machine 2 of an invented archive, North Hill Community Radio: a virtual cassette recorder of two heads whose trimmers have
 * drifted and whose pinch roller is out of round. All its figures are invented.
 */
final class ArchiveMachine {
    private static final long SEED = 11;
    private static final String FAULTY = "pinch roller";
    private static final double RUN_OUT_PERCENT = 0.35;

    /** Its description for the service file; the limits are examples that a user enters. */
    static final String SERVICE = """
            {"schema":"org.tapemetrology.service/1",
             "machine":{"name":"North Hill Community Radio, machine 2","heads":2,"channels":2,
               "leftOut":["erasure","companding-noise-reduction"]},
             "setup":{"tapeSpeedMillimetresPerSecond":47.6,"trackSpacingMillimetres":0.9,"trackWidthMillimetres":0.6,
               "referenceLevelDbfs":-12,"mainsHz":50},
             "limits":[
               {"quantity":"speed.error","lower":-1,"upper":1},
               {"quantity":"flutter.weighted.quasi-peak","upper":0.18},
               {"quantity":"azimuth.delay","lower":-20,"upper":20},
               {"quantity":"level.re-reference","lower":-1.5,"upper":1.5},
               {"quantity":"channel.balance","lower":-2,"upper":2},
               {"quantity":"response","fromHz":63,"toHz":10000,"lower":-4,"upper":4},
               {"quantity":"distortion.third-harmonic","upper":3},
               {"quantity":"separation","lower":25},
               {"quantity":"noise.a-weighted","unit":"dB","upper":-45}],
             "testTapes":[
               {"name":"speed section","toneHz":3150,"frequencyPercent":{"within":0.1}},
               {"name":"azimuth section","toneHz":6300,"delayMicroseconds":{"within":3}},
               {"name":"response section","toneHz":315,"responseDb":{"within":0.5}},
               {"name":"level section","toneHz":315,"levelDb":{"within":0.3},"balanceDb":{"within":0.2}}],
             "converter":{"clockPpm":{"within":50}},
             "recordings":[],"entered":[],"repairs":[]}
            """;

    /** The parts of its transport, for the diagnosis. */
    static final String TRANSPORT = """
            {"tapeSpeedMillimetresPerSecond":47.6,"parts":[
             {"name":"capstan","kind":"capstan","diameterMillimetres":2.4},
             {"name":"pinch roller","kind":"roller","diameterMillimetres":12.6},
             {"name":"motor belt","kind":"belt","lengthMillimetres":210,"speedMillimetresPerSecond":441},
             {"name":"take-up pack","kind":"pack","hubRadiusMillimetres":11,"fullRadiusMillimetres":25.2}]}
            """;

    /** The sections of the response tape, and the programme by which they are found again. */
    static final List<Integer> RESPONSE_HZ = List.of(315, 1000, 2000, 4000, 6300, 8000, 10_000);

    static final double RESPONSE_DB = -20;
    static final double RESPONSE_SECONDS = 4;

    static final String RESPONSE_PROGRAMME = RESPONSE_HZ.stream()
            .map(hz -> String.format(
                    Locale.ROOT,
                    "{\"name\":\"%d Hz\",\"kind\":\"tone\",\"frequencyHz\":%d,\"levelDbfs\":-32,\"seconds\":%.0f}",
                    hz,
                    hz,
                    RESPONSE_SECONDS))
            .collect(
                    Collectors.joining(",\n", "{\"name\":\"response tape\",\"referenceHz\":315,\"steps\":[\n", "]}\n"));

    /** What is recorded and replayed on the machine itself: its level, its response and its noise. */
    static final String RECORD_PROGRAMME = """
            {"name":"record side","referenceHz":315,"steps":[
             {"name":"level","kind":"tone","frequencyHz":315,"levelDbfs":-12,"seconds":15},
             {"name":"gap","kind":"pause","seconds":2},
             {"name":"response","kind":"multitone",
              "frequenciesHz":[63,125,315,1000,2000,4000,6300,8000,10000],"levelDbfs":-40,"seconds":12},
             {"name":"left alone","kind":"tone","frequencyHz":1000,"levelDbfs":-12,"channels":"left","seconds":5},
             {"name":"gap between","kind":"pause","seconds":2},
             {"name":"right alone","kind":"tone","frequencyHz":1000,"levelDbfs":-12,"channels":"right","seconds":5},
             {"name":"silence","kind":"pause","seconds":8},
             {"name":"end","kind":"tone","frequencyHz":1000,"levelDbfs":-12,"seconds":3}]}
            """;

    private ArchiveMachine() {}

    /** As it came to the bench. */
    static VirtualRecorder worn() {
        Transport good = Transport.cassette();
        List<RotatingPart> parts = new ArrayList<>();
        for (RotatingPart part : good.parts()) {
            parts.add(
                    part.name().equals(FAULTY)
                            ? new RotatingPart(FAULTY, part.rateHz(), RUN_OUT_PERCENT, part.ratePercentPerMinute())
                            : part);
        }
        return VirtualRecorder.cassette()
                .transport(new Transport(
                        good.speedMmPerSecond(),
                        good.driftPercentPerMinute(),
                        parts,
                        good.randomFlutterPercent(),
                        good.randomFlutterCornerHz(),
                        good.scrapePercent(),
                        good.scrapeHz()))
                .maladjusted(SEED)
                .build();
    }

    /** With another pinch roller; the trimmers stand where they stood. */
    static VirtualRecorder repaired() {
        return VirtualRecorder.cassette().maladjusted(SEED).build();
    }
}
