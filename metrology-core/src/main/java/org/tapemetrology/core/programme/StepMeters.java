/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.azimuth.AzimuthMeter;
import org.tapemetrology.core.flutter.BalanceScatter;
import org.tapemetrology.core.flutter.ToneMeter;
import org.tapemetrology.core.noise.NoiseMeter;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.response.MultitoneResponse;
import org.tapemetrology.core.response.NoiseResponse;
import org.tapemetrology.core.response.ResponseMeter;
import org.tapemetrology.core.response.SweepResponse;
import org.tapemetrology.core.separation.SeparationMeter;
import org.tapemetrology.core.tone.DistortionMeter;

/** The meters of one step, and what they read of it. */
final class StepMeters {
    static final double USUAL_REFERENCE_HZ = 1000;

    private static final String BALANCE_METHOD = "difference of the RMS levels of the fundamentals";
    private static final double BLOCK_SECONDS = 0.02;
    private static final double HIGHEST_SWEEP = 0.47;
    private static final double THIRD_OCTAVE = StrictMath.log(10) / 10;
    private static final double[] NOMINAL_HZ = {
        25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150,
        4000, 5000, 6300, 8000, 10_000, 12_500, 16_000, 20_000
    };

    private final Programme programme;
    private final Step step;
    private final StepOptions options;
    private final int sampleRateHz;
    private final BalanceScatter balanceScatter = new BalanceScatter();
    private final List<One> meters = new ArrayList<>();
    private final Optional<AzimuthMeter> azimuth;
    private final Optional<SeparationMeter> separation;
    private final int blockLength;
    /** Samples of each channel that is measured. */
    private final float[][] blocks;

    private int filled;

    /** The meters of one channel. */
    private record One(
            int channel,
            Optional<ToneMeter> tone,
            Optional<DistortionMeter> distortion,
            Optional<ResponseMeter> response,
            Optional<NoiseMeter> noise) {
        void accept(float[] block, int count) {
            tone.ifPresent(one -> one.accept(block, 0, count));
            distortion.ifPresent(one -> one.accept(block, 0, count));
            response.ifPresent(one -> one.accept(block, 0, count));
            noise.ifPresent(one -> one.accept(block, 0, count));
        }
    }

    StepMeters(Programme programme, int index, StepOptions options, int sampleRateHz, int channels) {
        this.programme = programme;
        this.step = programme.steps().get(index);
        this.options = options;
        this.sampleRateHz = sampleRateHz;
        this.blockLength = (int) Math.round(BLOCK_SECONDS * sampleRateHz);
        boolean pair = channels == 2;
        for (int channel = 1; channel <= channels; channel++) {
            if (step.isPause() || !pair || step.side().carries(channel)) {
                meters.add(one(channel));
            }
        }
        this.blocks = new float[meters.size()][blockLength];
        this.azimuth = pair && step.side() == Step.Side.BOTH && !step.isPause()
                ? Optional.of(options.azimuthMeter(sampleRateHz))
                : Optional.empty();
        boolean tellsSeparation = pair
                && step.side() != Step.Side.BOTH
                && step.signal() instanceof StepSignal.Tone tone
                && tone.frequencyHz() >= SeparationMeter.LOWEST_TONE_HZ
                && tone.frequencyHz() <= SeparationMeter.HIGHEST_TONE * sampleRateHz;
        this.separation = tellsSeparation
                ? Optional.of(new SeparationMeter(sampleRateHz, Programme.toneHz(step)))
                : Optional.empty();
    }

    private One one(int channel) {
        StepSignal signal = step.signal();
        Optional<ToneMeter> tone = Optional.empty();
        Optional<DistortionMeter> distortion = Optional.empty();
        Optional<NoiseMeter> noise = Optional.empty();
        if (signal instanceof StepSignal.Tone sent && sent.frequencyHz() < 0.43 * sampleRateHz) {
            tone = Optional.of(ToneMeter.builder(sampleRateHz)
                    .nominalHz(sent.frequencyHz())
                    .build());
            if (sent.frequencyHz() >= DistortionMeter.LOWEST_TONE_HZ && sent.frequencyHz() <= sampleRateHz / 4.0) {
                distortion = Optional.of(new DistortionMeter(sampleRateHz, sent.frequencyHz()));
            }
        } else if (step.isPause()) {
            NoiseMeter.Builder builder = NoiseMeter.builder().sampleRateHz(sampleRateHz);
            options.mainsHz().ifPresent(builder::mainsHz);
            noise = Optional.of(builder.build());
        }
        return new One(channel, tone, distortion, response(channel), noise);
    }

    /** Where rate or length do not let the response be measured there is none. */
    private Optional<ResponseMeter> response(int channel) {
        double wanted = programme.referenceHz().orElse(USUAL_REFERENCE_HZ);
        try {
            if (step.signal() instanceof StepSignal.Sweep sweep) {
                double end = Math.min(sweep.endHz(), HIGHEST_SWEEP * sampleRateHz);
                double seconds = step.seconds()
                        * StrictMath.log(end / sweep.startHz())
                        / StrictMath.log(sweep.endHz() / sweep.startHz());
                double[] inside = Arrays.stream(NOMINAL_HZ)
                        .filter(f -> StrictMath.log(f / sweep.startHz()) >= THIRD_OCTAVE / 2
                                && StrictMath.log(end / f) >= THIRD_OCTAVE / 2)
                        .toArray();
                return Optional.of(new SweepResponse(
                        sampleRateHz, channel, nearest(wanted, inside), sweep.startHz(), end, seconds));
            } else if (step.signal() instanceof StepSignal.Multitone multitone) {
                double[] all = multitone.frequenciesHz().stream()
                        .mapToDouble(Double::doubleValue)
                        .toArray();
                return Optional.of(new MultitoneResponse(
                        sampleRateHz,
                        channel,
                        nearest(wanted, all),
                        multitone.frequenciesHz(),
                        multitone.frequenciesHz().stream().map(f -> 0.0).toList()));
            } else if (step.signal() instanceof StepSignal.Noise noise) {
                return Optional.of(new NoiseResponse(
                        sampleRateHz,
                        channel,
                        nearest(wanted, within(noise)),
                        noise.pink() ? NoiseResponse.Spectrum.PINK : NoiseResponse.Spectrum.WHITE));
            }
        } catch (IllegalArgumentException notMeasurable) {
            return Optional.empty();
        }
        return Optional.empty();
    }

    /** Third octaves that lie wholly in a band. */
    private static double[] within(StepSignal.Noise noise) {
        return Arrays.stream(NOMINAL_HZ)
                .filter(f -> StrictMath.log(f / noise.fromHz()) >= THIRD_OCTAVE
                        && StrictMath.log(noise.toHz() / f) >= THIRD_OCTAVE)
                .toArray();
    }

    private static double nearest(double wanted, double[] of) {
        double nearest = of.length == 0 ? wanted : of[0];
        for (double each : of) {
            if (Math.abs(StrictMath.log(each / wanted)) < Math.abs(StrictMath.log(nearest / wanted))) {
                nearest = each;
            }
        }
        return nearest;
    }

    void accept(float[] interleaved, int offset, int stride, int frames) {
        for (int done = 0; done < frames; ) {
            int part = Math.min(blockLength - filled, frames - done);
            for (int m = 0; m < meters.size(); m++) {
                int first = offset + done * stride + meters.get(m).channel() - 1;
                for (int i = 0; i < part; i++) {
                    blocks[m][filled + i] = interleaved[first + i * stride];
                }
            }
            done += part;
            filled += part;
            if (filled == blockLength) {
                process();
            }
        }
        azimuth.ifPresent(one -> one.accept(interleaved, offset, stride, frames));
        separation.ifPresent(one -> one.accept(interleaved, offset, stride, frames));
    }

    /** Works on whole blocks, so that nothing depends on how the samples came; what is left of one at the end counts too. */
    private void process() {
        for (int m = 0; m < meters.size(); m++) {
            meters.get(m).accept(blocks[m], filled);
        }
        filled = 0;
        if (meters.size() == 2 && meters.get(0).tone().isPresent()) {
            balanceScatter.accept(
                    meters.get(0).tone().get(), meters.get(1).tone().orElseThrow());
        }
    }

    /** The readings, with times as those of a recording in which the step's first sample is at a moment. */
    Measurement reading(double fromSeconds) {
        process();
        List<Reading> readings = new ArrayList<>();
        List<Warning> warnings = new ArrayList<>();
        for (One meter : meters) {
            int channel = meter.channel();
            List<Reading> own = new ArrayList<>();
            meter.tone().map(ToneMeter::reading).ifPresent(tone -> {
                own.addAll(tone.readings());
                tone.warnings().forEach(warning -> warnings.add(warning.onChannel(channel)));
            });
            boolean overload = own.stream().anyMatch(r -> r.status() == Status.OVERLOAD);
            if (!overload) {
                meter.distortion().ifPresent(one -> own.addAll(one.readings()));
            }
            meter.response().ifPresent(one -> own.addAll(one.readings()));
            meter.noise().ifPresent(one -> own.addAll(one.readings()));
            options.scale().applied(own).forEach(reading -> readings.add(reading.onChannel(channel)));
        }
        balance(readings).ifPresent(readings::add);
        azimuth.ifPresent(one -> {
            readings.addAll(one.readings());
            warnings.addAll(one.warnings());
        });
        separation.ifPresent(one -> readings.addAll(one.readings()));
        return new Measurement(
                readings.stream()
                        .filter(this::isAskedFor)
                        .map(r -> r.atSeconds().isPresent()
                                ? r.atTime(r.atSeconds().getAsDouble() + fromSeconds)
                                : r)
                        .toList(),
                warnings.stream().map(w -> later(w, fromSeconds)).toList());
    }

    private static Warning later(Warning warning, double seconds) {
        return new Warning(
                warning.code(),
                warning.channel(),
                warning.message(),
                plus(warning.fromSeconds(), seconds),
                plus(warning.toSeconds(), seconds));
    }

    private static OptionalDouble plus(OptionalDouble seconds, double offset) {
        return seconds.isPresent() ? OptionalDouble.of(seconds.getAsDouble() + offset) : seconds;
    }

    private Optional<Reading> balance(List<Reading> readings) {
        Measurement both = new Measurement(readings, List.of());
        Optional<Reading> first = both.find(Quantity.LEVEL, 1).filter(Reading::isValid);
        Optional<Reading> second = both.find(Quantity.LEVEL, 2).filter(Reading::isValid);
        if (first.isEmpty() || second.isEmpty()) {
            return Optional.empty();
        }
        Reading balance = Reading.valid(
                Quantity.CHANNEL_BALANCE,
                second.get().value().orElseThrow() - first.get().value().orElseThrow(),
                BALANCE_METHOD);
        return Optional.of(balanceScatter.uncertainty().map(balance::withTypeA).orElse(balance));
    }

    /** Figures that the step is too short for say nothing, but that its level or response is missing does. */
    private boolean isAskedFor(Reading reading) {
        if (step.signal() instanceof StepSignal.Noise noise && reading.quantity() == Quantity.RESPONSE) {
            double frequencyHz = reading.atFrequencyHz().orElseThrow();
            return Arrays.stream(within(noise)).anyMatch(f -> f == frequencyHz);
        }
        return reading.status() != Status.INSUFFICIENT_DATA
                || reading.quantity() == Quantity.LEVEL
                || reading.quantity() == Quantity.TONE_FREQUENCY
                || reading.quantity() == Quantity.RESPONSE;
    }
}
