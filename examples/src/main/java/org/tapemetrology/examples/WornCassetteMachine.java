/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.util.List;
import org.tapemetrology.signals.Decibels;
import org.tapemetrology.signals.Dropout;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.Hum;
import org.tapemetrology.signals.Quantiser;
import org.tapemetrology.signals.RandomDeviation;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.WhiteNoise;

/**
 * The calibration cassette as the worn machine of the demonstration plays it: invented flaws of a cassette transport, whose
 * truth is known.
 */
record WornCassetteMachine(int sampleRateHz) {
    static final double SECONDS = 60;
    private static final double LEVEL_DBFS = -8;
    private static final double BALANCE_DB = -0.8;

    /** Both channels, through a 24-bit converter. */
    List<SampledSignal> channels() {
        FmTone tone = FmTone.builder(3150)
                .amplitude(Decibels.toRatio(LEVEL_DBFS))
                .speedError(0.009)
                .drift(-1e-6)
                .sine(7.64, 0.0013) // capstan of 2 mm
                .sine(1.39, 0.0009, 0.7) // pinch roller of 11 mm
                .sine(0.38, 0.0008, 1.9) // take-up pack
                .deviation(RandomDeviation.falling(3, 0.3, 60, 0.0003))
                .build();
        Signal replayed = tone.amplitudeModulated(0.03, 0.9).withDropouts(new Dropout(33.4, 0.03, 30, 0.003));
        return List.of(channel(replayed, 11), channel(replayed.scaledBy(Decibels.toRatio(BALANCE_DB)), 12));
    }

    private SampledSignal channel(Signal replayed, long seed) {
        Signal hiss = new WhiteNoise(seed, Decibels.toRatio(-58) / Math.sqrt(2), sampleRateHz);
        return SampledSignal.of(replayed.plus(hiss).plus(Hum.pure(50, Decibels.toRatio(-62))), sampleRateHz)
                .quantised(Quantiser.dithered(24, seed));
    }
}
