/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.tapemetrology.core.flutter.ReportLines.lasted;
import static org.tapemetrology.core.flutter.ReportLines.scaled;
import static org.tapemetrology.core.quantity.Quantity.*;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.core.standard.Iec60386Edition1972;
import org.tapemetrology.core.standard.JisC5551;
import org.tapemetrology.core.standard.NabEdition1965;

/** The flutter figures of a stretch: in per cent, each with its status, and what the reader must know about them. */
final class FlutterReport {
    private static final String SCRAPE_NARROW = "200 Hz to 1 kHz, true RMS";
    private static final String SCRAPE_WIDE = "200 Hz to 5 kHz, true RMS";
    private static final String NOISE_METHOD = "amplitude noise beside the tone";

    private static final double MOST_GAPS_SHARE = 0.05;
    private static final double LONGEST_GAP_SECONDS = 1;
    private static final double SECOND_TONE_SHARE = 0.5;
    /** Noise adding in power: 0.1 makes a figure read 5 % high. */
    private static final double NOISE_WORTH_A_WARNING = 0.05;
    /** Below the last digit of any limit: a clean tone is not to be warned of. */
    private static final double NEGLIGIBLE_PERCENT = 0.001;

    private final ReportLines lines;

    FlutterReport(ReportLines lines) {
        this.lines = lines;
    }

    /** No figure, for a common reason. */
    void without(Status status) {
        for (Quantity quantity : List.of(
                FLUTTER_WEIGHTED_QUASI_PEAK,
                FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM,
                FLUTTER_WEIGHTED_QUASI_PEAK_MEAN,
                FLUTTER_WEIGHTED_TWO_SIGMA,
                FLUTTER_WEIGHTED_TWO_SIGMA_MAXIMUM,
                FLUTTER_WEIGHTED_RMS,
                FLUTTER_WEIGHTED_AVERAGE,
                FLUTTER_UNWEIGHTED_PEAK,
                FLUTTER_UNWEIGHTED_RMS,
                FLUTTER_UNWEIGHTED_AVERAGE,
                WOW_RMS,
                FLUTTER_RMS)) {
            lines.without(quantity, status, method(quantity));
        }
    }

    private static String method(Quantity quantity) {
        return switch (quantity) {
            case FLUTTER_WEIGHTED_QUASI_PEAK, FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM, FLUTTER_WEIGHTED_QUASI_PEAK_MEAN ->
                Iec60386Edition1972.QUASI_PEAK_METHOD;
            case FLUTTER_WEIGHTED_TWO_SIGMA, FLUTTER_WEIGHTED_TWO_SIGMA_MAXIMUM -> Iec60386Edition1972.TWO_SIGMA_METHOD;
            case FLUTTER_WEIGHTED_RMS -> JisC5551.METHOD;
            case FLUTTER_WEIGHTED_AVERAGE -> NabEdition1965.WEIGHTED_METHOD;
            case FLUTTER_UNWEIGHTED_PEAK, FLUTTER_UNWEIGHTED_RMS -> Iec60386Edition1972.UNWEIGHTED_METHOD;
            case FLUTTER_UNWEIGHTED_AVERAGE -> NabEdition1965.UNWEIGHTED_METHOD;
            case WOW_RMS, FLUTTER_RMS -> Iec60386Edition1972.BANDS_METHOD;
            default -> throw new IllegalArgumentException(quantity.id() + " is no flutter figure");
        };
    }

    /** The figures of a stretch. */
    void of(Stretch stretch) {
        double meanHz = stretch.meanHz();
        Optional<FlutterMeter> measured = stretch.flutter();
        if (measured.isEmpty()) {
            lines.warn(
                    WarningCode.BAND_TOO_NARROW,
                    "a tone of %.0f Hz leaves no room for deviation rates up to 200 Hz: no flutter figures",
                    meanHz);
            return;
        }
        FlutterMeter meter = measured.get();
        if (stretch.gapSeconds() > MOST_GAPS_SHARE * stretch.lengthSeconds()
                || stretch.longestGapSeconds() >= LONGEST_GAP_SECONDS) {
            without(Status.INTERRUPTED);
            return;
        }
        double toPercent = 100 / meanHz;
        if (meter.secondTone().share() > SECOND_TONE_SHARE
                && meter.secondTone().explainedHz() * toPercent > NEGLIGIBLE_PERCENT) {
            without(Status.AMBIGUOUS);
            lines.warn(
                    WarningCode.SECOND_TONE,
                    "frequency and amplitude move together, as they do where a second tone stands beside the first");
            return;
        }
        figures(meter.bands(), stretch.startSeconds(), toPercent);
        scrape(meter, toPercent, meanHz);
        if (isFast(meter.bands())) {
            warnOfNoise(
                    "weighted",
                    meter.weightedNoiseHz(),
                    meter.bands().weighted().rms().orElse(0),
                    toPercent);
        }
        if (isSlow(meter.bands())) {
            warnOfNoise(
                    "unweighted",
                    meter.flatNoiseHz(),
                    meter.bands().flat().rms().orElse(0),
                    toPercent);
        }
    }

    /** Every figure up to 200 Hz. */
    void figures(FlutterBands bands, double startSeconds, double toPercent) {
        weighted(bands, startSeconds, isFast(bands), toPercent);
        unweighted(bands, isSlow(bands), toPercent);
        bands(bands, toPercent);
    }

    private static boolean isFast(FlutterBands bands) {
        return lasted(bands.weightedSeconds(), FlutterBands.FAST_NEED_SECONDS);
    }

    private static boolean isSlow(FlutterBands bands) {
        return lasted(bands.flatSeconds(), FlutterBands.SLOW_NEED_SECONDS);
    }

    private void weighted(FlutterBands bands, double startSeconds, boolean enough, double toPercent) {
        var parts = bands.quasiPeakParts();
        add(FLUTTER_WEIGHTED_QUASI_PEAK, enough, parts.meanOfHighest(), toPercent);
        if (enough) {
            lines.add(Reading.valid(
                            FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM,
                            parts.highest().orElseThrow() * toPercent,
                            Iec60386Edition1972.QUASI_PEAK_METHOD)
                    .atTime(startSeconds + bands.worstMomentSeconds()));
        } else {
            add(FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM, false, OptionalDouble.empty(), toPercent);
        }
        add(FLUTTER_WEIGHTED_QUASI_PEAK_MEAN, enough, parts.mean(), toPercent);
        add(FLUTTER_WEIGHTED_TWO_SIGMA, enough, bands.twoSigma().value(), toPercent);
        add(FLUTTER_WEIGHTED_TWO_SIGMA_MAXIMUM, enough, bands.twoSigma().highestOfPeriods(), toPercent);
        add(FLUTTER_WEIGHTED_RMS, enough, bands.weighted().rms(), toPercent);
        add(
                FLUTTER_WEIGHTED_AVERAGE,
                enough,
                bands.weightedAverage().value(),
                NabEdition1965.AVERAGE_TO_RMS * toPercent);
    }

    private void unweighted(FlutterBands bands, boolean enough, double toPercent) {
        add(FLUTTER_UNWEIGHTED_PEAK, enough, bands.flatQuasiPeakParts().meanOfHighest(), toPercent);
        add(FLUTTER_UNWEIGHTED_RMS, enough, bands.flat().rms(), toPercent);
        add(
                FLUTTER_UNWEIGHTED_AVERAGE,
                lasted(bands.nab().seconds(), FlutterBands.FAST_NEED_SECONDS),
                bands.nab().statistic().value(),
                NabEdition1965.AVERAGE_TO_RMS * toPercent);
    }

    private void bands(FlutterBands bands, double toPercent) {
        add(
                WOW_RMS,
                lasted(bands.wow().seconds(), FlutterBands.SLOW_NEED_SECONDS),
                bands.wow().statistic().rms(),
                toPercent);
        add(
                FLUTTER_RMS,
                lasted(bands.flutter().seconds(), FlutterBands.FAST_NEED_SECONDS),
                bands.flutter().statistic().rms(),
                toPercent);
    }

    private void scrape(FlutterMeter meter, double toPercent, double meanHz) {
        NoiseBesideTone noise = meter.noise();
        if (!noise.scrapeBandFits()) {
            return;
        }
        String method = meanHz >= NoiseBesideTone.WIDE_FROM_TONE_HZ ? SCRAPE_WIDE : SCRAPE_NARROW;
        boolean enough = lasted(noise.seconds(), FlutterBands.FAST_NEED_SECONDS);
        if (enough && noise.noiseExplainsScrape()) {
            lines.without(FLUTTER_SCRAPE_RMS, Status.AMBIGUOUS, method);
        } else {
            lines.add(FLUTTER_SCRAPE_RMS, method, enough, scaled(noise.scrapeHz(), toPercent));
        }
        if (enough && noise.toneToNoiseDb().isPresent()) {
            lines.add(TONE_SIGNAL_TO_NOISE, NOISE_METHOD, true, noise.toneToNoiseDb());
        }
    }

    private void warnOfNoise(String figure, double noiseHz, double figureHz, double toPercent) {
        if (noiseHz * toPercent > NEGLIGIBLE_PERCENT
                && noiseHz * noiseHz > NOISE_WORTH_A_WARNING * figureHz * figureHz) {
            lines.warn(
                    WarningCode.NOISE,
                    "noise beside the tone makes up about %.4f %% of the %s flutter of %.4f %% RMS",
                    noiseHz * toPercent,
                    figure,
                    figureHz * toPercent);
        }
    }

    private void add(Quantity quantity, boolean enough, OptionalDouble hz, double toPercent) {
        lines.add(quantity, method(quantity), enough, scaled(hz, toPercent));
    }
}
