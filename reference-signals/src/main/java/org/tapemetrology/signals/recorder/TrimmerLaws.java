/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.tapemetrology.signals.internal.Require;

/** The trimmers of a machine and their usual laws; ranges are common practice, no source. */
final class TrimmerLaws {
    static final String SPEED = "speed";
    static final String REPLAY_AZIMUTH = "replay-azimuth";
    static final String RECORD_AZIMUTH = "record-azimuth";
    static final String REPLAY_LEVEL = "replay-level";
    static final String REPLAY_EQUALISATION = "replay-equalisation";
    static final String BIAS = "bias";
    static final String RECORD_LEVEL = "record-level";
    static final String RECORD_EQUALISATION = "record-equalisation";

    private static final List<String> PER_CHANNEL =
            List.of(REPLAY_LEVEL, REPLAY_EQUALISATION, BIAS, RECORD_LEVEL, RECORD_EQUALISATION);

    private static final double POTENTIOMETER_TURNS = 0.75;
    private static final double POTENTIOMETER_BACKLASH = 0.006;
    private static final double SCREW_TURNS = 3;
    private static final double SCREW_BACKLASH = 0.04;

    private TrimmerLaws() {}

    /** All ids of a machine in the order of service. */
    static List<String> ids(int channels, boolean threeHeads) {
        List<String> ids = new ArrayList<>(List.of(SPEED, REPLAY_AZIMUTH));
        if (threeHeads) {
            ids.add(RECORD_AZIMUTH);
        }
        for (String kind : PER_CHANNEL) {
            for (int channel = 1; channel <= channels; channel++) {
                ids.add(kind + "-" + channel);
            }
        }
        return ids;
    }

    /** The id without its channel. */
    static String kind(String id) {
        char last = id.charAt(id.length() - 1);
        return Character.isDigit(last) ? id.substring(0, id.length() - 2) : id;
    }

    static TrimmerLaw usual(String id, SplittableRandom random) {
        double taper = random.nextDouble(0.6, 1.8) * sign(random);
        return switch (kind(id)) {
            case SPEED -> potentiometer("%", -6, 6, taper);
            case REPLAY_AZIMUTH, RECORD_AZIMUTH -> {
                // A screw may lift or lower its side of the head.
                double sense = sign(random);
                yield new TrimmerLaw("arcmin", -40 * sense, 40 * sense, taper / 3, SCREW_TURNS, SCREW_BACKLASH);
            }
            case REPLAY_LEVEL, RECORD_LEVEL -> potentiometer("dB", -8, 6, taper);
            case REPLAY_EQUALISATION, RECORD_EQUALISATION -> potentiometer("dB", -5, 5, taper);
            case BIAS -> potentiometer("dB", -5, 4, taper);
            default -> throw new IllegalArgumentException("trimmer is " + id);
        };
    }

    /** Largest error that a machine comes to service with. */
    static double usualError(String id) {
        return switch (kind(id)) {
            case SPEED, REPLAY_LEVEL, RECORD_LEVEL -> 3;
            case REPLAY_AZIMUTH, RECORD_AZIMUTH -> 12;
            case REPLAY_EQUALISATION, RECORD_EQUALISATION, BIAS -> 2.5;
            default -> throw new IllegalArgumentException("trimmer is " + id);
        };
    }

    static void known(String id, List<String> ids) {
        Require.that(ids.contains(id), "trimmer is " + id + ", allowed: " + String.join(", ", ids));
    }

    private static TrimmerLaw potentiometer(String unit, double lowest, double highest, double taper) {
        return new TrimmerLaw(unit, lowest, highest, taper, POTENTIOMETER_TURNS, POTENTIOMETER_BACKLASH);
    }

    private static double sign(SplittableRandom random) {
        return random.nextBoolean() ? 1 : -1;
    }
}
