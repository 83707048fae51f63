/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.tapemetrology.signals.Decibels;
import org.tapemetrology.signals.Sequence;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.Sine;
import org.tapemetrology.signals.internal.Require;

/**
 * A calibration tape: sections of known flux, the same on all tracks, recorded at the nominal speed. Levels are re the
 * standard flux curve of the format, with a section's 0 dB at the tape's own reference fluxivity. Immutable; may be shared
 * between threads.
 *
 * <p>Levels are in dB, frequencies in Hz, lengths in s. What is not finite or out of range is refused with an {@link
 * IllegalArgumentException} where it is set. The same seed gives the same tape.
 */
public final class TestTape {
    private final List<Section> sections;
    private final Sequence sequence;
    private final double fluxivity;
    private final double azimuthArcmin;
    private final VirtualTape stock;

    private TestTape(Builder builder) {
        sections = List.copyOf(builder.sections);
        List<Sequence.Section> parts = new ArrayList<>();
        for (Section section : sections) {
            parts.add(new Sequence.Section(section.flux(), section.seconds()));
        }
        sequence = new Sequence(parts);
        fluxivity = builder.fluxivity;
        azimuthArcmin = builder.azimuthArcmin;
        stock = builder.stock;
    }

    /**
     * Starts a test tape.
     *
     * @return a builder of a tape of 250 nWb/m on flawless stock, without sections
     */
    public static Builder builder() {
        return new Builder();
    }

    /**
     * A cassette tape in the pattern of IEC 60094-2 (from memory): level 315 Hz, speed 3150 Hz, azimuth 10 kHz, response at
     * -20 dB; blank between. Its stock jumps by 0.2 dB.
     *
     * @param seed start of the random numbers of its stock
     * @return the tape, 250 nWb/m
     */
    public static TestTape cassette(long seed) {
        return pattern(
                315,
                250,
                VirtualTape.ferric(seed).toBuilder()
                        .jumps(0.2, 0.5)
                        .sensitivityRangeDb(0)
                        .build());
    }

    /**
     * An open-reel tape in the same pattern with the level at 1 kHz.
     *
     * @param seed start of the random numbers of its stock
     * @return the tape, 320 nWb/m
     */
    public static TestTape openReel(long seed) {
        return pattern(
                1000,
                320,
                VirtualTape.openReel(seed).toBuilder()
                        .jumps(0.1, 0.5)
                        .sensitivityRangeDb(0)
                        .build());
    }

    private static TestTape pattern(double referenceHz, double fluxivity, VirtualTape stock) {
        Builder builder = builder().fluxivity(fluxivity).stock(stock);
        builder.tone("level", referenceHz, 0, 20).silence(1);
        builder.tone("speed", 3150, 0, 40).silence(1);
        builder.tone("azimuth", 10_000, -10, 20).silence(1);
        double[] response = {referenceHz, 63, 125, 250, 500, 1000, 2000, 4000, 6300, 8000, 10_000, 12_500};
        for (double hz : response) {
            builder.tone("response", hz, -20, 6).silence(0.5);
        }
        return builder.build();
    }

    /**
     * The sections, blank ones included.
     *
     * @return the sections in order
     */
    public List<Section> sections() {
        return sections;
    }

    /**
     * Where a section begins, at nominal speed.
     *
     * @param section number of the section from 0; the number of sections itself gives the end of the last
     * @return the time in seconds
     */
    public double startSeconds(int section) {
        return sequence.startSeconds(section);
    }

    /**
     * Duration at nominal speed.
     *
     * @return the duration in seconds
     */
    public double seconds() {
        return sequence.seconds();
    }

    /**
     * Reference fluxivity.
     *
     * @return short-circuit flux per track width in nWb/m, RMS
     */
    public double fluxivity() {
        return fluxivity;
    }

    /**
     * Azimuth error of the tape.
     *
     * @return the angle in arcmin
     */
    public double azimuthArcmin() {
        return azimuthArcmin;
    }

    /** Reads the tape on a machine of another reference fluxivity. */
    TapeReader reader(int channels, double machineFluxivity) {
        return new Reader(channels, fluxivity / machineFluxivity);
    }

    private final class Reader implements TapeReader {
        private final double gain;
        private final TapeSurface[] surfaces;
        private final GaussianNoise[] noises;
        private final double hiss = Decibels.toRatio(stock.hissDb() + stock.biasNoiseDb()) / Math.sqrt(2);
        private long next;

        Reader(int channels, double gain) {
            this.gain = gain;
            surfaces = new TapeSurface[channels];
            noises = new GaussianNoise[channels];
            SplittableRandom seeds = new SplittableRandom(~stock.seed());
            for (int track = 0; track < channels; track++) {
                surfaces[track] = new TapeSurface(stock, track);
                noises[track] = new GaussianNoise(seeds.split());
            }
        }

        @Override
        public void read(double[][] tracks, int offset, int count) {
            for (int i = offset; i < offset + count; i++, next++) {
                long whole = next / VirtualRecorder.TAPE_RATE;
                double fraction = (double) (next % VirtualRecorder.TAPE_RATE) / VirtualRecorder.TAPE_RATE;
                double flux = next < length() ? gain * sequence.at(whole, fraction) : 0;
                for (int track = 0; track < tracks.length; track++) {
                    tracks[track][i] = flux * surfaces[track].next() + hiss * noises[track].next();
                }
            }
        }

        @Override
        public long length() {
            return Math.round(seconds() * VirtualRecorder.TAPE_RATE);
        }

        @Override
        public double azimuthArcmin() {
            return azimuthArcmin;
        }
    }

    /**
     * A section of the tape.
     *
     * @param name what it is for; empty for a blank
     * @param frequencyHz frequency of its tone in Hz, 0 where it holds none or more than one
     * @param levelDb level of its tone re the tape's reference fluxivity; minus infinity where it holds none
     * @param flux the flux; 1 is the tape's reference fluxivity
     * @param seconds duration in s at nominal speed
     */
    public record Section(String name, double frequencyHz, double levelDb, Signal flux, double seconds) {
        /**
         * Checks the duration.
         *
         * @param name any
         * @param frequencyHz any
         * @param levelDb any
         * @param flux any
         * @param seconds finite and above 0
         * @throws IllegalArgumentException if the duration is not finite and above 0
         */
        public Section {
            Require.positive("duration of the section " + name + " in s", seconds);
        }
    }

    /** Builds a test tape. Thread-confined. */
    public static final class Builder {
        private final List<Section> sections = new ArrayList<>();
        private double fluxivity = 250;
        private double azimuthArcmin;
        private VirtualTape stock = VirtualTape.builder(0).build();

        private Builder() {}

        /**
         * Adds a tone.
         *
         * @param name what it is for
         * @param frequencyHz above 0 and at most 20 kHz
         * @param levelDb level re the tape's reference fluxivity and the standard flux curve, -80 to 10
         * @param seconds duration at nominal speed
         * @return this builder
         */
        public Builder tone(String name, double frequencyHz, double levelDb, double seconds) {
            Require.within("frequency of " + name + " in Hz", frequencyHz, 1, 20_000);
            Require.within("level of " + name + " in dB", levelDb, -80, 10);
            Signal flux = new Sine(frequencyHz, Decibels.toRatio(levelDb));
            sections.add(new Section(name, frequencyHz, levelDb, flux, seconds));
            return this;
        }

        /**
         * Adds any signal.
         *
         * @param name what it is for
         * @param flux flux of amplitude 1 at the tape's reference fluxivity
         * @param seconds duration at nominal speed
         * @return this builder
         */
        public Builder signal(String name, Signal flux, double seconds) {
            sections.add(new Section(name, 0, Double.NEGATIVE_INFINITY, flux, seconds));
            return this;
        }

        /**
         * Adds a blank.
         *
         * @param seconds duration at nominal speed
         * @return this builder
         */
        public Builder silence(double seconds) {
            return signal("", moment -> 0, seconds);
        }

        /**
         * Reference fluxivity; 250 nWb/m without this call.
         *
         * @param nanoweberPerMetre 50 to 2000
         * @return this builder
         */
        public Builder fluxivity(double nanoweberPerMetre) {
            fluxivity = Require.within("fluxivity in nWb/m", nanoweberPerMetre, 50, 2000);
            return this;
        }

        /**
         * Azimuth error; 0 without this call.
         *
         * @param arcmin -30 to 30
         * @return this builder
         */
        public Builder azimuthArcmin(double arcmin) {
            azimuthArcmin = Require.within("azimuth error of the tape in arcmin", arcmin, -30, 30);
            return this;
        }

        /**
         * The tape that it is recorded on; flawless without this call. Bias and saturation have no part in it.
         *
         * @param tape any
         * @return this builder
         */
        public Builder stock(VirtualTape tape) {
            stock = tape;
            return this;
        }

        /**
         * Makes the tape.
         *
         * @return the tape
         */
        public TestTape build() {
            return new TestTape(this);
        }
    }
}
