/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import org.tapemetrology.signals.Decibels;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.internal.Require;

/**
 * A tape recorder in software, with two heads (one for recording and replay, and one that erases) or three. The same seed
 * and the same actions give the same recordings; each pass finds the rotating parts elsewhere in their turn. Thread-confined
 * together with the playbacks made from it.
 *
 * <p>Settings that are not finite or out of range are refused with an {@link IllegalArgumentException} where they are
 * set. Not for the behaviour of any machine on the market: laws and sizes are common practice, no source, or this
 * project's own.
 */
public final class VirtualRecorder {
    /** Samples of the tape per second of nominal speed. */
    public static final int TAPE_RATE = 48_000;

    private static final double LONGEST_SECONDS = 7200;

    private final long seed;
    private final TrackLayout layout;
    private final boolean threeHeads;
    private final Transport transport;
    private final Heads heads;
    private final Electronics electronics;
    private final double referenceHz;
    private final double fluxivity;
    private final VirtualTape ratedTape;
    private final Map<String, Trimmer> trimmers = new LinkedHashMap<>();
    private long passes;

    private VirtualRecorder(Builder builder) {
        seed = builder.seed;
        layout = builder.layout;
        threeHeads = builder.threeHeads;
        transport = builder.transport;
        heads = builder.heads;
        electronics = builder.electronics;
        referenceHz = builder.referenceHz;
        fluxivity = builder.fluxivity;
        ratedTape = builder.ratedTape;
        List<String> ids = TrimmerLaws.ids(layout.channels(), threeHeads);
        builder.errors.keySet().forEach(id -> TrimmerLaws.known(id, ids));
        builder.componentErrors.keySet().forEach(id -> TrimmerLaws.known(id, ids));
        builder.laws.keySet().forEach(id -> TrimmerLaws.known(id, ids));
        SplittableRandom random = new SplittableRandom(seed);
        for (String id : ids) {
            SplittableRandom own = random.split();
            TrimmerLaw usual = TrimmerLaws.usual(id, own);
            trimmers.put(
                    id,
                    new Trimmer(
                            id,
                            builder.laws.getOrDefault(id, usual),
                            builder.componentErrors.getOrDefault(id, 0.0),
                            builder.errors.getOrDefault(id, 0.0),
                            own));
        }
    }

    /**
     * Starts a stereo cassette machine of two heads, in good order and aligned.
     *
     * @return a builder
     */
    public static Builder cassette() {
        return new Builder();
    }

    /**
     * Starts an open-reel machine of three heads at 190.5 mm/s, stereo on quarter tracks, in good order and aligned.
     *
     * @return a builder
     */
    public static Builder openReel() {
        Builder builder = new Builder();
        builder.layout = TrackLayout.QUARTER_TRACK;
        builder.threeHeads = true;
        builder.transport = Transport.openReel();
        builder.heads = Heads.openReel();
        builder.electronics = Electronics.openReel();
        builder.referenceHz = 1000;
        builder.fluxivity = 320;
        builder.ratedTape = VirtualTape.openReel(0);
        return builder;
    }

    /**
     * A random machine, everything out of adjustment and within reach of its trimmers: of 20, on average 12 are stereo
     * cassette machines of two heads, 3 of three heads, 2 mono cassette machines and 3 open-reel machines.
     *
     * @param seed start of the random numbers
     * @return the machine
     */
    public static VirtualRecorder maladjusted(long seed) {
        return Workshop.randomMachine(seed).maladjusted(seed).build();
    }

    /**
     * A maladjusted cassette machine whose head is worn: treble is lost that no trimmer brings back.
     *
     * @param seed start of the random numbers
     * @return the machine
     */
    public static VirtualRecorder wornHead(long seed) {
        return cassette()
                .heads(Heads.cassette().worn(1.2, 1.6))
                .maladjusted(seed)
                .build();
    }

    /**
     * A maladjusted cassette machine whose motor is weak: at the stop of its trimmer it is still slow.
     *
     * @param seed start of the random numbers
     * @return the machine
     */
    public static VirtualRecorder weakMotor(long seed) {
        return Workshop.weakMotor(cassette().maladjusted(seed), seed).build();
    }

    /**
     * A cassette machine at the end of its life: worn head and weak motor, much run-out and friction.
     *
     * @param seed start of the random numbers
     * @return the machine
     */
    public static VirtualRecorder worn(long seed) {
        Builder builder = cassette()
                .heads(Heads.cassette().worn(1.2, 1.6))
                .transport(Workshop.unsteady(Transport.cassette()))
                .maladjusted(seed);
        return Workshop.weakMotor(builder, seed).build();
    }

    /**
     * Plays a calibration tape from its beginning.
     *
     * @param tape the tape
     * @param sampleRateHz rate of the samples, 44.1 to 192 kHz
     * @return the samples
     */
    public Playback replay(TestTape tape, double sampleRateHz) {
        return play(tape.reader(layout.channels(), fluxivity), sampleRateHz, nextPass());
    }

    /**
     * Plays a recording from its beginning.
     *
     * @param tape a recording of as many tracks and of the speed of this machine
     * @param sampleRateHz rate of the samples, 44.1 to 192 kHz
     * @return the samples
     */
    public Playback replay(RecordedTape tape, double sampleRateHz) {
        Require.that(
                tape.channels() == channels(),
                "tracks of the recording are " + tape.channels() + ", allowed on this machine: " + channels());
        Require.that(
                tape.speedMmPerSecond() == transport.speedMmPerSecond(),
                "speed of the recording is " + tape.speedMmPerSecond() + " mm/s, allowed on this machine: "
                        + transport.speedMmPerSecond());
        return play(tape.reader(), sampleRateHz, nextPass());
    }

    /**
     * Records on an erased tape.
     *
     * @param tape the tape
     * @param seconds length of the recording at nominal speed, up to two hours
     * @param inputs one signal per channel, full scale 1
     * @return the recording
     */
    public RecordedTape record(VirtualTape tape, double seconds, Signal... inputs) {
        RecordPass pass = recordPass(tape, seconds, inputs, nextPass());
        float[][] tracks = new float[channels()][Math.toIntExact(pass.length())];
        pass.drainTo(tracks);
        return new RecordedTape(
                tape, Workshop.printThrough(tape, tracks), pass.azimuthArcmin(), transport.speedMmPerSecond());
    }

    /**
     * Records over a recording, of which the erase head leaves a little.
     *
     * @param earlier what stands on the tape
     * @param seconds length of the recording at nominal speed; the tape beyond keeps what it has
     * @param inputs one signal per channel, full scale 1
     * @return the new recording on the same tape
     */
    public RecordedTape recordOver(RecordedTape earlier, double seconds, Signal... inputs) {
        Require.that(
                earlier.channels() == channels(),
                "tracks of the recording are " + earlier.channels() + ", allowed on this machine: " + channels());
        RecordedTape fresh = record(earlier.tape(), seconds, inputs);
        float[][] tracks = new float[channels()][];
        double residue = Decibels.toRatio(electronics.erasureDb());
        for (int track = 0; track < tracks.length; track++) {
            float[] old = earlier.tracks()[track];
            float[] mixed = fresh.tracks()[track];
            float[] all = Arrays.copyOf(mixed, Math.max(old.length, mixed.length));
            for (int i = 0; i < old.length; i++) {
                all[i] = i < mixed.length ? (float) (mixed[i] + residue * old[i]) : old[i];
            }
            tracks[track] = all;
        }
        return new RecordedTape(earlier.tape(), tracks, fresh.azimuthArcmin(), transport.speedMmPerSecond());
    }

    /**
     * Erases a recording by recording nothing over it.
     *
     * @param recording what stands on the tape
     * @return the tape with what the erase head leaves, and the hiss of a recording without signal
     */
    public RecordedTape erase(RecordedTape recording) {
        Signal[] nothing = new Signal[channels()];
        Arrays.fill(nothing, (Signal) moment -> 0);
        return recordOver(recording, recording.seconds(), nothing);
    }

    /**
     * Records and plays at the same time, as a machine of three heads can. Trimmers turned meanwhile are heard from the
     * next block on, those of the record side 10 to 25 ms later. Record and replay head see rotating parts at the same
     * place of their turn, so most of the flutter cancels; the way between the heads is left out.
     *
     * @param tape the tape
     * @param seconds length of the recording at nominal speed
     * @param sampleRateHz rate of the samples, 44.1 to 192 kHz
     * @param inputs one signal per channel, full scale 1
     * @return the samples off the tape
     */
    public Playback monitor(VirtualTape tape, double seconds, double sampleRateHz, Signal... inputs) {
        if (!threeHeads) {
            throw new IllegalStateException(
                    "monitoring off the tape on a machine of two heads, allowed: record, then replay");
        }
        long pass = nextPass();
        return play(recordPass(tape, seconds, inputs, pass), sampleRateHz, pass);
    }

    /**
     * A trimmer.
     *
     * @param id its id, for example {@code bias-1}
     * @return the trimmer
     */
    public Trimmer trimmer(String id) {
        Trimmer trimmer = trimmers.get(id);
        if (trimmer == null) {
            throw new IllegalArgumentException(
                    "trimmer is " + id + ", allowed: " + String.join(", ", trimmers.keySet()));
        }
        return trimmer;
    }

    /**
     * All trimmers: {@code speed}, {@code replay-azimuth}, with three heads {@code record-azimuth}, and for each channel
     * {@code replay-level}, {@code replay-equalisation}, {@code bias}, {@code record-level}, {@code record-equalisation}.
     *
     * @return the trimmers in the order of service
     */
    public List<Trimmer> trimmers() {
        return List.copyOf(trimmers.values());
    }

    /**
     * Whether record and replay heads are two.
     *
     * @return true if it can replay while it records
     */
    public boolean threeHeads() {
        return threeHeads;
    }

    /**
     * Number of channels.
     *
     * @return 1 or 2
     */
    public int channels() {
        return layout.channels();
    }

    /**
     * Its tracks.
     *
     * @return the layout
     */
    public TrackLayout layout() {
        return layout;
    }

    /**
     * Nominal tape speed.
     *
     * @return the speed in mm/s
     */
    public double speedMmPerSecond() {
        return transport.speedMmPerSecond();
    }

    /**
     * Frequency at which levels are set.
     *
     * @return the frequency in Hz
     */
    public double referenceHz() {
        return referenceHz;
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
     * Output level of a tape of that fluxivity when aligned, and input level that should record it.
     *
     * @return the level in dBFS
     */
    public double referenceDbfs() {
        return electronics.referenceDbfs();
    }

    /**
     * The tape that the maker rated the machine for.
     *
     * @return the tape, of which any other piece may be made with {@link VirtualTape#toBuilder}
     */
    public VirtualTape ratedTape() {
        return ratedTape;
    }

    /**
     * The truth of the present state, with the rated tape.
     *
     * @return the truth
     */
    public RecorderTruth truth() {
        return truth(ratedTape);
    }

    /**
     * The truth of the present state, its record side with a given tape.
     *
     * @param tape the tape; its flaws along the length are left out
     * @return the truth
     */
    public RecorderTruth truth(VirtualTape tape) {
        return new SignalPath(this).truth(tape);
    }

    double error(String id) {
        return trimmer(id).error();
    }

    double recordAzimuthArcmin() {
        return error(threeHeads ? TrimmerLaws.RECORD_AZIMUTH : TrimmerLaws.REPLAY_AZIMUTH);
    }

    /** Changes whenever a trimmer is turned. */
    long adjustments() {
        long sum = 0;
        for (Trimmer trimmer : trimmers.values()) {
            sum += trimmer.changes();
        }
        return sum;
    }

    Transport transport() {
        return transport;
    }

    Heads heads() {
        return heads;
    }

    Electronics electronics() {
        return electronics;
    }

    private Playback play(TapeReader reader, double sampleRateHz, long pass) {
        return new Playback(this, reader, sampleRateHz, new SplittableRandom(pass));
    }

    private RecordPass recordPass(VirtualTape tape, double seconds, Signal[] inputs, long pass) {
        Require.that(
                inputs.length == channels(),
                "number of inputs is " + inputs.length + ", allowed on this machine: " + channels());
        Require.within("length of the recording in s", seconds, 1e-3, LONGEST_SECONDS);
        return new RecordPass(this, tape, seconds, inputs, new SplittableRandom(pass));
    }

    private long nextPass() {
        return new SplittableRandom(seed + 0x9E3779B97F4A7C15L * ++passes).nextLong();
    }

    /** Builds a machine. Thread-confined. */
    public static final class Builder {
        private final Map<String, Double> errors = new HashMap<>();
        private final Map<String, Double> componentErrors = new HashMap<>();
        private final Map<String, TrimmerLaw> laws = new HashMap<>();
        private long seed;
        private TrackLayout layout = TrackLayout.CASSETTE_STEREO;
        private boolean threeHeads;
        private Transport transport = Transport.cassette();
        private Heads heads = Heads.cassette();
        private Electronics electronics = Electronics.cassette();
        private double referenceHz = 315;
        private double fluxivity = 250;
        private VirtualTape ratedTape = VirtualTape.ferric(0);

        private Builder() {}

        /**
         * Start of the random numbers: tapers, hand errors, passes, noise; 0 without this call.
         *
         * @param value any
         * @return this builder
         */
        public Builder seed(long value) {
            seed = value;
            return this;
        }

        /**
         * Tracks.
         *
         * @param tracks any
         * @return this builder
         */
        public Builder layout(TrackLayout tracks) {
            layout = tracks;
            return this;
        }

        /**
         * Whether record and replay heads are two.
         *
         * @param separate true for three heads
         * @return this builder
         */
        public Builder threeHeads(boolean separate) {
            threeHeads = separate;
            return this;
        }

        /**
         * The transport.
         *
         * @param value any
         * @return this builder
         */
        public Builder transport(Transport value) {
            transport = value;
            return this;
        }

        /**
         * The heads.
         *
         * @param value any
         * @return this builder
         */
        public Builder heads(Heads value) {
            heads = value;
            return this;
        }

        /**
         * The amplifiers.
         *
         * @param value any
         * @return this builder
         */
        public Builder electronics(Electronics value) {
            electronics = value;
            return this;
        }

        /**
         * Where levels are set and what they are.
         *
         * @param hz reference frequency, 100 to 2000
         * @param nanoweberPerMetre reference fluxivity, 50 to 2000
         * @return this builder
         */
        public Builder reference(double hz, double nanoweberPerMetre) {
            referenceHz = Require.within("reference frequency in Hz", hz, 100, 2000);
            fluxivity = Require.within("reference fluxivity in nWb/m", nanoweberPerMetre, 50, 2000);
            return this;
        }

        /**
         * The tape that the machine is rated for.
         *
         * @param tape any
         * @return this builder
         */
        public Builder ratedTape(VirtualTape tape) {
            ratedTape = tape;
            return this;
        }

        /**
         * Puts a trimmer where the machine has this error, or to the stop that is nearest to it.
         *
         * @param trimmer id of the trimmer; that it exists is checked by {@link #build}
         * @param error the error in the trimmer's unit; 0 without this call
         * @return this builder
         */
        public Builder error(String trimmer, double error) {
            errors.put(trimmer, Require.finite("error of " + trimmer, error));
            return this;
        }

        /**
         * An error of what the trimmer sets that its effect must make good, such as that of an aged part.
         *
         * @param trimmer id of the trimmer; that it exists is checked by {@link #build}
         * @param error the error in the trimmer's unit; 0 without this call
         * @return this builder
         */
        public Builder componentError(String trimmer, double error) {
            componentErrors.put(trimmer, Require.finite("component error of " + trimmer, error));
            return this;
        }

        /**
         * Another law for a trimmer.
         *
         * @param trimmer id of the trimmer; that it exists is checked by {@link #build}
         * @param law the law
         * @return this builder
         */
        public Builder law(String trimmer, TrimmerLaw law) {
            laws.put(trimmer, law);
            return this;
        }

        /**
         * Draws seed, component errors and errors of all trimmers of the machine as built so far: speed, levels within 3 (%
         * or dB), azimuths within 12 arcmin, equalisations and bias within 2.5 dB.
         *
         * @param start start of the random numbers, and the new seed
         * @return this builder
         */
        public Builder maladjusted(long start) {
            seed(start);
            SplittableRandom random = new SplittableRandom(~start);
            for (String id : TrimmerLaws.ids(layout.channels(), threeHeads)) {
                double most = TrimmerLaws.usualError(id);
                error(id, random.nextDouble(-most, most));
                componentError(id, random.nextDouble(-most, most) / 2);
            }
            return this;
        }

        /**
         * Makes the machine.
         *
         * @return the machine
         */
        public VirtualRecorder build() {
            return new VirtualRecorder(this);
        }
    }
}
