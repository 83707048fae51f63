/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.damage;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import org.tapemetrology.signals.Deviation;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.Harmonic;
import org.tapemetrology.signals.Quantiser;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.WhiteNoise;
import org.tapemetrology.signals.table.CarrierRow;
import org.tapemetrology.signals.table.PublishedTables;
import org.tapemetrology.signals.table.WeightingRow;

/** A recording while it is drawn: the sound machine first, then the faults, then samples and truths. */
final class Draft {
    /** What is recorded. */
    enum Content {
        TONE,
        NOISE,
        SPEECH,
        MUSIC,
        SILENCE
    }

    private static final int[] RATES_HZ = {8000, 11_025, 16_000, 22_050, 44_100, 48_000, 96_000, 192_000};
    private static final double[] RATE_SHARES = {0.40, 0.15, 0.25, 0.08, 0.055, 0.05, 0.01, 0.005};
    private static final double LONG_SECONDS = 30;
    private static final double SLOWEST_IN_SHORT_HZ = 0.63;
    /** Room for a speed that is off, wow and the sidebands. */
    private static final double HIGHEST_TONE = 0.4;

    private static final double WITHIN_CARRIER = 0.15;
    private static final double NOISE_FROM_HZ = 22.4;
    private static final double NOISE_TO_HZ = 22_400;
    private static final double SIXTH_OCTAVE = Math.pow(2, 1.0 / 6);
    /** -95 dBFS. */
    private static final double FAINTEST = 1.8e-5;

    private static final double COARSE_STEPS = 3000;
    private static final long OTHER_DITHER = 1L << 40;
    private static final double SHORT_SECONDS = 2;
    /** Room below full scale. */
    private static final double MOST = 0.98;

    final SplittableRandom random;
    final int rateHz;
    final double seconds;
    final Content content;
    final ChannelDraft[] channels;
    final List<String> story = new ArrayList<>();
    final List<Line> lines = new ArrayList<>();
    final List<Deviation> glides = new ArrayList<>();
    /** Jumps of the time of the tape, each a moment of the recording and what is added to the time from there on. */
    final List<double[]> jumps = new ArrayList<>();

    double nominalHz;
    double speedError;
    double driftPerSecond;
    final List<Harmonic> harmonics = new ArrayList<>();
    double toneFrom;
    double toneTo;
    Optional<Quantiser> quantiser;
    private final boolean nominalGiven;

    Draft(long seed) {
        random = new SplittableRandom(seed);
        rateHz = RATES_HZ[pick(RATE_SHARES)];
        seconds = drawSeconds();
        content = Content.values()[pick(0.84, 0.06, 0.04, 0.04, 0.02)];
        channels = new ChannelDraft[random.nextDouble() < 0.3 ? 2 : 1];
        nominalGiven = random.nextBoolean();
        machine();
        fit();
        toneTo = seconds;
        double level = -uniform(3, 30);
        double hissDb = -uniform(45, 80);
        double delay = 1e-6 * uniform(-90, 90);
        for (int c = 0; c < channels.length; c++) {
            ChannelDraft channel = new ChannelDraft();
            channel.amplitude = ratio(level + (c == 0 ? 0 : uniform(-3, 3)));
            channel.delaySeconds = c == 0 ? 0 : delay;
            channel.hissRms = channel.amplitude * ratio(hissDb) / Math.sqrt(2);
            channels[c] = channel;
        }
        quantiser = drawQuantiser();
        material(level);
        say("%s, %d Hz, %.2f s, %d channels", content, rateHz, seconds, channels.length);
    }

    /** Speech or music, the same on both channels. */
    private void material(double levelDb) {
        if (content != Content.SPEECH && content != Content.MUSIC) {
            return;
        }
        Signal sounds = content == Content.SPEECH
                ? Syllables.speech(random.split(), seconds, ratio(levelDb))
                : Syllables.music(random.split(), seconds, ratio(levelDb));
        for (ChannelDraft channel : channels) {
            double delay = channel.delaySeconds;
            double gain = channel.amplitude / channels[0].amplitude;
            channel.added.add(t -> gain * sounds.at(t - delay));
        }
    }

    private double drawSeconds() {
        if (rateHz >= 96_000) {
            return uniform(1, 9);
        }
        return switch (pick(0.12, 0.60, 0.10, 0.18)) {
            case 0 -> uniform(0.05, 8);
            case 1 -> uniform(8.5, 13);
            case 2 -> uniform(20.5, 29);
            default -> uniform(35.5, 40);
        };
    }

    private void machine() {
        nominalHz = random.nextDouble() < 0.6 ? 3150 : 3000;
        if (rateHz >= 44_100 && random.nextDouble() < 0.1) {
            nominalHz = 12_500;
        }
        if (random.nextDouble() < 0.15) {
            nominalHz = 1000; // a tape for level and distortion
        }
        speedError = uniform(-0.03, 0.03);
        driftPerSecond = random.nextDouble() < 0.5 ? 0 : uniform(-5e-5, 5e-5);
        List<WeightingRow> rows = PublishedTables.flutterWeighting().rows().stream()
                .filter(row -> row.exactHz() > 0.15)
                .filter(row -> seconds > LONG_SECONDS || row.exactHz() >= SLOWEST_IN_SHORT_HZ)
                .toList();
        int count = 1 + pick(0.6, 0.25, 0.15);
        List<WeightingRow> left = new ArrayList<>(rows);
        for (int i = 0; i < count; i++) {
            WeightingRow row = left.remove(random.nextInt(left.size()));
            lines.add(new Line(row, Math.pow(10, uniform(-3.7, -2.2)), uniform(0, 6.28)));
        }
        harmonics.add(new Harmonic(2, Math.pow(10, uniform(-3, -1.7)), uniform(0, 6.28)));
        harmonics.add(new Harmonic(3, Math.pow(10, uniform(-3, -1.4)), uniform(0, 6.28)));
    }

    private Optional<Quantiser> drawQuantiser() {
        long seed = random.nextLong();
        return switch (pick(0.4, 0.15, 0.2, 0.05, 0.2)) {
            case 0 -> Optional.of(Quantiser.dithered(16, seed));
            case 1 -> Optional.of(Quantiser.plain(16));
            case 2 -> Optional.of(Quantiser.plain(24));
            case 3 -> Optional.of(Quantiser.dithered(8, seed));
            default -> Optional.empty();
        };
    }

    double uniform(double from, double to) {
        return from + (to - from) * random.nextDouble();
    }

    /** A place in a list of shares that add to 1. */
    int pick(double... shares) {
        double at = random.nextDouble();
        for (int i = 0; i < shares.length - 1; i++) {
            at -= shares[i];
            if (at < 0) {
                return i;
            }
        }
        return shares.length - 1;
    }

    static double ratio(double decibels) {
        return Math.pow(10, decibels / 20);
    }

    void say(String line, Object... values) {
        story.add(String.format(Locale.ROOT, line, values));
    }

    /** A channel at random, or all of them. */
    List<ChannelDraft> some() {
        int n = random.nextInt(channels.length + 1);
        return n == channels.length ? List.of(channels) : List.of(channels[n]);
    }

    boolean isTone() {
        return content == Content.TONE;
    }

    /** Frequency of the tone before drift and flutter. */
    double toneHz() {
        return nominalHz * (1 + speedError);
    }

    /** Slows the tone down where the sampling rate leaves no room for it. */
    void fit() {
        if (toneHz() > HIGHEST_TONE * rateHz) {
            speedError = HIGHEST_TONE * rateHz / nominalHz - 1;
        }
    }

    private FmTone tone(boolean running) {
        FmTone.Builder builder =
                FmTone.builder(nominalHz).speedError(speedError).drift(driftPerSecond);
        lines.forEach(line -> builder.deviation(line.deviation()));
        if (!running) {
            glides.forEach(builder::deviation);
        }
        harmonics.stream()
                .filter(h -> h.order() * toneHz() < 0.45 * rateHz)
                .forEach(h -> builder.harmonic(h.order(), h.relativeAmplitude(), h.phase()));
        return builder.build();
    }

    /** Whether the recording is without its tone for longer than a second at either end. */
    boolean toneIsAway() {
        return toneFrom > 1 || seconds - toneTo > 1;
    }

    /** Whether a person who gives the nominal frequency has thereby said that another tone is not the one. */
    boolean isToldApart(double hz) {
        return nominalGiven && Math.abs(hz / nominalHz - 1) > 0.5;
    }

    /** Whether the tone can be one of the published carriers for a person who gives the nominal frequency or does not. */
    private OptionalDouble truthNominal() {
        double hz = toneHz();
        if (nominalGiven) {
            return OptionalDouble.of(nominalHz); // however far away
        }
        double nominal = PublishedTables.carriers().rows().stream()
                .map(CarrierRow::frequencyHz)
                .min(Comparator.comparingDouble(carrier -> Math.abs(carrier - hz)))
                .orElseThrow();
        return Math.abs(hz / nominal - 1) <= WITHIN_CARRIER ? OptionalDouble.of(nominal) : OptionalDouble.empty();
    }

    DamagedRecording finished(long seed) {
        FmTone tone = tone(false);
        FmTone running = tone(true);
        int frames = (int) Math.round(seconds * rateHz);
        double[][] samples = new double[channels.length][];
        double peak = 0;
        for (int c = 0; c < channels.length; c++) {
            samples[c] = samples(channels[c], tone, frames, seed * 31 + c);
            if (!channels[c].clipsAtFullScale) {
                peak = Math.max(
                        peak, Arrays.stream(samples[c]).map(Math::abs).max().orElse(0));
            }
        }
        double gain = peak > MOST ? MOST / peak : 1;
        List<Truths> truths = new ArrayList<>();
        truths.add(between(gain));
        float[][] out = new float[channels.length][];
        for (int c = 0; c < channels.length; c++) {
            out[c] = converted(channels[c], samples[c], gain, c);
            truths.add(truths(channels[c], running, gain));
        }
        OptionalDouble given = nominalGiven ? OptionalDouble.of(nominalHz) : OptionalDouble.empty();
        lines.forEach(line -> say("line %.3f Hz %.5f", line.rateHz(), line.peak()));
        say(
                "h2 %.5f h3 %.5f level %.1f hiss %.1f dBFS, %s",
                harmonics.get(0).relativeAmplitude(),
                harmonics.get(1).relativeAmplitude(),
                20 * Math.log10(gain * channels[0].amplitude),
                20 * Math.log10(gain * channels[0].hissRms),
                quantiser.map(Quantiser::toString).orElse("float"));
        say("nominal %s, tone %.2f Hz", given.isPresent() ? nominalHz : "not given", toneHz());
        return new DamagedRecording(seed, rateHz, given, out, truths, story);
    }

    private double[] samples(ChannelDraft channel, FmTone tone, int frames, long seed) {
        double[] out = new double[frames];
        Signal hiss = new WhiteNoise(seed, channel.hissRms, rateHz);
        int jump = 0;
        double shift = 0;
        for (int i = 0; i < frames; i++) {
            double t = (double) i / rateHz;
            while (jump < jumps.size() && t >= jumps.get(jump)[0]) {
                shift += jumps.get(jump++)[1];
            }
            double value = 0;
            if (isTone() && t >= toneFrom && t < toneTo && !channel.dead) {
                value = channel.amplitude * channel.gainAt(t) * tone.at(t + shift - channel.delaySeconds);
            }
            for (Signal signal : channel.added) {
                value += signal.at(t);
            }
            out[i] = value + hiss.at(t);
        }
        if (channel.clipShare > 0) {
            double limit = channel.clipShare * channel.amplitude;
            double scale = channel.clipsAtFullScale ? 1 / limit : 1;
            for (int i = 0; i < frames; i++) {
                out[i] = scale * Math.max(-limit, Math.min(limit, out[i]));
            }
        }
        return out;
    }

    private float[] converted(ChannelDraft channel, double[] samples, double gain, int number) {
        double scale = channel.clipsAtFullScale ? 1 : gain;
        double[] codes = new double[samples.length];
        for (int i = 0; i < samples.length; i++) {
            double value = scale * samples[i];
            // The channels have dither of their own.
            codes[i] = quantiser.isPresent() ? quantiser.get().quantise(value, i + number * OTHER_DITHER) : value;
        }
        channel.onSamples.forEach(fault -> fault.accept(codes));
        float[] out = new float[codes.length];
        for (int i = 0; i < codes.length; i++) {
            out[i] = (float) codes[i];
        }
        return out;
    }

    private Truths between(double gain) {
        Truths truths = new Truths();
        if (channels.length < 2) {
            return truths;
        }
        ChannelDraft one = channels[0];
        ChannelDraft two = channels[1];
        if (isTone() && !one.dead && !two.dead) {
            double[] ofOne = levelDbfs(one, gain);
            double[] ofTwo = levelDbfs(two, gain);
            truths.put("channel.balance", Truth.between(ofTwo[0] - ofOne[1], ofTwo[1] - ofOne[0]));
            // The whole cycles of a single tone are not known.
            double period = 1e6 / toneHz();
            double delay = 1e6 * (two.delaySeconds - one.delaySeconds);
            truths.put("azimuth.delay", Truth.of(delay - period * Math.rint(delay / period)));
            truths.putGroup("separation", Truth.NOT_DEFINED);
        } else {
            boolean same = content == Content.SPEECH || content == Content.MUSIC;
            truths.putGroup("channel.balance", Truth.NOT_DEFINED);
            truths.putGroup("azimuth", same ? Truth.NOT_STATED : Truth.NOT_DEFINED);
            if (same) {
                truths.put("azimuth.delay", Truth.of(1e6 * (two.delaySeconds - one.delaySeconds)));
            }
        }
        for (ChannelDraft channel : channels) {
            channel.verdicts.forEach(verdict -> verdict.accept(truths));
        }
        return truths;
    }

    private double[] levelDbfs(ChannelDraft channel, double gain) {
        double[] level = channel.meanGainDb(toneFrom, toneTo);
        for (int i = 0; i < level.length; i++) {
            level[i] += 20 * Math.log10(channel.amplitude * gain);
            if (channel.clipsAtFullScale) {
                level[i] = 20 * Math.log10(1 / channel.clipShare);
            }
        }
        if (channel.clipShare > 0) {
            // The fundamental of a clipped sine: (2/pi)(asin c + c sqrt(1 - c^2)) of what it was.
            double c = channel.clipShare;
            level[0] += 20 * Math.log10(2 / Math.PI * (Math.asin(c) + c * Math.sqrt(1 - c * c)));
        }
        return level;
    }

    private Truths truths(ChannelDraft channel, FmTone tone, double gain) {
        Truths truths = new Truths();
        if (isTone() && !channel.dead) {
            OptionalDouble nominal = truthNominal();
            ToneTruth ofTone = new ToneTruth(tone, lines, toneFrom, toneTo);
            ofTone.speed(truths, nominal.orElse(nominalHz), nominal.isPresent());
            if (nominal.isPresent()) {
                ofTone.flutter(truths);
            } else {
                truths.putGroup("speed", Truth.NOT_DEFINED);
                truths.putGroup("flutter", Truth.NOT_DEFINED);
                truths.putGroup("wow", Truth.NOT_DEFINED);
            }
            level(truths, channel, gain);
            distortion(truths, channel);
        } else {
            for (String group : List.of("tone", "speed", "flutter", "wow", "level", "distortion")) {
                truths.putGroup(group, Truth.NOT_DEFINED);
            }
        }
        if (channel.humPower > 0 && (!isTone() || channel.dead || toneTo - toneFrom < SHORT_SECONDS)) {
            // The mains are a tone too, if it is the only one.
            for (String group : List.of("tone", "level", "distortion")) {
                truths.putGroup(group, Truth.NOT_STATED);
            }
        }
        noise(truths, channel, gain);
        channel.verdicts.forEach(verdict -> verdict.accept(truths));
        return truths;
    }

    private void level(Truths truths, ChannelDraft channel, double gain) {
        double[] level = levelDbfs(channel, gain);
        truths.put("level", Truth.between(level[0], level[1]));
        if (channel.steady) {
            truths.put("level.median", Truth.of(level[0]));
        }
        if (channel.rangeIsKnown) {
            // Hiss moves the mean of 0.1 s too: 95 % of a normal distribution, with some room for its estimate.
            double relative = channel.hissRms / channel.amplitude * Math.sqrt(2 / (0.1 * rateHz));
            double ofHiss = 1.5 * 3.92 * 8.686 * relative;
            truths.put("level.fluctuation", Truth.between(channel.rangeDb, channel.rangeDb + ofHiss));
        }
    }

    private void distortion(Truths truths, ChannelDraft channel) {
        double squares = 0;
        for (Harmonic harmonic : harmonics) {
            boolean stands = harmonic.order() * toneHz() < 0.45 * rateHz;
            if (stands && harmonic.order() * toneHz() < 20_000) {
                squares += harmonic.relativeAmplitude() * harmonic.relativeAmplitude();
            }
            if (stands && harmonic.order() == 3) {
                truths.put("distortion.third-harmonic", Truth.of(100 * harmonic.relativeAmplitude()));
            }
        }
        truths.put("distortion.thd", Truth.of(100 * Math.sqrt(squares)));
        // Hum is added to the tone and modulates nothing; without it there is one tone alone.
        Truth ofTwo = channel.humPower > 0 ? Truth.of(0) : Truth.NOT_DEFINED;
        truths.put("distortion.difference-frequency", ofTwo);
        truths.put("distortion.modulation", ofTwo);
        if (quantiser.isPresent()
                && quantiser.get().ditherSeed().isEmpty()
                && channel.amplitude
                        < COARSE_STEPS * Math.pow(2, 1 - quantiser.get().bits())) {
            // The steps of a converter without dither make harmonics of their own.
            truths.put("distortion.third-harmonic", Truth.NOT_STATED);
            truths.put("distortion.thd", Truth.NOT_STATED);
        }
        // The sidebands of fast flutter stand outside the sixth octave of a low tone.
        boolean besideTone = lines.stream().allMatch(line -> line.rateHz() < 0.1 * toneHz());
        if (besideTone && channel.noiseIsPlain && channel.steady && quantisationIsSmall(channel)) {
            double beside = toneHz() * (SIXTH_OCTAVE - 1 / SIXTH_OCTAVE);
            double hiss = 2 * channel.hissRms * channel.hissRms * (band() - beside) / (rateHz / 2.0);
            double all = squares + (hiss + channel.humPower) / (channel.amplitude * channel.amplitude);
            truths.put("distortion.thd-plus-noise", Truth.of(100 * Math.sqrt(all)));
        }
    }

    private double band() {
        return Math.min(NOISE_TO_HZ, rateHz / 2.0) - NOISE_FROM_HZ;
    }

    /** Whether the steps of the converter lie 20 dB below the hiss. */
    private boolean quantisationIsSmall(ChannelDraft channel) {
        double step = quantiser.isPresent() ? Math.pow(2, 1 - quantiser.get().bits()) : 0;
        return step < 0.15 * channel.hissRms;
    }

    /** Where the tone is not found, or is none that was asked for, all that is recorded is noise. */
    private boolean isFound(ChannelDraft channel, double gain) {
        return toneTo - toneFrom > SHORT_SECONDS
                && truthNominal().isPresent()
                && Math.abs(toneHz() / truthNominal().getAsDouble() - 1) < WITHIN_CARRIER
                && channel.amplitude * gain > FAINTEST
                && channel.hissRms < 0.2 * channel.amplitude;
    }

    private void noise(Truths truths, ChannelDraft channel, double gain) {
        if (channel.noiseIsPlain
                && channel.steady
                && (!isTone() || channel.dead || isFound(channel, gain))
                && content != Content.SPEECH
                && content != Content.MUSIC
                && jumps.isEmpty()
                && quantisationIsSmall(channel)) {
            double hiss = 2 * channel.hissRms * channel.hissRms * band() / (rateHz / 2.0);
            truths.put("noise.unweighted", Truth.of(20 * Math.log10(gain) + 10 * Math.log10(hiss + channel.humPower)));
        }
    }
}
