/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.tapemetrology.core.flutter.ReportLines.lasted;
import static org.tapemetrology.core.flutter.ReportLines.scaled;
import static org.tapemetrology.core.quantity.Quantity.*;

import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.flutter.StretchChoice.FoundStretch;
import org.tapemetrology.core.level.SteadyLevel;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.quantity.WarningCode;
import org.tapemetrology.core.standard.PublishedCarriers;

/** Turns what the parts of a {@link ToneMeter} hold at one moment into readings and warnings. */
final class ToneReport {
    private static final String SPAN = "mean over the span of the tone";
    private static final String DRIFT = "least-squares slope over the span";
    private static final String RANGE = "means over consecutive 10 s";
    private static final String LEVEL_METHOD = "AES17 RMS level of the fundamental";
    private static final String FLUCTUATION = "2.5th to 97.5th percentile of 100 ms windows";

    private static final double TONE_SECONDS = 1;
    private static final double DRIFT_SECONDS = 30;
    private static final double RANGE_SECONDS = 20;
    /** One window in forty is 2.5 % of them. */
    private static final double FLUCTUATION_SECONDS = 4;

    private static final double SPEED_WORTH_A_WARNING = 0.01;
    /** Of 16 bits that is -64 dBFS; without dither the error of rounding is then 35 dB below the tone. */
    private static final double LEAST_STEPS = 20;

    private static final double WITHIN_OF_HARMONIC = 0.015;

    private final OptionalDouble givenNominalHz;
    private final StretchChoice choice;
    private final Optional<FoundStretch> running;
    private final StretchSearch search;
    private final ReportLines lines = new ReportLines();
    private final FlutterReport flutter = new FlutterReport(lines);

    ToneReport(
            OptionalDouble givenNominalHz, StretchChoice choice, Optional<FoundStretch> running, StretchSearch search) {
        this.givenNominalHz = givenNominalHz;
        this.choice = choice;
        this.running = running;
        this.search = search;
    }

    Measurement measurement() {
        Optional<FoundStretch> counting = choice.counting(running);
        OptionalDouble invalid = search.invalidSeconds();
        if (invalid.isPresent()) {
            double at = invalid.getAsDouble();
            lines.warnDuring(at, at, WarningCode.INVALID_SAMPLE, "a sample is no finite number; nothing was measured");
            everything(Status.INVALID_INPUT);
        } else if (counting.isEmpty()) {
            OptionalDouble rejected = search.rejectedSecondHz().isPresent() || givenNominalHz.isEmpty()
                    ? search.rejectedSecondHz()
                    : search.outsideHz();
            boolean two =
                    rejected.isPresent() && (givenNominalHz.isPresent() || choice.isCarrier(rejected.getAsDouble()));
            everything(two ? Status.AMBIGUOUS : Status.NO_CARRIER);
            if (two) {
                warnOfTwoTones(rejected.getAsDouble());
            }
            warnOfFullScale();
            if (search.overload().limitedWithoutTone()) {
                lines.warn(
                        WarningCode.OVERLOAD,
                        "more than a tenth of the samples stand on one value: what may be a tone is cut off");
            }
        } else {
            measured(counting.get());
        }
        return lines.measurement();
    }

    private void warnOfTwoTones(double otherHz) {
        if (choice.isCarrier(otherHz)) {
            lines.warn(WarningCode.SECOND_TONE, "two tones at once: neither can be followed alone");
        } else {
            lines.warn(
                    WarningCode.SECOND_TONE,
                    "a tone at about %.0f Hz, too far from the nominal frequency; beside it none can be followed",
                    otherHz);
        }
    }

    private void everything(Status status) {
        lines.without(TONE_FREQUENCY, status, SPAN);
        speeds(status);
        flutter.without(status);
        levels(status);
    }

    private void levels(Status status) {
        lines.without(LEVEL, status, LEVEL_METHOD);
        lines.without(LEVEL_FLUCTUATION, status, FLUCTUATION);
        SteadyLevel.without(status).forEach(lines::add);
    }

    private void speeds(Status status) {
        lines.without(SPEED_ERROR, status, SPAN);
        lines.without(SPEED_DRIFT, status, DRIFT);
        lines.without(SPEED_RANGE, status, RANGE);
    }

    private void measured(FoundStretch found) {
        Stretch stretch = found.stretch();
        double meanHz = stretch.meanHz();
        OptionalDouble nominal = givenNominalHz.isPresent() ? givenNominalHz : PublishedCarriers.nearest(meanHz);
        boolean two = nominal.isPresent()
                && found.secondHz().isPresent()
                && (choice.isCarrier(found.secondHz().getAsDouble())
                        || isHarmonicOf(found.secondHz().getAsDouble(), meanHz));
        boolean near = stretch.flutter()
                .filter(meter -> meter.secondTone().nearShare() > FlutterReport.SECOND_TONE_SHARE)
                .isPresent();
        lines.add(
                TONE_FREQUENCY,
                SPAN,
                lasted(stretch.speed().seconds(), TONE_SECONDS),
                OptionalDouble.of(meanHz),
                stretch.speed().meanUncertainty());
        if (nominal.isEmpty()) {
            speeds(Status.NO_CARRIER);
            flutter.without(Status.NO_CARRIER);
        } else if (two || near) {
            speeds(Status.AMBIGUOUS);
            flutter.without(Status.AMBIGUOUS);
        } else {
            speeds(stretch, nominal.getAsDouble());
            flutter.of(stretch);
        }
        levels(found);
        if (found.secondHz().isPresent()) {
            lines.warn(
                    WarningCode.SECOND_TONE,
                    "a second tone at about %.0f Hz",
                    found.secondHz().getAsDouble());
        }
        if (found.secondHz().isEmpty() && search.rejectedSecondHz().isPresent()) {
            lines.warn(
                    WarningCode.SECOND_TONE,
                    "elsewhere two tones stand at once, of which neither can be followed; one is at about %.0f Hz",
                    search.rejectedSecondHz().getAsDouble());
        }
        if (near) {
            lines.warn(
                    WarningCode.SECOND_TONE,
                    "amplitude and frequency swing together, as they do where a second tone stands within some 30 Hz of the first");
        }
        warnOfSteps(found);
        warnOfGaps(stretch);
        warnOfJumps(stretch);
        warnOfGlides(stretch);
        warnOfOtherStretches(stretch);
        warnOfFullScale();
    }

    /** Whether the tone may be a harmonic of a lower one that stands beside it, as on a tape that is played too slow. */
    private static boolean isHarmonicOf(double lowerHz, double toneHz) {
        double order = Math.rint(toneHz / lowerHz);
        return order >= 2 && Math.abs(toneHz / lowerHz / order - 1) <= WITHIN_OF_HARMONIC;
    }

    private void speeds(Stretch stretch, double nominalHz) {
        SpeedMeter speed = stretch.speed();
        double meanHz = stretch.meanHz();
        double toPercent = 100 / meanHz;
        boolean enough = lasted(speed.seconds(), TONE_SECONDS);
        lines.add(
                SPEED_ERROR,
                SPAN,
                enough,
                OptionalDouble.of(100 * (meanHz - nominalHz) / nominalHz),
                scaled(speed.meanUncertainty(), 100 / nominalHz));
        lines.add(
                SPEED_DRIFT,
                DRIFT,
                lasted(speed.seconds(), DRIFT_SECONDS),
                scaled(speed.slopeHzPerSecond(), 60 * toPercent),
                scaled(speed.slopeUncertainty(), 60 * toPercent));
        lines.add(
                SPEED_RANGE,
                RANGE,
                lasted(speed.seconds(), RANGE_SECONDS),
                scaled(speed.rangeHz(), toPercent),
                scaled(speed.rangeUncertainty(), toPercent));
        if (givenNominalHz.isEmpty() && enough && Math.abs(meanHz / nominalHz - 1) > SPEED_WORTH_A_WARNING) {
            lines.warn(WarningCode.NOMINAL_ASSUMED, "%s", assumption(meanHz, nominalHz));
        }
    }

    private static String assumption(double meanHz, double nominalHz) {
        StringBuilder message = new StringBuilder(String.format(
                Locale.ROOT,
                "the tape is taken for one of %.0f Hz, which makes the speed error %+.2f %%",
                nominalHz,
                100 * (meanHz / nominalHz - 1)));
        for (double other : PublishedCarriers.HZ) {
            if (other != nominalHz && Math.abs(meanHz / other - 1) <= PublishedCarriers.WITHIN) {
                message.append(String.format(
                        Locale.ROOT, "; were it one of %.0f Hz, %+.2f %%", other, 100 * (meanHz / other - 1)));
            }
        }
        return message.toString();
    }

    private void levels(FoundStretch found) {
        SteadyLevel level = found.stretch().level();
        if (found.clipped()) {
            levels(Status.OVERLOAD);
            lines.warnDuring(
                    found.stretch().startSeconds(),
                    found.stretch().endSeconds(),
                    WarningCode.OVERLOAD,
                    "more than 1 %% of the periods have flat tops: the level is not known");
            return;
        }
        if (!lasted(level.seconds(), TONE_SECONDS)) {
            levels(Status.INSUFFICIENT_DATA);
            return;
        }
        lines.add(LEVEL, LEVEL_METHOD, true, level.levelDbfs(), level.uncertainty());
        lines.add(
                LEVEL_FLUCTUATION,
                FLUCTUATION,
                lasted(level.seconds(), FLUCTUATION_SECONDS),
                level.rangeDb(),
                level.rangeUncertainty());
        level.readings().forEach(lines::add);
    }

    private void warnOfSteps(FoundStretch found) {
        double steps = Math.sqrt(found.stretch().meanPower()) / found.step();
        if (steps < LEAST_STEPS) {
            lines.warn(
                    WarningCode.COARSE_STEPS,
                    "the tone is only %.1f steps of the recording's resolution high: record it louder or with more bits",
                    steps);
        }
    }

    private void warnOfGaps(Stretch stretch) {
        for (Gap gap : stretch.gaps()) {
            lines.warnDuring(
                    gap.fromSeconds(),
                    gap.toSeconds(),
                    WarningCode.CARRIER_LOST,
                    "the tone was away for %.3f s",
                    gap.toSeconds() - gap.fromSeconds());
        }
        if (stretch.gapCount() > stretch.gaps().size()) {
            lines.warnDuring(
                    stretch.startSeconds(),
                    stretch.endSeconds(),
                    WarningCode.CARRIER_LOST,
                    "%d gaps in all, %.2f s together; the first %d are listed",
                    stretch.gapCount(),
                    stretch.gapSeconds(),
                    stretch.gaps().size());
        }
    }

    private void warnOfJumps(Stretch stretch) {
        JumpWatch jumps = stretch.jumps();
        for (double moment : jumps.moments()) {
            double at = stretch.startSeconds() + moment;
            lines.warnDuring(
                    at,
                    at,
                    WarningCode.TIME_JUMP,
                    "the phase of the tone jumps, as where samples were lost or tape was joined; flutter figures hold the jump");
        }
        if (jumps.count() > jumps.moments().size()) {
            lines.warn(
                    WarningCode.TIME_JUMP,
                    "%d jumps in all; the first %d are listed",
                    jumps.count(),
                    jumps.moments().size());
        }
    }

    private void warnOfGlides(Stretch stretch) {
        if (stretch.ends().glidesAtFirst()) {
            lines.warnDuring(
                    stretch.startSeconds(),
                    stretch.startSeconds() + EndsWatch.END_SECONDS,
                    WarningCode.SPEED_GLIDE,
                    "the speed at the beginning is not that of the rest, as where the machine is still starting");
        }
        if (stretch.ends().glidesAtLast()) {
            lines.warnDuring(
                    stretch.endSeconds() - EndsWatch.END_SECONDS,
                    stretch.endSeconds(),
                    WarningCode.SPEED_GLIDE,
                    "the speed at the end is not that of the rest, as where the machine is stopping");
        }
    }

    private void warnOfOtherStretches(Stretch stretch) {
        StretchChoice.Others others = choice.others(running);
        for (StretchChoice.Summary other : others.listed()) {
            lines.warnDuring(
                    other.fromSeconds(),
                    other.toSeconds(),
                    WarningCode.SEVERAL_STRETCHES,
                    "another stretch of tone, %.1f Hz for %.2f s, was left out: the one of %.2f s counts",
                    other.frequencyHz(),
                    other.toSeconds() - other.fromSeconds(),
                    stretch.lengthSeconds());
        }
        if (others.count() > others.listed().size()) {
            lines.warn(
                    WarningCode.SEVERAL_STRETCHES,
                    "%d other stretches in all; %d of them are listed",
                    others.count(),
                    others.listed().size());
        }
    }

    private void warnOfFullScale() {
        OverloadWatch overload = search.overload();
        if (overload.fullScaleReached()) {
            lines.warnDuring(
                    overload.firstFullScaleSeconds(),
                    overload.lastFullScaleSeconds(),
                    WarningCode.OVERLOAD,
                    "three or more samples in a row, or more than one of twenty, stand at full scale");
        }
    }
}
