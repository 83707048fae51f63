/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.tapemetrology.core.Content;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.level.ConverterFullScale;
import org.tapemetrology.core.level.DigitalLevel;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;

/**
 * How recordings are to be measured.
 *
 * @param content what they are taken for
 * @param nominalHz frequency of the tone at the right speed, where it was given on the command line
 * @param setup what is known of machine, tape and converter
 * @param referenceLevels level of the tone on each channel of the reference recording, empty without one
 */
record MeterSettings(Content content, OptionalDouble nominalHz, Setup setup, List<DigitalLevel> referenceLevels) {

    /** These settings with the tones of a reference recording. */
    MeterSettings withReference(Recording.Result reference) {
        List<DigitalLevel> levels = new ArrayList<>();
        for (int channel = 1; channel <= reference.channels(); channel++) {
            Reading level =
                    reference.measurement().find(Quantity.LEVEL, channel).orElseThrow();
            if (!level.isValid()) {
                throw new IllegalArgumentException(reference.file() + ": the reference has no level on channel "
                        + channel + ": " + level.status().id());
            }
            levels.add(new DigitalLevel(level.value().orElseThrow()));
        }
        return new MeterSettings(content, nominalHz, setup, levels);
    }

    /** A meter for a recording. */
    RecordingMeter meter(int sampleRateHz, int channels) {
        RecordingMeter.Builder builder =
                RecordingMeter.builder(sampleRateHz, channels).content(content);
        if (nominalHz.isPresent()) {
            builder.nominalHz(nominalHz.getAsDouble());
        } else {
            setup.toneHz().ifPresent(builder::nominalHz);
        }
        setup.mainsHz().ifPresent(builder::mainsHz);
        setup.fullScaleVolts().ifPresent(volts -> builder.fullScale(ConverterFullScale.ofVolts(volts)));
        if (!referenceLevels.isEmpty()) {
            builder.referenceLevels(referenceLevels);
        } else {
            setup.referenceLevelDbfs().ifPresent(dbfs -> builder.referenceLevel(new DigitalLevel(dbfs)));
        }
        return builder.build();
    }
}
