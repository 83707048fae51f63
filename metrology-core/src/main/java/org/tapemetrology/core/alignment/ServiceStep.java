/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import static org.tapemetrology.core.quantity.Quantity.AZIMUTH_ANGLE;
import static org.tapemetrology.core.quantity.Quantity.AZIMUTH_DELAY;
import static org.tapemetrology.core.quantity.Quantity.AZIMUTH_LEVEL_DROP;
import static org.tapemetrology.core.quantity.Quantity.BIAS_DROP;
import static org.tapemetrology.core.quantity.Quantity.CHANNEL_BALANCE;
import static org.tapemetrology.core.quantity.Quantity.CHANNEL_POLARITY;
import static org.tapemetrology.core.quantity.Quantity.COMPANDING_TRACKING;
import static org.tapemetrology.core.quantity.Quantity.DISTORTION_DIFFERENCE_FREQUENCY;
import static org.tapemetrology.core.quantity.Quantity.DISTORTION_MODULATION;
import static org.tapemetrology.core.quantity.Quantity.DISTORTION_THD;
import static org.tapemetrology.core.quantity.Quantity.DISTORTION_THD_PLUS_NOISE;
import static org.tapemetrology.core.quantity.Quantity.DISTORTION_THIRD_HARMONIC;
import static org.tapemetrology.core.quantity.Quantity.FLUTTER_RMS;
import static org.tapemetrology.core.quantity.Quantity.FLUTTER_SCRAPE_RMS;
import static org.tapemetrology.core.quantity.Quantity.FLUTTER_UNWEIGHTED_AVERAGE;
import static org.tapemetrology.core.quantity.Quantity.FLUTTER_UNWEIGHTED_PEAK;
import static org.tapemetrology.core.quantity.Quantity.FLUTTER_UNWEIGHTED_RMS;
import static org.tapemetrology.core.quantity.Quantity.FLUTTER_WEIGHTED_AVERAGE;
import static org.tapemetrology.core.quantity.Quantity.FLUTTER_WEIGHTED_QUASI_PEAK;
import static org.tapemetrology.core.quantity.Quantity.FLUTTER_WEIGHTED_RMS;
import static org.tapemetrology.core.quantity.Quantity.FLUTTER_WEIGHTED_TWO_SIGMA;
import static org.tapemetrology.core.quantity.Quantity.HUM;
import static org.tapemetrology.core.quantity.Quantity.LEVEL;
import static org.tapemetrology.core.quantity.Quantity.LEVEL_MAXIMUM_OUTPUT;
import static org.tapemetrology.core.quantity.Quantity.LEVEL_RE_REFERENCE;
import static org.tapemetrology.core.quantity.Quantity.LEVEL_VOLTAGE;
import static org.tapemetrology.core.quantity.Quantity.NOISE_AVERAGE;
import static org.tapemetrology.core.quantity.Quantity.NOISE_A_WEIGHTED;
import static org.tapemetrology.core.quantity.Quantity.NOISE_QUASI_PEAK;
import static org.tapemetrology.core.quantity.Quantity.NOISE_UNWEIGHTED;
import static org.tapemetrology.core.quantity.Quantity.RESPONSE;
import static org.tapemetrology.core.quantity.Quantity.SEPARATION;
import static org.tapemetrology.core.quantity.Quantity.SPEED_DRIFT;
import static org.tapemetrology.core.quantity.Quantity.SPEED_ERROR;
import static org.tapemetrology.core.quantity.Quantity.SPEED_RANGE;
import static org.tapemetrology.core.quantity.Quantity.WOW_RMS;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.tapemetrology.core.quantity.Quantity;

/**
 * The steps of a service in the trade's order (common practice, no source): the replay side by the reference tape first,
 * then the record side, which is judged by the replay side. The constants stand in that order.
 */
public enum ServiceStep {
    /** Heads, guides, capstan and pinch roller are cleaned, the path is demagnetised. */
    CLEANING(
            "cleaning",
            false,
            "Clean heads, guides, capstan and pinch roller; demagnetise the path with the machine switched off and tapes away. Mind the cautions for mains, solvents and demagnetisers."),
    /** The tape is handled well, so that a reference tape may be loaded. */
    TAPE_HANDLING(
            "tape-handling",
            false,
            "Disable recording and play, wind and stop a scrap tape: no reference tape is loaded before it comes out unharmed. Enter take-up torque and pinch force where the maker gives limits."),
    /** Mean speed and its drift. */
    SPEED(
            "speed",
            true,
            "Replay the speed tone for 30 s or more at the start, the middle and the end of the tape, and set the mean speed.",
            SPEED_ERROR,
            SPEED_DRIFT,
            SPEED_RANGE),
    /** Wow and flutter by the standard that the limit names. */
    FLUTTER(
            "flutter",
            true,
            "Replay the same tone for 60 s or more; where the limit is exceeded, diagnose which part is at fault.",
            FLUTTER_WEIGHTED_QUASI_PEAK,
            FLUTTER_WEIGHTED_TWO_SIGMA,
            FLUTTER_WEIGHTED_RMS,
            FLUTTER_WEIGHTED_AVERAGE,
            FLUTTER_UNWEIGHTED_PEAK,
            FLUTTER_UNWEIGHTED_RMS,
            FLUTTER_UNWEIGHTED_AVERAGE,
            WOW_RMS,
            FLUTTER_RMS,
            FLUTTER_SCRAPE_RMS),
    /** Azimuth of the replay head. */
    REPLAY_AZIMUTH(
            "replay-azimuth",
            true,
            "Replay a tone of short wavelength, check with a lower frequency against an error of a whole cycle, and set the delay between the channels to zero; on a mono machine set the highest level.",
            AZIMUTH_DELAY,
            AZIMUTH_ANGLE,
            AZIMUTH_LEVEL_DROP,
            CHANNEL_POLARITY),
    /** Replay level of each channel and their balance. */
    REPLAY_LEVEL(
            "replay-level",
            true,
            "Replay the reference-fluxivity section and set each channel to the maker's level. Do it again after any repair of the electronics.",
            LEVEL,
            LEVEL_VOLTAGE,
            LEVEL_RE_REFERENCE,
            CHANNEL_BALANCE),
    /** Response of the replay side. */
    REPLAY_RESPONSE(
            "replay-response",
            true,
            "Replay the response section and set the replay equalisation. Below 500 Hz a full-width tape reads high by fringing: leave the bass for a recording of the machine's own.",
            RESPONSE),
    /** Azimuth of the record head of a machine with three heads. */
    RECORD_AZIMUTH(
            "record-azimuth",
            false,
            "Record and replay a tone of short wavelength and set the record head as the replay head was set; look again after bias and equalisation.",
            AZIMUTH_DELAY,
            AZIMUTH_ANGLE),
    /** Bias for the tape that is used. */
    BIAS(
            "bias",
            false,
            "Raise the bias until the tone of short wavelength has passed its highest level and fallen by the drop that the tape's maker states.",
            BIAS_DROP),
    /** Record sensitivity: what is recorded comes back at the level that was sent. */
    RECORD_SENSITIVITY(
            "record-sensitivity",
            false,
            "Record the reference frequency at the reference level, rewind, replay, correct, repeat, each channel by itself.",
            LEVEL,
            LEVEL_RE_REFERENCE,
            CHANNEL_BALANCE),
    /** The machine's own meters. */
    METERS(
            "meters",
            false,
            "With the reference level at the output set the machine's meters to their mark; enter their indication."),
    /** Response over recording and replay. */
    RECORD_RESPONSE(
            "record-response",
            false,
            "Record and replay tones 20 dB below the reference level and set the record equalisation; then the bass of the replay side.",
            RESPONSE),
    /** Distortion at the reference level and maximum output level. */
    DISTORTION(
            "distortion",
            false,
            "Record and replay the reference level and read the third harmonic.",
            DISTORTION_THIRD_HARMONIC,
            DISTORTION_THD,
            DISTORTION_THD_PLUS_NOISE,
            DISTORTION_DIFFERENCE_FREQUENCY,
            DISTORTION_MODULATION,
            LEVEL_MAXIMUM_OUTPUT),
    /** Noise of a tape recorded with the inputs closed. */
    NOISE(
            "noise",
            false,
            "Record with the inputs closed, replay, and read the noise re the reference level.",
            NOISE_A_WEIGHTED,
            NOISE_QUASI_PEAK,
            NOISE_AVERAGE,
            NOISE_UNWEIGHTED,
            HUM),
    /** Separation of the channels. */
    SEPARATION_OF_CHANNELS(
            "separation",
            false,
            "Record a tone on one channel with the other closed, and the other way round.",
            SEPARATION),
    /** Erasure. */
    ERASURE("erasure", false, "Record a tone, erase a part of it, replay both.", Quantity.ERASURE),
    /** Tracking of a companding noise reduction. */
    COMPANDING(
            "companding-noise-reduction",
            false,
            "Record tones at several levels with and without the companding noise reduction and compare what comes back; first the replayed reference level has to be right.",
            COMPANDING_TRACKING,
            LEVEL_RE_REFERENCE);

    private final String id;
    private final boolean needsReferenceTape;
    private final String instruction;

    @SuppressWarnings("ImmutableEnumChecker") // Set.copyOf cannot be changed
    private final Set<Quantity> judged;

    ServiceStep(String id, boolean needsReferenceTape, String instruction, Quantity... judged) {
        this.id = id;
        this.needsReferenceTape = needsReferenceTape;
        this.instruction = instruction;
        this.judged = Set.copyOf(Arrays.asList(judged));
    }

    /**
     * The word for this step in files.
     *
     * @return the word
     */
    public String id() {
        return id;
    }

    /**
     * Whether a reference tape is loaded for it.
     *
     * @return false where the machine's own recordings serve
     */
    public boolean needsReferenceTape() {
        return needsReferenceTape;
    }

    /**
     * What is to be done.
     *
     * @return a sentence or two for a person
     */
    public String instruction() {
        return instruction;
    }

    /**
     * Whether a quantity is judged by the recordings of this step.
     *
     * @param quantity a quantity
     * @return true where it is
     */
    public boolean judges(Quantity quantity) {
        return judged.contains(quantity);
    }

    /**
     * Whether the step is done without a recording: what was done or read by hand is entered.
     *
     * @return true where no reading of a recording is judged
     */
    public boolean isByHand() {
        return judged.isEmpty();
    }

    /**
     * The steps that a machine needs, in order.
     *
     * @param heads 2 where one head records and replays, 3 where each has its own
     * @param channels number of channels
     * @return the steps; a machine of two heads has no record azimuth of its own, a mono one no separation
     */
    public static List<ServiceStep> of(int heads, int channels) {
        if (heads < 2 || heads > 3) {
            throw new IllegalArgumentException("heads " + heads + " is not in 2 to 3");
        }
        if (channels < 1) {
            throw new IllegalArgumentException("channels " + channels + " is below 1");
        }
        return Arrays.stream(values())
                .filter(step -> step != RECORD_AZIMUTH || heads == 3)
                .filter(step -> step != SEPARATION_OF_CHANNELS || channels > 1)
                .toList();
    }

    /**
     * The step with an id.
     *
     * @param id the id
     * @return the step, empty where none has it
     */
    public static Optional<ServiceStep> ofId(String id) {
        return Arrays.stream(values()).filter(step -> step.id.equals(id)).findFirst();
    }
}
