/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.damage;

import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.SplittableRandom;
import org.tapemetrology.signals.Constant;
import org.tapemetrology.signals.Dropout;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.Harmonic;
import org.tapemetrology.signals.Hum;
import org.tapemetrology.signals.Quantiser;

/** The faults that a recording may have, in the order in which they are done. Each draws its strength, and says what it destroys. */
enum Fault {
    /** The file states another sampling rate than the converter had: all rates and frequencies are off by the same. */
    RATE_LIE,
    /** The clock of the converter drifts; it cannot be told from a drift of the tape. */
    CLOCK_DRIFT,
    /** Wow of 5 to 12 %. */
    STRONG_WOW,
    /** The recording is hardly louder than the steps of the converter. */
    FAINT,
    /** Strong hiss. */
    HISS,
    /** A channel carries no tone. */
    DEAD_CHANNEL,
    /** The tone is away for a time. */
    GAP,
    /** The tape lifts off or has a bad place: the tone is weaker for a moment, some times over. */
    DROPOUTS,
    /** Buffers are lost or come twice: the time of the tape jumps. The machine is what it was. */
    BUFFERS,
    /** Buffers are filled with zeros, or with the last sample. */
    FILLED_BUFFERS,
    /** Amplitude modulation. */
    AMPLITUDE_MODULATION,
    /** Mains hum. */
    HUM,
    /** The tone is clipped, at full scale or before: its level and distortion are lost. */
    CLIPPING,
    /** A constant is added. */
    OFFSET,
    /** Something of the other channel, or of the other side of the tape. */
    CROSSTALK,
    /** A second tone stands beside the first. */
    SECOND_TONE,
    /** Speech over the tone, or before it. */
    SPEECH_OVER,
    /** The machine slows down, stands and starts again, or has just been started; the figures are those of it running. */
    STOP,
    /** The tone ends, or begins, within the recording. */
    RUN_OUT,
    /** Two pieces of tape are joined: a dip, a jump in time, and another level after it. */
    SPLICE,
    /** A sample is no finite number. */
    NOT_FINITE,
    /** Single samples are far off. */
    CLICKS,
    /** A level that jumps from moment to moment, as on a poor tape. */
    UNSTEADY,
    /** One channel is upside down. */
    INVERTED,
    /** The channels are swapped: the file is what it is. */
    SWAPPED;

    /** The fundamental of a sine that is clipped there is 0.19 dB weaker, which a level may be wrong by. */
    private static final double HARDLY_CLIPPED = 0.93;
    /** After so many the mean of a beat is nought within a tenth: a twentieth of the amplitude. */
    private static final double LEAST_BEATS = 3;

    private static final String[] ALL = {""};

    private static final List<String> TONE_GROUPS =
            List.of("tone", "level", "speed", "flutter", "wow", "channel.balance");

    void applyTo(Draft draft) {
        switch (this) {
            case RATE_LIE -> rateLie(draft);
            case CLOCK_DRIFT -> clockDrift(draft);
            case STRONG_WOW -> strongWow(draft);
            case FAINT -> faint(draft);
            case HISS -> hiss(draft);
            case DEAD_CHANNEL -> deadChannel(draft);
            case GAP -> gap(draft);
            case DROPOUTS -> dropouts(draft);
            case BUFFERS -> buffers(draft);
            case FILLED_BUFFERS -> filledBuffers(draft);
            case AMPLITUDE_MODULATION -> amplitudeModulation(draft);
            case HUM -> hum(draft);
            case CLIPPING -> clipping(draft);
            case OFFSET -> offset(draft);
            case CROSSTALK -> crosstalk(draft);
            case SECOND_TONE -> secondTone(draft);
            case SPEECH_OVER -> speechOver(draft);
            case STOP -> stop(draft);
            case RUN_OUT -> runOut(draft);
            case SPLICE -> splice(draft);
            case NOT_FINITE -> notFinite(draft);
            case CLICKS -> clicks(draft);
            case UNSTEADY -> unsteady(draft);
            case INVERTED -> inverted(draft);
            case SWAPPED -> swapped(draft);
        }
    }

    private static double place(Draft d) {
        return d.uniform(0.02, 0.98) * d.seconds;
    }

    private static void gap(Draft d) {
        double from = place(d);
        double length = Math.pow(10, d.uniform(-2.7, 0.5));
        if (from + length >= d.toneTo) {
            d.toneTo = Math.max(d.toneFrom, Math.min(d.toneTo, from));
        }
        for (ChannelDraft channel : d.some()) {
            channel.losses.add(t -> t >= from && t < from + length ? 0 : 1);
            lost(channel);
        }
        d.say("gap of %.4f s at %.3f s", length, from);
    }

    /** The level jumps: its range is not known in closed form, and edges splash over the band. */
    private static void lost(ChannelDraft channel) {
        channel.steady = false;
        channel.rangeIsKnown = false;
        channel.noiseIsPlain = false;
    }

    private static void dropouts(Draft d) {
        int count = 1 + d.random.nextInt(12);
        for (ChannelDraft channel : d.some()) {
            for (int i = 0; i < count; i++) {
                double length = Math.pow(10, d.uniform(-2.7, -0.4));
                Dropout dropout =
                        new Dropout(place(d), length, d.uniform(2, 60), length * Math.pow(10, d.uniform(-2, -0.31)));
                channel.losses.add(dropout::gainAt);
                d.say(
                        "dropout of %.1f dB, %.4f s at %.3f s, edges %.4f s",
                        dropout.depthDb(), length, dropout.startSeconds(), dropout.edgeSeconds());
            }
            lost(channel);
        }
    }

    private static void buffers(Draft d) {
        int count = 1 + d.pick(0.5, 0.2, 0.2, 0.1) * 4;
        for (int i = 0; i < count; i++) {
            int frames = 32 << d.random.nextInt(9);
            double sign = d.random.nextBoolean() ? 1 : -1;
            double at = place(d);
            d.jumps.add(new double[] {at, sign * frames / d.rateHz});
            d.say("%d frames %s at %.3f s", frames, sign > 0 ? "lost" : "repeated", at);
        }
        d.jumps.sort(Comparator.comparingDouble(jump -> jump[0]));
        for (ChannelDraft channel : d.channels) {
            channel.noiseIsPlain = false;
        }
    }

    private static void filledBuffers(Draft d) {
        int frames = 32 << d.random.nextInt(9);
        int count = 1 + d.random.nextInt(3);
        boolean held = d.random.nextBoolean();
        for (ChannelDraft channel : d.some()) {
            for (int i = 0; i < count; i++) {
                int at = (int) (place(d) * d.rateHz);
                channel.onSamples.add(samples -> {
                    int end = Math.min(samples.length, at + frames);
                    double value = held && at > 0 ? samples[at - 1] : 0;
                    Arrays.fill(samples, Math.min(at, end), end, value);
                });
            }
            lost(channel);
            double share = Math.min(0.9, (double) count * frames / d.rateHz / d.seconds);
            // What is filled has no tone: with it or without it the level is the same tone's.
            channel.verdicts.add(truths -> {
                Truth level = truths.of("level");
                if (level.kind() == Truth.Kind.KNOWN) {
                    truths.put("level", Truth.between(level.low() + 10 * Math.log10(1 - share), level.high()));
                }
            });
            channel.notStated("channel.balance");
        }
        d.say("%d buffers of %d frames %s", count, frames, held ? "held" : "of zeros");
    }

    private static void rateLie(Draft d) {
        double[] ratios = {48_000.0 / 44_100, 44_100.0 / 48_000, 2, 0.5, 1.001, 0.999};
        double ratio = ratios[d.random.nextInt(ratios.length)];
        d.speedError = (1 + d.speedError) * ratio - 1;
        d.fit();
        d.say("the tape is read as %.5f times as fast", ratio);
    }

    private static void clockDrift(Draft d) {
        double perSecond = d.uniform(-2e-5, 2e-5);
        d.driftPerSecond += perSecond;
        d.say("clock drifts by %.2e a second", perSecond);
    }

    private static void amplitudeModulation(Draft d) {
        double depth = Math.pow(10, d.uniform(-2, -0.1));
        double rate = Math.pow(10, d.uniform(-0.5, 1.7));
        double phase = d.uniform(0, 6.28);
        for (ChannelDraft channel : d.some()) {
            channel.gains.add(t -> 1 + depth * Math.sin(2 * Math.PI * rate * t + phase));
            lost(channel);
        }
        d.say("AM of %.3f at %.2f Hz", depth, rate);
    }

    private static void hum(Draft d) {
        double mains = (d.random.nextBoolean() ? 50 : 60) * (1 + d.uniform(-0.002, 0.002));
        double level = Draft.ratio(-d.uniform(0, 60));
        Harmonic second = new Harmonic(2, d.uniform(0, 0.8), d.uniform(0, 6.28));
        Harmonic third = new Harmonic(3, d.uniform(0, 0.8), d.uniform(0, 6.28));
        for (ChannelDraft channel : d.some()) {
            Hum hum = new Hum(mains, level * channel.amplitude, List.of(second, third));
            channel.added.add(hum);
            // Hums that do not beat a few times within the recording have another power together than the sum of
            // theirs.
            if (channel.humsHz.stream().anyMatch(other -> Math.abs(other - mains) * d.seconds < LEAST_BEATS)) {
                channel.notStated("distortion.thd-plus-noise", "noise", "hum");
            }
            channel.humsHz.add(mains);
            channel.humPower += Math.pow(10, hum.levelDbfs() / 10);
        }
        d.say("hum of %.2f Hz, %.1f dB re the tone", mains, 20 * Math.log10(level));
    }

    private static void hiss(Draft d) {
        double decibels = -d.uniform(5, 45);
        for (ChannelDraft channel : d.some()) {
            channel.hissRms = channel.amplitude * Draft.ratio(decibels) / Math.sqrt(2);
        }
        d.say("hiss %.1f dB re the tone", decibels);
    }

    private static void clipping(Draft d) {
        if (!d.isTone()) {
            return;
        }
        double share = d.uniform(0.2, 0.97);
        boolean full = d.random.nextDouble() < 0.7;
        for (ChannelDraft channel : d.some()) {
            channel.clipShare = share;
            channel.clipsAtFullScale = full;
            channel.noiseIsPlain = false;
            channel.undefined("distortion");
            if (share < HARDLY_CLIPPED) {
                channel.undefined("level", "channel.balance");
            }
            channel.notStated("noise", "azimuth");
        }
        d.say("clipped at %.3f of the tone%s", share, full ? ", which is full scale" : "");
    }

    private static void offset(Draft d) {
        double size = d.uniform(-0.4, 0.4);
        d.some().forEach(channel -> channel.added.add(new Constant(size)));
        d.say("offset of %.3f", size);
    }

    private static void crosstalk(Draft d) {
        double level = Draft.ratio(-d.uniform(15, 55));
        if (d.random.nextBoolean()) {
            for (ChannelDraft channel : d.some()) {
                channel.added.add(Syllables.music(
                        new SplittableRandom(d.random.nextLong()), d.seconds, 2 * level * channel.amplitude));
                channel.noiseIsPlain = false;
                channel.notStated("distortion", "noise", "hum", "azimuth", "level.fluctuation");
            }
            d.say("music of the other side, %.1f dB re the tone", 20 * Math.log10(level));
            return;
        }
        if (d.channels.length < 2) {
            return;
        }
        // The other channel's tone, by a constant share: the sum is a tone again.
        ChannelDraft one = d.channels[0];
        ChannelDraft two = d.channels[1];
        double angle = 2 * Math.PI * d.toneHz() * (two.delaySeconds - one.delaySeconds);
        double re = one.amplitude + level * two.amplitude * Math.cos(angle);
        double im = -level * two.amplitude * Math.sin(angle);
        if (one.steady && two.steady && !two.dead && !one.dead) {
            one.amplitude = Math.hypot(re, im);
            one.delaySeconds -= Math.atan2(im, re) / (2 * Math.PI * d.toneHz());
            // Harmonics add at other angles.
            one.notStated("distortion");
        }
        d.say("channel 2 in channel 1, %.1f dB", 20 * Math.log10(level));
    }

    private static void swapped(Draft d) {
        if (d.channels.length == 2) {
            ChannelDraft one = d.channels[0];
            d.channels[0] = d.channels[1];
            d.channels[1] = one;
            d.say("channels swapped");
        }
    }

    private static void deadChannel(Draft d) {
        ChannelDraft channel = d.channels[d.random.nextInt(d.channels.length)];
        channel.dead = true;
        if (d.random.nextDouble() < 0.3) {
            channel.hissRms = 0;
        }
        d.say("a dead channel");
    }

    private static void secondTone(Draft d) {
        double decibels = -d.uniform(0, 50);
        boolean near = d.random.nextBoolean();
        double hz = near
                ? d.toneHz() * (1 + (d.random.nextBoolean() ? 1 : -1) * d.uniform(0.01, 0.15))
                : d.uniform(60, 0.45 * d.rateHz);
        for (ChannelDraft channel : d.some()) {
            FmTone other = FmTone.builder(hz)
                    .amplitude(channel.amplitude * Draft.ratio(decibels))
                    .build();
            channel.added.add(other);
            channel.noiseIsPlain = false;
            channel.notStated("distortion", "noise", "hum", "azimuth", "level.fluctuation");
            if (!d.isTone() || channel.dead) {
                // The tone that is there now is the second one, and it has a frequency and a level.
                channel.notStated("tone", "level", "speed", "flutter", "wow", "channel", "separation");
            } else if (decibels > -3 && !d.isToldApart(hz)) {
                channel.undefined("speed", "flutter", "wow", "channel.balance");
                channel.notStated("tone", "level", "azimuth");
            }
            // What stands alone for long is a tone like any other.
            channel.verdicts.add(truths -> {
                if (d.toneIsAway()) {
                    TONE_GROUPS.forEach(group -> truths.putGroup(group, Truth.NOT_STATED));
                }
            });
        }
        d.say("second tone of %.1f Hz, %.1f dB", hz, decibels);
    }

    private static void speechOver(Draft d) {
        boolean before = d.random.nextBoolean() && d.seconds > 6;
        double until = before ? d.uniform(0.5, d.seconds - 4) : d.seconds;
        double decibels = before ? -d.uniform(0, 15) : -d.uniform(15, 50);
        for (ChannelDraft channel : d.channels) {
            Syllables speech = Syllables.speech(
                    new SplittableRandom(d.random.nextLong()), until, channel.amplitude * Draft.ratio(decibels));
            channel.added.add(t -> t < until ? speech.at(t) : 0);
            channel.noiseIsPlain = false;
            channel.notStated("noise", "hum", "azimuth", "distortion", "level.fluctuation");
        }
        if (before) {
            d.toneFrom = Math.max(d.toneFrom, until + d.uniform(0, 1.5));
        }
        d.say("speech %s, %.1f dB", before ? "until " + until : "over the tone", decibels);
    }

    private static void stop(Draft d) {
        double slowing = Math.pow(10, d.uniform(-1, 0.5));
        double standing = d.random.nextBoolean() ? 0 : d.uniform(0, 3);
        double starting = Math.pow(10, d.uniform(-1, 0.3));
        // A start at the beginning of the recording, or a stop and a start somewhere.
        double at = d.random.nextBoolean() ? -slowing - standing - d.uniform(0, 0.9) * starting : place(d);
        TransportStop stop = new TransportStop(at, slowing, standing, starting);
        d.glides.add(stop);
        for (ChannelDraft channel : d.channels) {
            // A replay head gives what the speed of the tape gives.
            channel.losses.add(t -> Math.max(0, 1 + stop.at(t)));
            lost(channel);
        }
        d.say("slows down in %.2f s at %.2f s, stands %.2f s, starts in %.2f s", slowing, at, standing, starting);
    }

    private static void strongWow(Draft d) {
        Line old = d.lines.get(0);
        double rate = old.rateHz();
        if (rate > 7) {
            return;
        }
        d.lines.set(0, new Line(old.row(), d.uniform(0.05, 0.12), old.phase()));
        for (ChannelDraft channel : d.channels) {
            channel.noiseIsPlain = false;
        }
        d.say("wow of %.3f at %.2f Hz", d.lines.get(0).peak(), rate);
    }

    private static void runOut(Draft d) {
        if (d.random.nextBoolean()) {
            d.toneTo = Math.max(d.toneFrom, d.seconds * d.uniform(0.2, 0.98));
            d.say("the tape runs out at %.2f s", d.toneTo);
        } else {
            d.toneFrom = Math.min(d.toneTo, Math.max(d.toneFrom, d.seconds * d.uniform(0.02, 0.5)));
            d.say("the tone begins at %.2f s", d.toneFrom);
        }
        for (ChannelDraft channel : d.channels) {
            channel.noiseIsPlain = false;
            channel.notStated("noise");
        }
    }

    private static void splice(Draft d) {
        double at = place(d);
        double jump = d.uniform(-0.3, 0.3);
        double step = Draft.ratio(d.uniform(-4, 4));
        double dip = Math.pow(10, d.uniform(-3.3, -2));
        d.jumps.add(new double[] {at, jump});
        d.jumps.sort(Comparator.comparingDouble(one -> one[0]));
        for (ChannelDraft channel : d.channels) {
            channel.losses.add(new Dropout(Math.max(0, at - dip / 2), dip, d.uniform(1, 30), dip / 3)::gainAt);
            channel.gains.add(t -> t < at ? 1 : step);
            lost(channel);
        }
        d.say("splice at %.3f s, level %+.1f dB", at, 20 * Math.log10(step));
    }

    private static void notFinite(Draft d) {
        float[] values = {Float.NaN, Float.POSITIVE_INFINITY, Float.NEGATIVE_INFINITY};
        float value = values[d.random.nextInt(values.length)];
        int at = (int) (d.uniform(0, 1) * (d.seconds * d.rateHz - 1));
        for (ChannelDraft channel : d.some()) {
            channel.onSamples.add(samples -> samples[Math.min(samples.length - 1, at)] = value);
            // A tail that fills no block of 20 ms is not measured, and harms nothing.
            if (at < d.seconds * d.rateHz - 0.025 * d.rateHz) {
                channel.undefined(ALL);
            }
        }
        d.say("sample %d is %s", at, value);
    }

    private static void faint(Draft d) {
        double gain = Draft.ratio(-d.uniform(25, 95));
        for (ChannelDraft channel : d.channels) {
            channel.amplitude *= gain;
            channel.hissRms *= gain;
        }
        d.say(
                "%.1f dB fainter, %s",
                20 * Math.log10(gain), d.quantiser.map(Quantiser::toString).orElse("float"));
    }

    private static void clicks(Draft d) {
        int count = 1 + d.random.nextInt(20);
        double size = Math.pow(10, d.uniform(-2, 0));
        for (ChannelDraft channel : d.some()) {
            SplittableRandom random = new SplittableRandom(d.random.nextLong());
            channel.onSamples.add(samples -> {
                for (int i = 0; i < count; i++) {
                    int at = random.nextInt(samples.length);
                    double sum = samples[at] + (random.nextBoolean() ? size : -size);
                    samples[at] = Math.max(-1, Math.min(1, sum));
                }
            });
            channel.noiseIsPlain = false;
            channel.notStated("noise", "distortion.thd-plus-noise");
        }
        d.say("%d clicks of %.3f", count, size);
    }

    private static void unsteady(Draft d) {
        double depth = d.uniform(0.05, 0.5);
        double cell = d.uniform(0.05, 1);
        for (ChannelDraft channel : d.some()) {
            SplittableRandom random = new SplittableRandom(d.random.nextLong());
            double[] steps = new double[(int) (d.seconds / cell) + 3];
            Arrays.setAll(steps, i -> 1 + depth * (random.nextDouble() - 0.5));
            channel.gains.add(t -> {
                double at = Math.max(0, t / cell);
                int i = Math.min(steps.length - 2, (int) at);
                return steps[i] + (at - i) * (steps[i + 1] - steps[i]);
            });
            lost(channel);
        }
        d.say("level moves by %.2f every %.2f s", depth, cell);
    }

    private static void inverted(Draft d) {
        if (d.channels.length == 2) {
            double half = 0.5 / d.toneHz();
            d.channels[1].delaySeconds += half;
            d.channels[1].notStated("azimuth", "distortion");
            d.say("channel 2 inverted");
        }
    }
}
