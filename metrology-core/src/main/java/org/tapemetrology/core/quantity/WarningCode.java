/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.quantity;

/** The closed set of things that a measurement warns of. */
public enum WarningCode {
    /** The nominal frequency was not given, and the assumed one is more than 1 % away. */
    NOMINAL_ASSUMED("nominal-assumed"),
    /** The test tone was away for a moment and the figures leave that moment out. */
    CARRIER_LOST("carrier-lost"),
    /** The phase of the test tone jumps: samples were lost or repeated, or a tape was joined. */
    TIME_JUMP("time-jump"),
    /** The speed glides at the beginning or the end of the test tone: the machine starts or stops. */
    SPEED_GLIDE("speed-glide"),
    /** The test tone stands in more than one stretch; the longest was measured. */
    SEVERAL_STRETCHES("several-stretches"),
    /** A second tone stands beside the test tone. */
    SECOND_TONE("second-tone"),
    /** Samples at full scale, or a flat top. */
    OVERLOAD("overload"),
    /** The test tone is a few steps of the file's resolution high: rounding is part of its figures, and clipping may hide. */
    COARSE_STEPS("coarse-steps"),
    /** A sample that is no finite number. */
    INVALID_SAMPLE("invalid-sample"),
    /** Noise beside the test tone makes up part of a flutter figure. */
    NOISE("noise"),
    /** The tone or the sample rate leaves too little room for the band of a flutter figure. */
    BAND_TOO_NARROW("band-too-narrow"),
    /** The delay of a single tone is known up to whole periods only. */
    WHOLE_CYCLE("whole-cycle"),
    /** One of the two channels has the opposite polarity. */
    OPPOSITE_POLARITY("opposite-polarity"),
    /** The file is damaged; what is whole was measured. */
    DAMAGED_FILE("damaged-file"),
    /** A step of a test programme was not found. */
    STEP_MISSING("step-missing"),
    /** A step of a test programme is there in part only. */
    STEP_CUT_SHORT("step-cut-short"),
    /** Something may be a step of a test programme, but it is in doubt and was not named. */
    STEP_UNCERTAIN("step-uncertain"),
    /** What was sent on one channel stands on the other. */
    CHANNELS_SWAPPED("channels-swapped"),
    /** Long wavelengths of a tape that is recorded over its full width read high. */
    FRINGING("fringing"),
    /** Samples of a live input came faster than they were taken, and some were lost. */
    INPUT_OVERRUN("input-overrun");

    private final String id;

    WarningCode(String id) {
        this.id = id;
    }

    /**
     * The word for this warning in the machine-readable output.
     *
     * @return the word
     */
    public String id() {
        return id;
    }
}
