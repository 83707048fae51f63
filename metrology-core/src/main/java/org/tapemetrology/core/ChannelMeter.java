/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.flutter.DeviationSeries;
import org.tapemetrology.core.flutter.FlutterSeries;
import org.tapemetrology.core.flutter.ToneMeter;
import org.tapemetrology.core.noise.NoiseMeter;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.core.spectrum.ScrapeSpectrum;
import org.tapemetrology.core.tone.DistortionMeter;
import org.tapemetrology.core.tone.TwoToneDistortionMeter;

/**
 * Everything that one channel allows: of a tone its speed, flutter, level and distortion, of two tones theirs, and as long as there is none the
 * noise. Works in blocks of always the same length, after each of which it is known whether a tone is followed.
 */
final class ChannelMeter {
    /** A tone below this may be mains hum, and the recording one of noise. */
    private static final double HUM_BELOW_HZ = 200;

    private final int sampleRateHz;
    private final Content content;
    private final ToneMeter tone;
    private final NoiseMeter noise;
    private final TwoToneDistortionMeter twoTone;
    private final float[] block;

    private int followed;
    private @Nullable DistortionMeter distortion;
    private int bestEnded;
    private @Nullable DistortionMeter bestDistortion;
    private boolean hadTone;
    private boolean oneTone;

    /**
     * A meter at rest.
     *
     * @param blockLength samples of a block
     * @param keepDeviation whether the deviation of the tone is kept
     */
    ChannelMeter(
            int sampleRateHz,
            int blockLength,
            Content content,
            OptionalDouble nominalHz,
            OptionalDouble mainsHz,
            boolean keepDeviation) {
        this.sampleRateHz = sampleRateHz;
        this.content = content;
        ToneMeter.Builder toneBuilder = ToneMeter.builder(sampleRateHz);
        nominalHz.ifPresent(toneBuilder::nominalHz);
        if (keepDeviation) {
            toneBuilder.keepDeviation();
        }
        this.tone = toneBuilder.build();
        NoiseMeter.Builder noiseBuilder = NoiseMeter.builder().sampleRateHz(sampleRateHz);
        mainsHz.ifPresent(noiseBuilder::mainsHz);
        this.noise = noiseBuilder.build();
        this.twoTone = new TwoToneDistortionMeter(sampleRateHz);
        this.block = new float[blockLength];
    }

    /** Takes the channel out of a block of interleaved samples. */
    void accept(float[] interleaved, int channel, int stride) {
        for (int i = 0; i < block.length; i++) {
            block[i] = interleaved[channel + i * stride];
        }
        if (content != Content.NOISE) {
            tone.accept(block, 0, block.length);
            follow();
        }
        if (distortion != null && followed > 0) {
            distortion.accept(block, 0, block.length);
        }
        if (content != Content.NOISE && !oneTone) {
            twoTone.accept(block, 0, 1, block.length);
        }
        if (content == Content.NOISE || (content == Content.AUTOMATIC && !hadTone)) {
            noise.accept(block, 0, block.length);
        }
    }

    /** Each stretch of tone has a distortion meter of its own; that of the best one that has ended is kept. */
    private void follow() {
        int now = tone.followedStretch();
        oneTone |= tone.isOneTone();
        if (now == followed) {
            return;
        }
        if (followed > 0 && tone.countingStretch() == followed) {
            bestEnded = followed;
            bestDistortion = distortion;
        }
        distortion = null;
        followed = now;
        if (now > 0) {
            double toneHz = tone.followedHz().orElseThrow();
            distortion = distortionMeter(toneHz);
            hadTone |= toneHz >= HUM_BELOW_HZ;
        }
    }

    private @Nullable DistortionMeter distortionMeter(double toneHz) {
        boolean measurable = toneHz >= DistortionMeter.LOWEST_TONE_HZ && toneHz <= sampleRateHz / 4.0;
        return measurable ? new DistortionMeter(sampleRateHz, toneHz) : null;
    }

    Measurement reading() {
        if (content == Content.NOISE) {
            return new Measurement(noise.readings(), List.of());
        }
        Measurement measured = tone.reading();
        List<Reading> readings = new ArrayList<>(measured.readings());
        Status levelStatus = measured.find(Quantity.LEVEL).orElseThrow().status();
        boolean second = measured.warnsOf(WarningCode.SECOND_TONE);
        countingDistortion().ifPresent(meter -> {
            meter.readings().forEach(reading -> readings.add(judged(reading, levelStatus, second)));
            if (hadTone && !second && levelStatus != Status.OVERLOAD) {
                readings.addAll(meter.noiseReadings());
            }
        });
        if (!oneTone) {
            Status twoToneStatus = measured.warnsOf(WarningCode.OVERLOAD) ? Status.OVERLOAD : Status.VALID;
            twoTone.readings().stream()
                    .filter(Reading::isValid)
                    .map(reading -> judged(reading, twoToneStatus, false))
                    .forEach(readings::add);
        }
        if (content == Content.AUTOMATIC && !hadTone && levelStatus != Status.AMBIGUOUS) {
            readings.addAll(noise.readings());
        }
        return new Measurement(readings, measured.warnings());
    }

    /** Of a clipped tone no distortion is known, and a second tone is neither distortion nor noise of the first. */
    private static Reading judged(Reading distortion, Status levelStatus, boolean second) {
        if (levelStatus == Status.OVERLOAD || levelStatus == Status.INVALID_INPUT) {
            return Reading.without(distortion.quantity(), levelStatus, distortion.method());
        }
        return second && distortion.quantity() == Quantity.DISTORTION_THD_PLUS_NOISE
                ? Reading.without(distortion.quantity(), Status.AMBIGUOUS, distortion.method())
                : distortion;
    }

    private Optional<DistortionMeter> countingDistortion() {
        int counting = tone.countingStretch();
        if (counting == 0) {
            return Optional.empty();
        }
        return Optional.ofNullable(counting == followed ? distortion : counting == bestEnded ? bestDistortion : null);
    }

    /** Power of the tone that is followed, 0 while there is none. */
    double followedPower() {
        return tone.followedPower();
    }

    /** The meter of the tone. */
    ToneMeter tone() {
        return tone;
    }

    Optional<DeviationSeries> deviation() {
        return tone.deviation();
    }

    Optional<ScrapeSpectrum> scrape() {
        return tone.scrape();
    }

    Optional<FlutterSeries> series() {
        return tone.series();
    }

    OptionalDouble runningQuasiPeakPercent() {
        return tone.runningQuasiPeakPercent();
    }

    void reset() {
        tone.reset();
        noise.reset();
        followed = 0;
        bestEnded = 0;
        distortion = null;
        bestDistortion = null;
        hadTone = false;
        oneTone = false;
        twoTone.reset();
    }
}
