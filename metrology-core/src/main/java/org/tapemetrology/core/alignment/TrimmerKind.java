/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

/**
 * The trimmers of a recorder, with what is guessed of them before the first turn: how much a whole turn does and how far that
 * may be off. The guesses are those of a potentiometer of three quarters of a turn and of a screw of a few turns (common
 * practice, no source); the first readings replace them.
 */
public enum TrimmerKind {
    /** Speed of the motor, in %. */
    SPEED("speed", false, 16, 0.6),
    /** Azimuth of the replay head, in microseconds between the channels; which way a screw tilts the head is not known. */
    REPLAY_AZIMUTH("replay-azimuth", false, 140, 2),
    /** Azimuth of the record head of a machine with three heads. */
    RECORD_AZIMUTH("record-azimuth", false, 140, 2),
    /** Replay level of a channel, in dB. */
    REPLAY_LEVEL("replay-level", true, 19, 0.6),
    /** Treble of the replay equalisation of a channel, in dB. */
    REPLAY_EQUALISATION("replay-equalisation", true, 12, 0.6),
    /** Bias of a channel. */
    BIAS("bias", true, 12, 0.6),
    /** Record level of a channel, in dB. */
    RECORD_LEVEL("record-level", true, 19, 0.6),
    /** Treble of the record equalisation of a channel, in dB. */
    RECORD_EQUALISATION("record-equalisation", true, 11, 0.6);

    private final String id;
    private final boolean perChannel;
    private final double perTurn;
    private final double doubt;

    TrimmerKind(String id, boolean perChannel, double perTurn, double doubt) {
        this.id = id;
        this.perChannel = perChannel;
        this.perTurn = perTurn;
        this.doubt = doubt;
    }

    /**
     * The name of one trimmer.
     *
     * @param channel 1-based channel; of no account where the machine has one trimmer for all channels
     * @return for example {@code bias-1}
     */
    public String id(int channel) {
        return perChannel ? id + "-" + channel : id;
    }

    /** What is guessed of it. */
    TrimmerLaw guess() {
        return new TrimmerLaw(perTurn, doubt);
    }
}
