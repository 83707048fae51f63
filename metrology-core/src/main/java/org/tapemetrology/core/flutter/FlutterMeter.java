/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.tapemetrology.core.flutter.FlutterBands.FAST_GAP_SECONDS;
import static org.tapemetrology.core.flutter.FlutterBands.FAST_START_SECONDS;

import org.tapemetrology.core.standard.Iec60386Edition1972;

/**
 * Every wow and flutter figure of one stretch of tone, in Hz of deviation, in one pass, with what spoils them: noise beside
 * the tone and a second tone. Scrape flutter is taken before the band is limited.
 */
final class FlutterMeter {
    private final FlutterBands bands;
    private final NoiseBesideTone noise;
    private final SecondToneWatch secondTone;

    /**
     * A meter at rest.
     *
     * @param rateHz rate of the deviation
     * @param flatDeviationHz up to which rate the deviation is known
     * @param stopHz distance from the tone from which on other tones are stopped
     * @param toneHz frequency of the tone
     */
    FlutterMeter(double rateHz, double flatDeviationHz, double stopHz, double toneHz) {
        this.bands = new FlutterBands(rateHz);
        this.noise = new NoiseBesideTone(
                rateHz, flatDeviationHz, toneHz, new Settling(FAST_START_SECONDS, FAST_GAP_SECONDS, rateHz));
        this.secondTone =
                new SecondToneWatch(rateHz, stopHz, new Settling(FAST_START_SECONDS, FAST_GAP_SECONDS, rateHz));
    }

    /** Puts every filter into the state after an endless constant deviation. */
    void presetTo(double meanHz) {
        bands.presetTo(meanHz);
        noise.presetTo(meanHz);
    }

    void accept(
            double[] deviationHz,
            double[] amplitudeDeviationHz,
            double[] power,
            int offset,
            int length,
            boolean bridged) {
        noise.accept(deviationHz, amplitudeDeviationHz, offset, length, bridged);
        secondTone.accept(deviationHz, power, offset, length, bridged);
        bands.accept(deviationHz, offset, length, bridged);
    }

    FlutterBands bands() {
        return bands;
    }

    NoiseBesideTone noise() {
        return noise;
    }

    SecondToneWatch secondTone() {
        return secondTone;
    }

    /** RMS value in Hz that noise beside the tone adds to the weighted figures. */
    double weightedNoiseHz() {
        return noise.noiseHz(WeightedPath.BAND_HZ, Iec60386Edition1972.weighting()::magnitude);
    }

    /** RMS value in Hz that noise beside the tone adds to the figures of the flat band. */
    double flatNoiseHz() {
        return noise.noiseHz(WeightedPath.BAND_HZ, bands::flatMagnitude);
    }
}
