/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.tapemetrology.core.flutter.ReportLines.lasted;
import static org.tapemetrology.core.flutter.ReportLines.scaled;
import static org.tapemetrology.core.quantity.Quantity.*;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.detector.AverageMagnitude;
import org.tapemetrology.core.detector.HighestPerPart;
import org.tapemetrology.core.detector.MeanPower;
import org.tapemetrology.core.detector.TwoSigma;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
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
    /** Share of the deviation from which a second tone explains it. */
    static final double SECOND_TONE_SHARE = 0.5;
    /** A second tone adds in power too. */
    private static final double SECOND_TONE_WORTH_A_WARNING = 0.05;

    /** Noise adding in power: 0.1 makes a figure read 5 % high. */
    private static final double NOISE_WORTH_A_WARNING = 0.05;
    /** Below the last digit of any limit: a clean tone is not to be warned of. */
    private static final double NEGLIGIBLE_PERCENT = 0.001;

    private static final double TWO_SIGMA_REACH = 1;
    private static final double QUASI_PEAK_REACH = 1.5;
    /** Noise of a tenth of the crest reaches as far as it can; below it does so in proportion. */
    private static final double FULL_REACH_FROM = 10;

    /** Decibels of a small relative change of an amplitude. */
    private static final double DECIBELS_OF_AMPLITUDE = 20 / StrictMath.log(10);

    private final ReportLines lines;
    /** What noise beside the tone adds to the figures, in %. */
    private double weightedNoise;

    private double flatNoise;

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
        SecondToneWatch second = meter.secondTone();
        if (second.share() > SECOND_TONE_SHARE && isWorthAWarning(meter, toPercent)) {
            without(Status.AMBIGUOUS);
            lines.warn(
                    WarningCode.SECOND_TONE,
                    "frequency and amplitude move together, as they do where a second tone stands beside the first");
            return;
        }
        // A glide carries the tone to the edge of the filters, where its amplitude falls with it.
        if (!stretch.ends().glidesAtFirst() && !stretch.ends().glidesAtLast()) {
            warnOfSecondTone(meter, toPercent);
        }
        weightedNoise = meter.weightedNoiseHz() * toPercent;
        flatNoise = meter.flatNoiseHz() * toPercent;
        figures(meter.bands(), stretch.startSeconds(), toPercent);
        scrape(meter, toPercent, meanHz);
        if (isFast(meter.bands())) {
            warnOfNoise(
                    "weighted", weightedNoise, meter.bands().weighted().rms().orElse(0) * toPercent);
        }
        if (isSlow(meter.bands())) {
            warnOfNoise("unweighted", flatNoise, meter.bands().flat().rms().orElse(0) * toPercent);
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
        HighestPerPart parts = bands.quasiPeakParts();
        TwoSigma twoSigma = bands.twoSigma();
        add(FLUTTER_WEIGHTED_QUASI_PEAK, enough, parts.meanOfHighest(), parts.meanOfHighestUncertainty(), toPercent);
        Reading highest = figure(
                FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM, enough, parts.highest(), parts.highestUncertainty(), toPercent);
        lines.add(highest.isValid() ? highest.atTime(startSeconds + bands.worstMomentSeconds()) : highest);
        add(FLUTTER_WEIGHTED_QUASI_PEAK_MEAN, enough, parts.mean(), parts.meanUncertainty(), toPercent);
        add(FLUTTER_WEIGHTED_TWO_SIGMA, enough, twoSigma.value(), twoSigma.uncertainty(), toPercent);
        add(
                FLUTTER_WEIGHTED_TWO_SIGMA_MAXIMUM,
                enough,
                twoSigma.highestOfPeriods(),
                twoSigma.highestUncertainty(),
                toPercent);
        rms(FLUTTER_WEIGHTED_RMS, enough, bands.weighted(), toPercent);
        average(FLUTTER_WEIGHTED_AVERAGE, enough, bands.weightedAverage(), toPercent);
    }

    private void unweighted(FlutterBands bands, boolean enough, double toPercent) {
        HighestPerPart parts = bands.flatQuasiPeakParts();
        add(FLUTTER_UNWEIGHTED_PEAK, enough, parts.meanOfHighest(), parts.meanOfHighestUncertainty(), toPercent);
        rms(FLUTTER_UNWEIGHTED_RMS, enough, bands.flat(), toPercent);
        average(
                FLUTTER_UNWEIGHTED_AVERAGE,
                lasted(bands.nab().seconds(), FlutterBands.FAST_NEED_SECONDS),
                bands.nab().statistic(),
                toPercent);
    }

    private void bands(FlutterBands bands, double toPercent) {
        rms(
                WOW_RMS,
                lasted(bands.wow().seconds(), FlutterBands.SLOW_NEED_SECONDS),
                bands.wow().statistic(),
                toPercent);
        rms(
                FLUTTER_RMS,
                lasted(bands.flutter().seconds(), FlutterBands.FAST_NEED_SECONDS),
                bands.flutter().statistic(),
                toPercent);
    }

    private void rms(Quantity quantity, boolean enough, MeanPower power, double toPercent) {
        add(quantity, enough, power.rms(), power.rmsUncertainty(), toPercent);
    }

    private void average(Quantity quantity, boolean enough, AverageMagnitude magnitude, double toPercent) {
        double scale = NabEdition1965.AVERAGE_TO_RMS * toPercent;
        add(quantity, enough, magnitude.value(), magnitude.uncertainty(), scale);
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
            Reading reading = ReportLines.reading(
                    FLUTTER_SCRAPE_RMS,
                    method,
                    enough,
                    scaled(noise.scrapeHz(), toPercent),
                    scaled(noise.scrapeUncertainty(), toPercent));
            lines.add(withNoise(reading, noise.scrapeNoiseHz() * toPercent, 0));
        }
        if (enough && noise.toneToNoiseDb().isPresent()) {
            lines.add(
                    TONE_SIGNAL_TO_NOISE,
                    NOISE_METHOD,
                    true,
                    noise.toneToNoiseDb(),
                    scaled(noise.noiseUncertainty(), DECIBELS_OF_AMPLITUDE));
        }
    }

    /** It may explain less than half of all fast deviation, and still much of a figure. */
    private void warnOfSecondTone(FlutterMeter meter, double toPercent) {
        if (meter.secondTone().isBeyondChance() && isWorthAWarning(meter, toPercent)) {
            lines.warn(
                    WarningCode.SECOND_TONE,
                    "a weak second tone may make up about %.4f %% of the unweighted flutter of %.4f %% RMS",
                    meter.secondTone().explainedHz() * toPercent,
                    flutterHz(meter.bands()) * toPercent);
        }
    }

    private static boolean isWorthAWarning(FlutterMeter meter, double toPercent) {
        double explained = meter.secondTone().explainedHz();
        double flutter = flutterHz(meter.bands());
        return explained * toPercent > NEGLIGIBLE_PERCENT
                && explained * explained > SECOND_TONE_WORTH_A_WARNING * flutter * flutter;
    }

    /** Wow, which a second tone has no part in, is left out. */
    private static double flutterHz(FlutterBands bands) {
        return bands.flutter().statistic().rms().orElse(0);
    }

    private void warnOfNoise(String figure, double noisePercent, double percent) {
        if (noisePercent > NEGLIGIBLE_PERCENT
                && noisePercent * noisePercent > NOISE_WORTH_A_WARNING * percent * percent) {
            lines.warn(
                    WarningCode.NOISE,
                    "noise beside the tone makes up about %.4f %% of the %s flutter of %.4f %% RMS",
                    noisePercent,
                    figure,
                    percent);
        }
    }

    private void add(
            Quantity quantity,
            boolean enough,
            OptionalDouble hz,
            Optional<StandardUncertainty> scatter,
            double toPercent) {
        lines.add(figure(quantity, enough, hz, scatter, toPercent));
    }

    private Reading figure(
            Quantity quantity,
            boolean enough,
            OptionalDouble hz,
            Optional<StandardUncertainty> scatter,
            double toPercent) {
        Reading reading = ReportLines.reading(
                quantity, method(quantity), enough, scaled(hz, toPercent), scaled(scatter, toPercent));
        return withNoise(reading, noisePercent(quantity), crestReach(quantity));
    }

    /** By how much of its own RMS value noise lifts the crests of a sine that a figure is made of, at most. */
    private static double crestReach(Quantity quantity) {
        return switch (quantity) {
            case FLUTTER_WEIGHTED_TWO_SIGMA, FLUTTER_WEIGHTED_TWO_SIGMA_MAXIMUM -> TWO_SIGMA_REACH;
            case FLUTTER_WEIGHTED_QUASI_PEAK, FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM, FLUTTER_UNWEIGHTED_PEAK ->
                QUASI_PEAK_REACH;
            default -> 0;
        };
    }

    private double noisePercent(Quantity quantity) {
        return switch (quantity) {
            case WOW_RMS -> 0; // its density rises with the square of the rate: there is hardly any so low
            case FLUTTER_UNWEIGHTED_PEAK, FLUTTER_UNWEIGHTED_RMS, FLUTTER_UNWEIGHTED_AVERAGE, FLUTTER_RMS -> flatNoise;
            default -> weightedNoise;
        };
    }

    /**
     * Noise adds to a figure about as independent fluctuations do, in power. On the crests of a sine it adds more: the level
     * that a sine of the peak 1 with normally distributed noise of the RMS value n exceeds for 5 % of the time is higher by
     * 0.2 n at n = 0.02, 0.5 n at 0.05, 0.7 n at 0.1 and 0.9 n at 0.2 (drawn at random), and a peak is by more.
     */
    private static Reading withNoise(Reading reading, double noisePercent, double crestReach) {
        if (!reading.isValid()) {
            return reading;
        }
        double value = reading.value().orElseThrow();
        double inPower = value - Math.sqrt(Math.max(0, value * value - noisePercent * noisePercent));
        double onCrests =
                value > 0 ? crestReach * noisePercent * Math.min(1, FULL_REACH_FROM * noisePercent / value) : 0;
        return reading.withNoiseReach(Math.min(value, Math.max(inPower, onCrests)));
    }
}
