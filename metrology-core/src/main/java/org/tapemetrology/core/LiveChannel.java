/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.LiveReading.Figure;
import org.tapemetrology.core.fit.SteadyMean;
import org.tapemetrology.core.flutter.FlutterIndicator;
import org.tapemetrology.core.flutter.ToneMeter;
import org.tapemetrology.core.level.BallisticMeter;
import org.tapemetrology.core.level.LevelScale;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.standard.PublishedCarriers;

/** What one channel shows while it is measured. Looks at its tone every 0.1 s. */
final class LiveChannel {
    /** Of speed in %, of level in dB: the fluctuations assumed until the tape tells its own, and the least believed. */
    private static final double ASSUMED_FLUTTER = 0.1;

    private static final double LEAST_FLUTTER = 5e-4;
    private static final double ASSUMED_JUMPS = 0.7;
    private static final double LEAST_JUMPS = 2e-3;

    private final int number;
    private final OptionalDouble nominalHz;
    private final LevelScale scale;
    private final ToneMeter tone;
    private final FlutterIndicator flutter;
    private final Optional<BallisticMeter> indicator;

    private int stretch;
    private final RunningMean hertz = new RunningMean();
    private final RunningMean power = new RunningMean();
    /** Of the logarithm of the frequency in %, with the frequency. */
    private final SteadyMean speed = new SteadyMean(ASSUMED_FLUTTER, LEAST_FLUTTER);
    /** Of the level in dB, with the power. */
    private final SteadyMean level = new SteadyMean(ASSUMED_JUMPS, LEAST_JUMPS);

    private double powerNow = Double.NaN;

    LiveChannel(
            int number,
            OptionalDouble nominalHz,
            LevelScale scale,
            ToneMeter tone,
            FlutterIndicator flutter,
            Optional<BallisticMeter> indicator) {
        this.number = number;
        this.nominalHz = nominalHz;
        this.scale = scale;
        this.tone = tone;
        this.flutter = flutter;
        this.indicator = indicator;
    }

    /** Takes a block for the level meter. */
    void indicate(float[] samples, int length) {
        if (indicator.isPresent()) {
            indicator.get().accept(samples, 0, length);
        }
    }

    void look() {
        flutter.look(tone);
        int now = tone.followedStretch();
        if (now != stretch) {
            stretch = now;
            restart();
            hertz.restart();
            power.restart();
        }
        double f = hertz.next(tone.followedHzSum(), tone.followedHzCount());
        powerNow = power.next(tone.followedPowerSum(), tone.followedWindows());
        if (f > 0) {
            speed.add(100 * StrictMath.log(f), f);
        }
        if (powerNow > 0) {
            level.add(decibels(powerNow), powerNow);
        }
    }

    /** Power of the tone over the last 0.1 s; NaN where there was none. */
    double powerNow() {
        return powerNow;
    }

    /** The stretch of tone that is followed, 0 for none. */
    int stretch() {
        return stretch;
    }

    private static double decibels(double power) {
        return 10 * StrictMath.log10(power);
    }

    LiveReading.Channel reading(Correction correction) {
        Measurement followed = tone.followedReading();
        double hz = speed.carriedMean();
        double hzNow = speed.recentCarriedMean();
        OptionalDouble nominal = nominalHz.isPresent() || hz == 0 ? nominalHz : PublishedCarriers.nearest(hz);
        double toPercent = 100 / nominal.orElse(1);
        Figure frequency = correction.figure(status(followed, Quantity.TONE_FREQUENCY), speed, hz / 100, hz, hzNow);
        Figure error = correction.figure(
                status(followed, Quantity.SPEED_ERROR),
                speed,
                hz * toPercent / 100,
                hz * toPercent - 100,
                hzNow * toPercent - 100);
        return new LiveReading.Channel(
                number,
                frequency,
                error,
                levels(status(followed, Quantity.LEVEL), correction),
                flutter.shown(followed),
                indicator.map(BallisticMeter::readings).orElse(List.of()).stream()
                        .map(reading -> reading.onChannel(number))
                        .toList());
    }

    private List<Figure> levels(Reading like, Correction correction) {
        double dbfs = level.count() == 0 ? 0 : decibels(level.carriedMean());
        double now = level.count() == 0 ? 0 : decibels(level.recentCarriedMean());
        Reading raw = Correction.steady(like, level, 1, dbfs);
        List<Figure> figures = new ArrayList<>();
        for (Reading scaled : scale.applied(List.of(raw))) {
            double offset = scaled.isValid() ? scaled.value().orElseThrow() - dbfs : 0;
            figures.add(correction.figure(scaled.onChannel(number), level, now + offset));
        }
        return figures;
    }

    private Reading status(Measurement followed, Quantity quantity) {
        Reading reading = followed.find(quantity)
                .orElseGet(() -> Reading.without(quantity, Status.NO_CARRIER, Correction.METHOD));
        return reading.onChannel(number);
    }

    /** Begins the means anew. */
    void restart() {
        speed.restart();
        level.restart();
    }

    void reset() {
        stretch = 0;
        hertz.restart();
        power.restart();
        speed.reset();
        level.reset();
        powerNow = Double.NaN;
        flutter.reset();
        if (indicator.isPresent()) {
            indicator.get().reset();
        }
    }
}
