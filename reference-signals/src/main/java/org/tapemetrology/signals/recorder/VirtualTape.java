/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import org.tapemetrology.signals.internal.Require;

/**
 * A tape: coating, flaws along its length, noise. Its flaws stand at places of the tape, so they come again in every
 * pass. Levels in dB are relative to the machine's reference level. Immutable; may be shared between threads.
 *
 * <p>Settings that are not finite or out of range are refused with an {@link IllegalArgumentException} where they are
 * set. The same seed gives the same flaws and noise.
 */
public final class VirtualTape {
    private final long seed;
    private final BiasLaw biasLaw;
    private final double biasNeed;
    private final double sensitivityDb;
    private final double thirdHarmonicPercent;
    private final double hissDb;
    private final double biasNoiseDb;
    private final double modulationNoisePercent;
    private final double dropoutsPerMinute;
    private final double sensitivityRangeDb;
    private final double jumpDb;
    private final double jumpSeconds;
    private final double printThroughDb;
    private final double printThroughSeconds;

    private VirtualTape(Builder builder) {
        seed = builder.seed;
        biasLaw = builder.biasLaw;
        biasNeed = builder.biasNeed;
        sensitivityDb = builder.sensitivityDb;
        thirdHarmonicPercent = builder.thirdHarmonicPercent;
        hissDb = builder.hissDb;
        biasNoiseDb = builder.biasNoiseDb;
        modulationNoisePercent = builder.modulationNoisePercent;
        dropoutsPerMinute = builder.dropoutsPerMinute;
        sensitivityRangeDb = builder.sensitivityRangeDb;
        jumpDb = builder.jumpDb;
        jumpSeconds = builder.jumpSeconds;
        printThroughDb = builder.printThroughDb;
        printThroughSeconds = builder.printThroughSeconds;
    }

    /**
     * Starts a tape.
     *
     * @param seed start of its random numbers
     * @return a builder of a tape without flaws: the bias law of {@link #ferric}, no noise, linear
     */
    public static Builder builder(long seed) {
        return new Builder(seed);
    }

    /**
     * A cassette tape of poor evenness, as found in the field: sensitivity varies by 0.5 dB along it, the level jumps by 1
     * dB (standard deviation, correlated over 0.5 s). Figures are common practice, no source.
     *
     * @param seed start of its random numbers
     * @return the tape
     */
    public static VirtualTape ferric(long seed) {
        return builder(seed)
                .thirdHarmonicPercent(0.8)
                .hiss(-52, 3)
                .modulationNoisePercent(0.4)
                .dropoutsPerMinute(4)
                .sensitivityRangeDb(0.5)
                .jumps(1, 0.5)
                .build();
    }

    /**
     * An open-reel tape of fair evenness. Figures are common practice, no source.
     *
     * @param seed start of its random numbers
     * @return the tape
     */
    public static VirtualTape openReel(long seed) {
        return builder(seed)
                .biasLaw(new BiasLaw(2.9, 1, 5, 1.08, 13))
                .thirdHarmonicPercent(0.5)
                .hiss(-60, 3)
                .modulationNoisePercent(0.3)
                .dropoutsPerMinute(1)
                .sensitivityRangeDb(0.5)
                .jumps(0.3, 0.5)
                .build();
    }

    /**
     * The same coating on the same piece of tape.
     *
     * @return a builder with the values of this tape
     */
    public Builder toBuilder() {
        return toBuilder(seed);
    }

    /**
     * The same coating on another piece of tape, whose flaws stand elsewhere.
     *
     * @param piece start of the random numbers of that piece
     * @return a builder with the other values of this tape
     */
    public Builder toBuilder(long piece) {
        Builder builder = new Builder(piece);
        builder.biasLaw = biasLaw;
        builder.biasNeed = biasNeed;
        builder.sensitivityDb = sensitivityDb;
        builder.thirdHarmonicPercent = thirdHarmonicPercent;
        builder.hissDb = hissDb;
        builder.biasNoiseDb = biasNoiseDb;
        builder.modulationNoisePercent = modulationNoisePercent;
        builder.dropoutsPerMinute = dropoutsPerMinute;
        builder.sensitivityRangeDb = sensitivityRangeDb;
        builder.jumpDb = jumpDb;
        builder.jumpSeconds = jumpSeconds;
        builder.printThroughDb = printThroughDb;
        builder.printThroughSeconds = printThroughSeconds;
        return builder;
    }

    /**
     * Start of its random numbers.
     *
     * @return the seed
     */
    public long seed() {
        return seed;
    }

    /**
     * How sensitivity and distortion follow the bias.
     *
     * @return the law; its bias of 1 is {@link #biasNeed}
     */
    public BiasLaw biasLaw() {
        return biasLaw;
    }

    /**
     * Bias that this tape wants.
     *
     * @return the recommended bias current re that of the machine's rated tape
     */
    public double biasNeed() {
        return biasNeed;
    }

    /**
     * Mean sensitivity at the recommended bias.
     *
     * @return the level in dB re the machine's rated tape
     */
    public double sensitivityDb() {
        return sensitivityDb;
    }

    /**
     * Third harmonic at reference level, recommended bias corrected to the best one.
     *
     * @return the small-signal law's third harmonic in %
     */
    public double thirdHarmonicPercent() {
        return thirdHarmonicPercent;
    }

    /**
     * Hiss of the erased tape, RMS up to 24 kHz at nominal speed.
     *
     * @return the level in dB
     */
    public double hissDb() {
        return hissDb;
    }

    /**
     * By how much a recording with bias hisses more than the erased tape.
     *
     * @return the increase in dB
     */
    public double biasNoiseDb() {
        return biasNoiseDb;
    }

    /**
     * Modulation noise: RMS of the noise that multiplies a recording.
     *
     * @return the ratio in %
     */
    public double modulationNoisePercent() {
        return modulationNoisePercent;
    }

    /**
     * How often a track loses level.
     *
     * @return dropouts per minute and track
     */
    public double dropoutsPerMinute() {
        return dropoutsPerMinute;
    }

    /**
     * Between the least and the most sensitive place along the tape.
     *
     * @return the range in dB
     */
    public double sensitivityRangeDb() {
        return sensitivityRangeDb;
    }

    /**
     * Jumps of the level.
     *
     * @return the standard deviation in dB
     */
    public double jumpDb() {
        return jumpDb;
    }

    /**
     * How long the level stays: its autocorrelation is exp(-t/T).
     *
     * @return T in seconds
     */
    public double jumpSeconds() {
        return jumpSeconds;
    }

    /**
     * Print-through to either side.
     *
     * @return the level in dB re the recording, minus infinity for none
     */
    public double printThroughDb() {
        return printThroughDb;
    }

    /**
     * One turn of the pack, by which print-through comes before and after.
     *
     * @return the time in seconds
     */
    public double printThroughSeconds() {
        return printThroughSeconds;
    }

    /** Builds a tape. Thread-confined. */
    public static final class Builder {
        private final long seed;
        // Chosen for 2.5 dB of over-bias drop at 6.3 kHz and 47.6 mm/s, as is usual for ferric cassettes (from memory).
        private BiasLaw biasLaw = new BiasLaw(2.9, 1, 1.79, 1.08, 13);
        private double biasNeed = 1;
        private double sensitivityDb;
        private double thirdHarmonicPercent;
        private double hissDb = -200;
        private double biasNoiseDb;
        private double modulationNoisePercent;
        private double dropoutsPerMinute;
        private double sensitivityRangeDb;
        private double jumpDb;
        private double jumpSeconds = 0.5;
        private double printThroughDb = Double.NEGATIVE_INFINITY;
        private double printThroughSeconds = 1.8;

        private Builder(long seed) {
            this.seed = seed;
        }

        /**
         * How sensitivity and distortion follow the bias.
         *
         * @param law any
         * @return this builder
         */
        public Builder biasLaw(BiasLaw law) {
            biasLaw = law;
            return this;
        }

        /**
         * Recommended bias current re that of the machine's rated tape; 1 without this call.
         *
         * @param ratio 0.3 to 3
         * @return this builder
         */
        public Builder biasNeed(double ratio) {
            biasNeed = Require.within("bias need as a ratio", ratio, 0.3, 3);
            return this;
        }

        /**
         * Mean sensitivity re the machine's rated tape; 0 dB without this call.
         *
         * @param decibels -10 to 10
         * @return this builder
         */
        public Builder sensitivityDb(double decibels) {
            sensitivityDb = Require.within("sensitivity in dB", decibels, -10, 10);
            return this;
        }

        /**
         * Third harmonic at reference level at the best bias; 0 without this call.
         *
         * @param percent 0 to 10
         * @return this builder
         */
        public Builder thirdHarmonicPercent(double percent) {
            thirdHarmonicPercent = Require.within("third harmonic in %", percent, 0, 10);
            return this;
        }

        /**
         * Hiss; none without this call.
         *
         * @param erasedDb RMS level of the erased tape up to 24 kHz, -200 to -20 dB
         * @param biasDb increase by recording with bias, 0 to 20 dB
         * @return this builder
         */
        public Builder hiss(double erasedDb, double biasDb) {
            hissDb = Require.within("hiss in dB", erasedDb, -200, -20);
            biasNoiseDb = Require.within("bias noise in dB", biasDb, 0, 20);
            return this;
        }

        /**
         * Modulation noise, one-pole low-passed at 300 Hz; 0 without this call.
         *
         * @param percent 0 to 20
         * @return this builder
         */
        public Builder modulationNoisePercent(double percent) {
            modulationNoisePercent = Require.within("modulation noise in %", percent, 0, 20);
            return this;
        }

        /**
         * Dropouts of 6 to 20 dB and 10 to 60 ms; none without this call.
         *
         * @param perMinute 0 to 600, per track
         * @return this builder
         */
        public Builder dropoutsPerMinute(double perMinute) {
            dropoutsPerMinute = Require.within("dropouts per minute", perMinute, 0, 600);
            return this;
        }

        /**
         * Slow variation of the sensitivity along the tape; 0 without this call.
         *
         * @param decibels from the least to the most sensitive place, 0 to 3
         * @return this builder
         */
        public Builder sensitivityRangeDb(double decibels) {
            sensitivityRangeDb = Require.within("range of the sensitivity in dB", decibels, 0, 3);
            return this;
        }

        /**
         * Jumps of the level, half of their power common to both tracks; none without this call.
         *
         * @param decibels standard deviation, 0 to 3
         * @param seconds mean time from jump to jump, 0.05 to 60
         * @return this builder
         */
        public Builder jumps(double decibels, double seconds) {
            jumpDb = Require.within("jumps in dB", decibels, 0, 3);
            jumpSeconds = Require.within("time between jumps in s", seconds, 0.05, 60);
            return this;
        }

        /**
         * Print-through to the turns beside; none without this call.
         *
         * @param decibels -100 to -20, re the recording
         * @param seconds one turn of the pack, 0.1 to 30
         * @return this builder
         */
        public Builder printThrough(double decibels, double seconds) {
            printThroughDb = Require.within("print-through in dB", decibels, -100, -20);
            printThroughSeconds = Require.within("turn of the pack in s", seconds, 0.1, 30);
            return this;
        }

        /**
         * Makes the tape.
         *
         * @return the tape
         */
        public VirtualTape build() {
            return new VirtualTape(this);
        }
    }
}
