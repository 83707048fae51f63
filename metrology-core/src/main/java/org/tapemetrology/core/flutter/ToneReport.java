/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.tapemetrology.core.quantity.Quantity.*;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.flutter.ToneMeter.FoundStretch;
import org.tapemetrology.core.flutter.ToneMeter.StretchSummary;
import org.tapemetrology.core.level.SteadyLevel;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.Warning;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.core.standard.Iec60386Edition1972;
import org.tapemetrology.core.standard.JisC5551;
import org.tapemetrology.core.standard.NabEdition1965;
import org.tapemetrology.core.standard.PublishedCarriers;

/** Turns what the parts of a {@link ToneMeter} hold at one moment into readings and warnings. */
final class ToneReport {
    /** How many gaps or stretches are told one by one. */
    static final int LISTED = 20;

    private static final String SPAN = "mean over the span of the tone";
    private static final String DRIFT = "least-squares slope over the span";
    private static final String RANGE = "means over consecutive 10 s";
    private static final String LEVEL_METHOD = "AES17 RMS level of the fundamental";
    private static final String FLUCTUATION = "2.5th to 97.5th percentile of 100 ms windows";
    private static final String SCRAPE_NARROW = "200 Hz to 1 kHz, true RMS";
    private static final String SCRAPE_WIDE = "200 Hz to 5 kHz, true RMS";
    private static final String NOISE_METHOD = "amplitude noise beside the tone";

    /** What the filters at both ends of a recording may take of it. */
    private static final double ENDS_SECONDS = 0.1;

    private static final double TONE_SECONDS = 1;
    private static final double DRIFT_SECONDS = 30;
    private static final double RANGE_SECONDS = 20;
    /** One window in forty is 2.5 % of them. */
    private static final double FLUCTUATION_SECONDS = 4;

    private static final double MOST_GAPS_SHARE = 0.05;
    private static final double LONGEST_GAP_SECONDS = 1;
    private static final double SECOND_TONE_SHARE = 0.5;
    private static final double SPEED_WORTH_A_WARNING = 0.01;
    /** Noise adding in power: 0.1 makes a figure read 5 % high. */
    private static final double NOISE_WORTH_A_WARNING = 0.05;
    /** Below the last digit of any limit: a clean tone is not to be warned of. */
    private static final double NEGLIGIBLE_PERCENT = 0.001;

    private final OptionalDouble givenNominalHz;
    private final Optional<FoundStretch> counting;
    private final List<StretchSummary> others;
    private final int otherCount;
    private final OptionalDouble rejectedSecondHz;
    private final OverloadWatch overload;
    private final OptionalDouble invalidSeconds;

    private final List<Reading> readings = new ArrayList<>();
    private final List<Warning> warnings = new ArrayList<>();

    ToneReport(
            OptionalDouble givenNominalHz,
            Optional<FoundStretch> counting,
            List<StretchSummary> others,
            int otherCount,
            OptionalDouble rejectedSecondHz,
            OverloadWatch overload,
            OptionalDouble invalidSeconds) {
        this.givenNominalHz = givenNominalHz;
        this.counting = counting;
        this.others = others;
        this.otherCount = otherCount;
        this.rejectedSecondHz = rejectedSecondHz;
        this.overload = overload;
        this.invalidSeconds = invalidSeconds;
    }

    Measurement measurement() {
        if (invalidSeconds.isPresent()) {
            double at = invalidSeconds.getAsDouble();
            warnings.add(Warning.during(
                    WarningCode.INVALID_SAMPLE, "a sample is no finite number; nothing was measured", at, at));
            everything(Status.INVALID_INPUT);
        } else if (counting.isEmpty()) {
            boolean two = rejectedSecondHz.isPresent() && isCarrier(rejectedSecondHz.getAsDouble());
            everything(two ? Status.AMBIGUOUS : Status.NO_CARRIER);
            if (two) {
                warnings.add(Warning.of(WarningCode.SECOND_TONE, "two tones at once: neither can be followed alone"));
            }
            warnOfFullScale();
        } else {
            measured(counting.get());
        }
        return new Measurement(readings, warnings);
    }

    private void everything(Status status) {
        readings.add(Reading.without(TONE_FREQUENCY, status, SPAN));
        speeds(status);
        flutters(status);
        levels(status);
    }

    private void levels(Status status) {
        readings.add(Reading.without(LEVEL, status, LEVEL_METHOD));
        readings.add(Reading.without(LEVEL_FLUCTUATION, status, FLUCTUATION));
        readings.addAll(SteadyLevel.without(status));
    }

    private void speeds(Status status) {
        readings.add(Reading.without(SPEED_ERROR, status, SPAN));
        readings.add(Reading.without(SPEED_DRIFT, status, DRIFT));
        readings.add(Reading.without(SPEED_RANGE, status, RANGE));
    }

    private void flutters(Status status) {
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
            readings.add(Reading.without(quantity, status, method(quantity)));
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

    private void measured(FoundStretch found) {
        Stretch stretch = found.stretch();
        double meanHz = stretch.meanHz();
        OptionalDouble nominal = givenNominalHz.isPresent() ? givenNominalHz : PublishedCarriers.nearest(meanHz);
        boolean two = nominal.isPresent()
                && found.secondHz().isPresent()
                && isCarrier(found.secondHz().getAsDouble());
        add(TONE_FREQUENCY, SPAN, lasted(stretch.speed().seconds(), TONE_SECONDS), OptionalDouble.of(meanHz));
        if (nominal.isEmpty()) {
            speeds(Status.NO_CARRIER);
            flutters(Status.NO_CARRIER);
        } else if (two) {
            speeds(Status.AMBIGUOUS);
            flutters(Status.AMBIGUOUS);
        } else {
            speeds(stretch, nominal.getAsDouble());
            flutters(stretch, meanHz);
        }
        levels(found);
        if (found.secondHz().isPresent()) {
            warnings.add(Warning.of(
                    WarningCode.SECOND_TONE,
                    text("a second tone at about %.0f Hz", found.secondHz().getAsDouble())));
        }
        warnOfGaps(stretch);
        warnOfOtherStretches(stretch);
        warnOfFullScale();
    }

    private boolean isCarrier(double frequencyHz) {
        return givenNominalHz.isPresent()
                || PublishedCarriers.nearest(frequencyHz).isPresent();
    }

    private void speeds(Stretch stretch, double nominalHz) {
        SpeedMeter speed = stretch.speed();
        double meanHz = stretch.meanHz();
        double toPercent = 100 / meanHz;
        boolean enough = lasted(speed.seconds(), TONE_SECONDS);
        add(SPEED_ERROR, SPAN, enough, OptionalDouble.of(100 * (meanHz - nominalHz) / nominalHz));
        add(
                SPEED_DRIFT,
                DRIFT,
                lasted(speed.seconds(), DRIFT_SECONDS),
                scaled(speed.slopeHzPerSecond(), 60 * toPercent));
        add(SPEED_RANGE, RANGE, lasted(speed.seconds(), RANGE_SECONDS), scaled(speed.rangeHz(), toPercent));
        if (givenNominalHz.isEmpty() && enough && Math.abs(meanHz / nominalHz - 1) > SPEED_WORTH_A_WARNING) {
            warnings.add(Warning.of(WarningCode.NOMINAL_ASSUMED, assumption(meanHz, nominalHz)));
        }
    }

    private static String assumption(double meanHz, double nominalHz) {
        StringBuilder message = new StringBuilder(text(
                "the tape is taken for one of %.0f Hz, which makes the speed error %+.2f %%",
                nominalHz, 100 * (meanHz / nominalHz - 1)));
        for (double other : PublishedCarriers.HZ) {
            if (other != nominalHz && Math.abs(meanHz / other - 1) <= PublishedCarriers.WITHIN) {
                message.append(text("; were it one of %.0f Hz, %+.2f %%", other, 100 * (meanHz / other - 1)));
            }
        }
        return message.toString();
    }

    private void flutters(Stretch stretch, double meanHz) {
        Optional<FlutterMeter> measured = stretch.flutter();
        if (measured.isEmpty()) {
            warnings.add(Warning.of(
                    WarningCode.BAND_TOO_NARROW,
                    text(
                            "a tone of %.0f Hz leaves no room for deviation rates up to 200 Hz: no flutter figures",
                            meanHz)));
            return;
        }
        FlutterMeter meter = measured.get();
        if (stretch.gapSeconds() > MOST_GAPS_SHARE * stretch.lengthSeconds()
                || stretch.longestGapSeconds() >= LONGEST_GAP_SECONDS) {
            flutters(Status.INTERRUPTED);
            return;
        }
        double toPercent = 100 / meanHz;
        if (meter.secondTone().share() > SECOND_TONE_SHARE
                && meter.secondTone().explainedHz() * toPercent > NEGLIGIBLE_PERCENT) {
            flutters(Status.AMBIGUOUS);
            warnings.add(Warning.of(
                    WarningCode.SECOND_TONE,
                    "frequency and amplitude move together, as they do where a second tone stands beside the first"));
            return;
        }
        boolean fast = lasted(meter.weightedSeconds(), FlutterMeter.FAST_NEED_SECONDS);
        boolean slow = lasted(meter.flatSeconds(), FlutterMeter.SLOW_NEED_SECONDS);
        var parts = meter.quasiPeakParts();
        flutter(FLUTTER_WEIGHTED_QUASI_PEAK, fast, parts.meanOfHighest(), toPercent);
        if (fast) {
            readings.add(Reading.valid(
                            FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM,
                            parts.highest().orElseThrow() * toPercent,
                            Iec60386Edition1972.QUASI_PEAK_METHOD)
                    .atTime(stretch.startSeconds() + meter.worstMomentSeconds()));
        } else {
            flutter(FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM, false, OptionalDouble.empty(), toPercent);
        }
        flutter(FLUTTER_WEIGHTED_QUASI_PEAK_MEAN, fast, parts.mean(), toPercent);
        flutter(FLUTTER_WEIGHTED_TWO_SIGMA, fast, meter.twoSigma().value(), toPercent);
        flutter(FLUTTER_WEIGHTED_TWO_SIGMA_MAXIMUM, fast, meter.twoSigma().highestOfPeriods(), toPercent);
        flutter(FLUTTER_WEIGHTED_RMS, fast, meter.weighted().rms(), toPercent);
        double averageToPercent = NabEdition1965.AVERAGE_TO_RMS * toPercent;
        flutter(FLUTTER_WEIGHTED_AVERAGE, fast, meter.weightedAverage().value(), averageToPercent);
        flutter(FLUTTER_UNWEIGHTED_PEAK, slow, meter.flatQuasiPeakParts().meanOfHighest(), toPercent);
        flutter(FLUTTER_UNWEIGHTED_RMS, slow, meter.flat().rms(), toPercent);
        flutter(
                FLUTTER_UNWEIGHTED_AVERAGE,
                lasted(meter.nab().seconds(), FlutterMeter.FAST_NEED_SECONDS),
                meter.nab().statistic().value(),
                averageToPercent);
        flutter(
                WOW_RMS,
                lasted(meter.wow().seconds(), FlutterMeter.SLOW_NEED_SECONDS),
                meter.wow().statistic().rms(),
                toPercent);
        flutter(
                FLUTTER_RMS,
                lasted(meter.flutter().seconds(), FlutterMeter.FAST_NEED_SECONDS),
                meter.flutter().statistic().rms(),
                toPercent);
        scrape(meter, toPercent, meanHz);
        if (fast) {
            warnOfNoise(
                    "weighted", meter.weightedNoiseHz(), meter.weighted().rms().orElse(0), toPercent);
        }
        if (slow) {
            warnOfNoise("unweighted", meter.flatNoiseHz(), meter.flat().rms().orElse(0), toPercent);
        }
    }

    private void flutter(Quantity quantity, boolean enough, OptionalDouble hz, double toPercent) {
        add(quantity, method(quantity), enough, scaled(hz, toPercent));
    }

    private void scrape(FlutterMeter meter, double toPercent, double meanHz) {
        NoiseBesideTone noise = meter.noise();
        if (!noise.scrapeBandFits()) {
            return;
        }
        String method = meanHz >= NoiseBesideTone.WIDE_FROM_TONE_HZ ? SCRAPE_WIDE : SCRAPE_NARROW;
        boolean enough = lasted(noise.seconds(), FlutterMeter.FAST_NEED_SECONDS);
        if (enough && noise.noiseExplainsScrape()) {
            readings.add(Reading.without(FLUTTER_SCRAPE_RMS, Status.AMBIGUOUS, method));
        } else {
            add(FLUTTER_SCRAPE_RMS, method, enough, scaled(noise.scrapeHz(), toPercent));
        }
        if (enough && noise.toneToNoiseDb().isPresent()) {
            readings.add(
                    Reading.valid(TONE_SIGNAL_TO_NOISE, noise.toneToNoiseDb().getAsDouble(), NOISE_METHOD));
        }
    }

    private void warnOfNoise(String figure, double noiseHz, double figureHz, double toPercent) {
        if (noiseHz * toPercent > NEGLIGIBLE_PERCENT
                && noiseHz * noiseHz > NOISE_WORTH_A_WARNING * figureHz * figureHz) {
            warnings.add(Warning.of(
                    WarningCode.NOISE,
                    text(
                            "noise beside the tone makes up about %.4f %% of the %s flutter of %.4f %% RMS",
                            noiseHz * toPercent, figure, figureHz * toPercent)));
        }
    }

    private void levels(FoundStretch found) {
        SteadyLevel level = found.stretch().level();
        if (found.clipped()) {
            levels(Status.OVERLOAD);
            warnings.add(Warning.during(
                    WarningCode.OVERLOAD,
                    "more than 1 % of the periods have flat tops: the level is not known",
                    found.stretch().startSeconds(),
                    found.stretch().endSeconds()));
            return;
        }
        if (!lasted(level.seconds(), TONE_SECONDS)) {
            levels(Status.INSUFFICIENT_DATA);
            return;
        }
        Reading mean = Reading.valid(LEVEL, level.levelDbfs().orElseThrow(), LEVEL_METHOD);
        readings.add(level.uncertainty(SteadyLevel.CONFIDENCE)
                .map(mean::withUncertainty)
                .orElse(mean));
        add(LEVEL_FLUCTUATION, FLUCTUATION, lasted(level.seconds(), FLUCTUATION_SECONDS), level.rangeDb());
        readings.addAll(level.readings());
    }

    private void warnOfGaps(Stretch stretch) {
        for (Gap gap : stretch.gaps()) {
            warnings.add(Warning.during(
                    WarningCode.CARRIER_LOST,
                    text("the tone was away for %.3f s", gap.toSeconds() - gap.fromSeconds()),
                    gap.fromSeconds(),
                    gap.toSeconds()));
        }
        if (stretch.gapCount() > stretch.gaps().size()) {
            warnings.add(Warning.during(
                    WarningCode.CARRIER_LOST,
                    text(
                            "%d gaps in all, %.2f s together; the first %d are listed",
                            stretch.gapCount(),
                            stretch.gapSeconds(),
                            stretch.gaps().size()),
                    stretch.startSeconds(),
                    stretch.endSeconds()));
        }
    }

    private void warnOfOtherStretches(Stretch stretch) {
        for (StretchSummary other : others) {
            warnings.add(Warning.during(
                    WarningCode.SEVERAL_STRETCHES,
                    text(
                            "another stretch of tone, %.1f Hz for %.2f s, was left out: the one of %.2f s counts",
                            other.frequencyHz(), other.toSeconds() - other.fromSeconds(), stretch.lengthSeconds()),
                    other.fromSeconds(),
                    other.toSeconds()));
        }
        if (otherCount > others.size()) {
            warnings.add(Warning.of(
                    WarningCode.SEVERAL_STRETCHES,
                    text("%d other stretches in all; %d of them are listed", otherCount, others.size())));
        }
    }

    private void warnOfFullScale() {
        if (overload.fullScaleReached()) {
            warnings.add(Warning.during(
                    WarningCode.OVERLOAD,
                    "three or more samples in a row stand at full scale",
                    overload.firstFullScaleSeconds(),
                    overload.lastFullScaleSeconds()));
        }
    }

    private void add(Quantity quantity, String method, boolean enough, OptionalDouble value) {
        readings.add(
                enough && value.isPresent()
                        ? Reading.valid(quantity, value.getAsDouble(), method)
                        : Reading.without(quantity, Status.INSUFFICIENT_DATA, method));
    }

    private static boolean lasted(double seconds, double needed) {
        return seconds >= needed - ENDS_SECONDS;
    }

    private static OptionalDouble scaled(OptionalDouble value, double factor) {
        return value.isPresent() ? OptionalDouble.of(value.getAsDouble() * factor) : value;
    }

    private static String text(String format, Object... values) {
        return String.format(Locale.ROOT, format, values);
    }
}
