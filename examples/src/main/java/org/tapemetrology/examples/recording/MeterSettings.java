/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.recording;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.tapemetrology.core.Content;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.level.ConverterFullScale;
import org.tapemetrology.core.level.DigitalLevel;
import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.core.programme.ProgrammeMeasurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.separation.RecordedTone;
import org.tapemetrology.examples.files.Setup;

/**
 * How recordings are to be measured.
 *
 * @param content what they are taken for
 * @param nominalHz frequency of the tone at the right speed, where it was given on the command line
 * @param setup what is known of machine, tape and converter
 * @param reference tone on each channel of the reference recording, empty without one
 * @param keepDeviation whether the deviation of the tone is kept for its diagnosis
 */
public record MeterSettings(
        Content content, OptionalDouble nominalHz, Setup setup, List<RecordedTone> reference, boolean keepDeviation) {
    private static final double[] LOSS_HZ = {10_000};

    /** These settings with the tones of a reference recording. */
    public MeterSettings withReference(Recording.Result measured) {
        List<RecordedTone> tones = new ArrayList<>();
        for (int channel = 1; channel <= measured.channels(); channel++) {
            Reading level = measured.measurement().find(Quantity.LEVEL, channel).orElseThrow();
            Reading frequency = measured.measurement()
                    .find(Quantity.TONE_FREQUENCY, channel)
                    .orElseThrow();
            if (!level.isValid() || !frequency.isValid()) {
                throw new IllegalArgumentException(measured.file() + ": the reference has no level on channel "
                        + channel + ": " + level.status().id());
            }
            tones.add(new RecordedTone(
                    new DigitalLevel(level.value().orElseThrow()),
                    frequency.value().orElseThrow()));
        }
        return new MeterSettings(content, nominalHz, setup, tones, keepDeviation);
    }

    /** A meter for a recording. */
    RecordingMeter meter(int sampleRateHz, int channels) {
        return builder(sampleRateHz, channels).build();
    }

    /** What builds a meter for a recording. */
    public RecordingMeter.Builder builder(int sampleRateHz, int channels) {
        RecordingMeter.Builder builder = RecordingMeter.builder(sampleRateHz, channels)
                .content(content)
                .testTape(setup.testTape())
                .converter(setup.converter());
        if (keepDeviation) {
            builder.keepDeviation();
        }
        if (nominalHz.isPresent()) {
            builder.nominalHz(nominalHz.getAsDouble());
        } else {
            setup.toneHz().ifPresent(builder::nominalHz);
        }
        setup.mainsHz().ifPresent(builder::mainsHz);
        setup.fullScaleVolts().ifPresent(volts -> builder.fullScale(ConverterFullScale.ofVolts(volts)));
        if (!reference.isEmpty()) {
            builder.reference(reference);
        } else {
            setup.referenceLevelDbfs().ifPresent(dbfs -> builder.referenceLevel(new DigitalLevel(dbfs)));
        }
        setup.tracks()
                .ifPresent(tracks -> builder.tracks(
                        tracks,
                        setup.tapeSpeedMillimetresPerSecond().orElseThrow() / 10,
                        setup.trackWidthMillimetres().isPresent() ? LOSS_HZ : new double[0]));
        return builder;
    }

    /** A measurement of recordings of a programme. */
    ProgrammeMeasurement measurement(Programme programme, int sampleRateHz, int channels) {
        ProgrammeMeasurement.Builder builder = ProgrammeMeasurement.builder(programme, sampleRateHz, channels);
        setup.mainsHz().ifPresent(builder::mainsHz);
        setup.fullScaleVolts().ifPresent(volts -> builder.fullScale(ConverterFullScale.ofVolts(volts)));
        setup.referenceLevelDbfs().ifPresent(dbfs -> builder.referenceLevel(new DigitalLevel(dbfs)));
        setup.tracks()
                .ifPresent(tracks -> builder.tracks(
                        tracks,
                        setup.tapeSpeedMillimetresPerSecond().orElseThrow() / 10,
                        setup.trackWidthMillimetres().isPresent() ? LOSS_HZ : new double[0]));
        return builder.build();
    }
}
