/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import org.tapemetrology.core.quantity.ExpandedUncertainty;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * The uncertainty budget of every reading of a measurement, by JCGM 100:2008: what the recording's own scatter and length
 * tell (type A), test tape, converter, noise, and how well filters and detectors of this library keep to the published
 * curves.
 *
 * <p>The measurand of every figure is its value in the long run for the machine in the state recorded; for
 * {@code flutter.weighted.quasi-peak} the expected highest indication in 30 s. Known errors of tape and converter are
 * corrected; own flutter of known size is subtracted, in quadrature, from the weighted RMS figure alone, and is a one-sided
 * component of every other. {@code channel.identity} and {@code channel.polarity} are nominal properties without an
 * uncertainty. Immutable.
 *
 * <p>Each component is in the unit of its reading or has its own. Cost: that of one {@link Budget} a reading. Never
 * NaN: readings, tape and converter hold finite values.
 *
 * <p>Not for readings without a scatter of their own ({@link Reading#typeA()}): they get no uncertainty.
 */
public final class ReadingBudgets {
    /** Coverage probability of the expanded uncertainties. */
    public static final double COVERAGE = StandardUncertainty.COVERAGE;

    private static final String OWN = "this library's tests";
    private static final String SCATTER = "scatter and length of the recording";
    private static final String SLOW_SPEED = "slow speed variation of the test tape";
    private static final String STABILITY = "stability of the converter's clock";
    private static final String NOISE = "noise beside the tone";
    private static final double PPM_TO_PERCENT = 1e-4;

    /** 0.2 dB: the worst row of the weighting table on the digital path. */
    private static final double WEIGHTING = 0.0233;
    /** 0.1 dB: the flat bands. */
    private static final double FLAT = 0.0116;
    /** Of the quasi-peak detector, which the published pulses do not determine; nothing on a sine. */
    private static final double QUASI_PEAK_REALISATION = 0.10;
    /** How near a sine the ratio of two figures must be for that. */
    private static final double SINE_WITHIN = 0.03;

    /** Half a bin of the histogram behind percentiles; sums resolve more. */
    private static final double RESOLUTION = 0.0005;

    /**
     * An effect anywhere up to its limit adds its square: of that 95 % lie below 0.9025 of the whole instead of 0.95, and its
     * RMS value is 0.775 of that of a uniform one. In between, so that intervals hold what they claim in simulation.
     */
    private static final double OF_A_LIMIT = 0.9;

    private static final double NOISE_FILTER_DB = 0.1;
    private static final double QUASI_PEAK_NOISE_DB = 0.3;
    private static final double THIRD_OCTAVE_DB = 0.3;
    private static final double TONE_TO_NOISE_DB = 0.5;
    /** Where the converter's own noise or crosstalk would explain all of a figure, at least a tenth is the machine's. */
    private static final double LEAST_LEFT = 0.1;

    private final TestTape tape;
    private final Converter converter;

    /**
     * Budgets of what was measured by a tape and a converter.
     *
     * @param tape the test tape
     * @param converter the converter
     */
    public ReadingBudgets(TestTape tape, Converter converter) {
        this.tape = tape;
        this.converter = converter;
    }

    /**
     * The measurement with its known errors corrected and the expanded uncertainty, at 95 %, of every reading that has one.
     *
     * @param measured readings as the meters give them, with what their scatter tells
     * @return the same readings, in the same order
     */
    public Measurement applied(Measurement measured) {
        return expanded(corrected(measured), budget -> budget.expanded(COVERAGE));
    }

    /**
     * The measurement with expanded uncertainties found in another way, as by {@link MonteCarlo}.
     *
     * @param corrected readings whose known errors are corrected
     * @param expanding what makes an expanded uncertainty of a budget
     * @return the same values, in the same order
     */
    public Measurement expanded(Measurement corrected, Function<Budget, ExpandedUncertainty> expanding) {
        List<Reading> readings = new ArrayList<>();
        for (Reading reading : corrected.readings()) {
            readings.add(budget(reading, corrected)
                    .map(budget -> {
                        ExpandedUncertainty expanded = expanding.apply(budget);
                        return reading.withUncertainty(new ExpandedUncertainty(
                                expanded.halfWidth(), expanded.coverageProbability(), budget.assumed()));
                    })
                    .orElse(reading));
        }
        return new Measurement(readings, corrected.warnings());
    }

    private Measurement corrected(Measurement measured) {
        return new Measurement(measured.readings().stream().map(this::corrected).toList(), measured.warnings());
    }

    private Reading corrected(Reading reading) {
        if (!reading.isValid()) {
            return reading;
        }
        double value = reading.value().orElseThrow();
        double clock = 1 + converter.clock().value() * 1e-6;
        return switch (reading.quantity()) {
            case TONE_FREQUENCY -> reading.withValue(value * clock);
            case SPEED_ERROR ->
                reading.withValue(
                        100 * ((1 + value / 100) * clock / (1 + tape.frequency().value() / 100) - 1));
            case FLUTTER_WEIGHTED_RMS -> reading.withValue(withoutOwnFlutter(value));
            case LEVEL_RE_REFERENCE -> reading.withValue(value - tape.level().value());
            case CHANNEL_BALANCE ->
                reading.withValue(
                        value - tape.balance().value() - converter.balance().value());
            case AZIMUTH_DELAY ->
                reading.withValue(
                        value - tape.delay().value() - converter.delay().value());
            default -> reading;
        };
    }

    private double withoutOwnFlutter(double percent) {
        double own =
                Math.hypot(tape.ownFlutter().value(), converter.ownFlutter().value());
        return own < percent ? Math.sqrt(percent * percent - own * own) : percent;
    }

    /**
     * The budget of a reading.
     *
     * @param reading a reading
     * @param measurement the measurement that it belongs to, corrected or not
     * @return the budget in the unit of the reading; empty without a value, for a nominal property, and where the recording
     *     is too short to tell its scatter
     */
    public Optional<Budget> budget(Reading reading, Measurement measurement) {
        if (!reading.isValid() || reading.typeA().isEmpty()) {
            return Optional.empty();
        }
        StandardUncertainty scatter = reading.typeA().get();
        List<UncertaintyComponent> components = new ArrayList<>();
        components.add(UncertaintyComponent.typeA(
                SCATTER, scatter.value(), scatter.degreesOfFreedom(), "long-run variance in this recording"));
        double value = reading.value().orElseThrow();
        switch (reading.quantity()) {
            case TONE_FREQUENCY ->
                components.add(converter.clock().component("clock of the converter", value * 1e-6, "ppm"));
            case SPEED_ERROR -> {
                double factor = 1 + value / 100;
                components.add(tape.frequency().component("frequency of the test tape", -factor, "%"));
                components.add(converter.clock().component("clock of the converter", factor * PPM_TO_PERCENT, "ppm"));
            }
            case SPEED_DRIFT -> {
                components.add(withAssumption(
                        tape.slowSpeed(),
                        UncertaintyComponent.typeB(
                                SLOW_SPEED,
                                Distribution.RECTANGULAR,
                                tape.slowSpeed().most(),
                                tape.slowSpeed().source())));
                components.add(converter.clockStability().component(STABILITY, PPM_TO_PERCENT, "ppm"));
            }
            case SPEED_RANGE -> {
                components.add(tape.slowSpeed().component(SLOW_SPEED, 1, "%"));
                components.add(converter.clockStability().component(STABILITY, 2 * PPM_TO_PERCENT, "ppm"));
            }
            case FLUTTER_WEIGHTED_QUASI_PEAK,
                    FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM,
                    FLUTTER_WEIGHTED_QUASI_PEAK_MEAN,
                    FLUTTER_WEIGHTED_TWO_SIGMA,
                    FLUTTER_WEIGHTED_TWO_SIGMA_MAXIMUM,
                    FLUTTER_WEIGHTED_RMS,
                    FLUTTER_WEIGHTED_AVERAGE ->
                flutter(components, reading, measurement, Quantity.FLUTTER_WEIGHTED_RMS, WEIGHTING);
            case FLUTTER_UNWEIGHTED_PEAK, FLUTTER_UNWEIGHTED_RMS, FLUTTER_UNWEIGHTED_AVERAGE ->
                flutter(components, reading, measurement, Quantity.FLUTTER_UNWEIGHTED_RMS, FLAT);
            case WOW_RMS, FLUTTER_RMS, FLUTTER_SCRAPE_RMS ->
                flutter(components, reading, measurement, reading.quantity(), FLAT);
            case TONE_SIGNAL_TO_NOISE -> components.add(within("band beside the tone", TONE_TO_NOISE_DB));
            case LEVEL, LEVEL_MEDIAN, LEVEL_RE_REFERENCE, LEVEL_MAXIMUM_OUTPUT -> level(components);
            case LEVEL_VOLTAGE -> {
                level(components);
                components.add(converter.fullScale().component("full scale of the converter", 1, "dB"));
            }
            case LEVEL_FLUCTUATION ->
                components.add(quadrature("fluctuation of the test tape", value, tape.levelFluctuation()));
            case CHANNEL_BALANCE -> {
                components.add(tape.balance().component("balance of the test tape", -1, "dB"));
                components.add(converter.balance().component("balance of the converter", -1, "dB"));
            }
            case AZIMUTH_DELAY -> delay(components, 1);
            case AZIMUTH_ANGLE, AZIMUTH_LEVEL_LOSS -> delay(components, perMicrosecond(reading, measurement));
            case DISTORTION_THIRD_HARMONIC, DISTORTION_THD, DISTORTION_DIFFERENCE_FREQUENCY, DISTORTION_MODULATION ->
                // It adds to that of the machine in any phase.
                components.add(withAssumption(
                        converter.distortion(),
                        UncertaintyComponent.typeB(
                                "distortion of the converter",
                                Distribution.ARCSINE,
                                Math.min(value, converter.distortion().most()),
                                converter.distortion().source())));
            case DISTORTION_THD_PLUS_NOISE -> {
                components.add(quadrature("distortion of the converter", value, converter.distortion()));
                components.add(UncertaintyComponent.oneSided(
                        "fast flutter", reading.noiseReach(), "side bands beside the tone in this recording"));
            }
            case NOISE_A_WEIGHTED, NOISE_UNWEIGHTED, NOISE_AVERAGE -> noise(components, reading, NOISE_FILTER_DB);
            case NOISE_QUASI_PEAK, NOISE_QUASI_PEAK_MAXIMUM -> noise(components, reading, QUASI_PEAK_NOISE_DB);
            case NOISE_THIRD_OCTAVE -> noise(components, reading, THIRD_OCTAVE_DB);
            case RESPONSE -> {
                components.add(tape.response().component("response of the test tape", -1, "dB"));
                components.add(converter.gain().component("gain of the converter", 1, "dB"));
            }
            case HUM, ERASURE, PRINT_THROUGH_BEFORE, PRINT_THROUGH_AFTER, COMPANDING_TRACKING ->
                components.add(converter.gain().component("gain of the converter", 1, "dB"));
            case SEPARATION -> {
                components.add(converter.gain().component("gain of the converter", 1, "dB"));
                components.add(crosstalk(value));
            }
            default -> {
                // The figure is one of the recording alone.
            }
        }
        return Optional.of(Budget.of(components));
    }

    private void level(List<UncertaintyComponent> components) {
        components.add(tape.level().component("level of the test tape", -1, "dB"));
        components.add(converter.gain().component("gain of the converter", 1, "dB"));
    }

    private void delay(List<UncertaintyComponent> components, double perMicrosecond) {
        components.add(tape.delay().component("azimuth of the test tape", -perMicrosecond, "us"));
        components.add(converter.delay().component("delay between the converter's channels", -perMicrosecond, "us"));
    }

    /** By how much angle or loss change with the delay: as their scatter does with that of the delay. */
    private static double perMicrosecond(Reading reading, Measurement measurement) {
        double own = reading.typeA().orElseThrow().value();
        double delay = measurement
                .find(Quantity.AZIMUTH_DELAY)
                .flatMap(Reading::typeA)
                .map(StandardUncertainty::value)
                .orElse(0.0);
        return delay == 0 ? 0 : own / delay;
    }

    private void flutter(
            List<UncertaintyComponent> components,
            Reading reading,
            Measurement measurement,
            Quantity rmsQuantity,
            double filter) {
        double value = reading.value().orElseThrow();
        double rms = sameChannel(measurement, rmsQuantity, reading).orElse(value);
        components.add(UncertaintyComponent.oneSided(NOISE, reading.noiseReach(), "amplitude noise in this recording"));
        components.add(ownFlutter("flutter of the test tape", reading, rms, tape.ownFlutter()));
        components.add(ownFlutter("flutter of the converter's clock", reading, rms, converter.ownFlutter()));
        components.add(within("filters", filter * value));
        components.add(within("resolution", RESOLUTION * value));
        if (isQuasiPeak(reading.quantity())
                && !isSine(value, rms, sameChannel(measurement, Quantity.FLUTTER_WEIGHTED_TWO_SIGMA, reading))) {
            components.add(UncertaintyComponent.typeB(
                    "detector realisation",
                    Distribution.RECTANGULAR,
                    QUASI_PEAK_REALISATION * value,
                    "IEC 60386:1972 gives readings for pulses, no constants"));
        }
    }

    private static boolean isQuasiPeak(Quantity quantity) {
        return quantity == Quantity.FLUTTER_WEIGHTED_QUASI_PEAK
                || quantity == Quantity.FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM
                || quantity == Quantity.FLUTTER_WEIGHTED_QUASI_PEAK_MEAN
                || quantity == Quantity.FLUTTER_UNWEIGHTED_PEAK;
    }

    /** A sine reads the root of 2 times its RMS on both peak scales; fluctuations at random read two to four times. */
    private static boolean isSine(double quasiPeak, double rms, OptionalDouble twoSigma) {
        double peak = Math.sqrt(2) * rms;
        return Math.abs(quasiPeak / peak - 1) < SINE_WITHIN && Math.abs(twoSigma.orElse(0) / peak - 1) < SINE_WITHIN;
    }

    private static OptionalDouble sameChannel(Measurement measurement, Quantity quantity, Reading like) {
        return measurement.readings().stream()
                .filter(r -> r.quantity() == quantity && r.channel().equals(like.channel()) && r.isValid())
                .mapToDouble(r -> r.value().orElseThrow())
                .findFirst();
    }

    /** Own flutter adds in power to the RMS value, and to every other figure in the same proportion. */
    private static UncertaintyComponent ownFlutter(String name, Reading reading, double rms, StatedValue own) {
        double value = reading.value().orElseThrow();
        boolean subtracted = reading.quantity() == Quantity.FLUTTER_WEIGHTED_RMS && own.value() > 0;
        if (subtracted) {
            return own.component(name, -Math.min(1, own.value() / value), "%");
        }
        return inPower(name, value, rms, own);
    }

    /** What an effect adds in power to a figure of its own kind. */
    private static UncertaintyComponent quadrature(String name, double value, StatedValue effect) {
        return inPower(name, value, value, effect);
    }

    /**
     * The reach of an effect that adds in power: 1 - sqrt(1 - s^2) of the value for a share s of the RMS value; a
     * little less for an effect that is known to a limit alone.
     */
    private static UncertaintyComponent inPower(String name, double value, double rms, StatedValue effect) {
        double share = rms == 0 ? 0 : Math.min(1, effect.most() / rms);
        double limited = effect.distribution() == Distribution.ONE_SIDED ? OF_A_LIMIT : 1;
        double reach = limited * value * (1 - Math.sqrt(1 - share * share));
        return withAssumption(effect, UncertaintyComponent.oneSided(name, reach, effect.source()));
    }

    private void noise(List<UncertaintyComponent> components, Reading reading, double filterDb) {
        components.add(converter.gain().component("gain of the converter", 1, "dB"));
        components.add(within("weighting and detector", filterDb));
        if (reading.noiseReach() > 0) {
            components.add(UncertaintyComponent.oneSided(
                    "fast flutter", reading.noiseReach(), "side bands beside the tone in this recording"));
        }
        if (reading.unit() == reading.quantity().unit()) {
            double share = Math.pow(10, (converter.noiseDbfs() - reading.value().orElseThrow()) / 10);
            double left = Math.max(LEAST_LEFT, 1 - share);
            components.add(withAssumption(
                    converter.gain(),
                    UncertaintyComponent.oneSided(
                            "noise of the converter",
                            -10 * StrictMath.log10(left),
                            converter.gain().source())));
        }
    }

    /** The converter's crosstalk adds to that of the machine in any phase. */
    private UncertaintyComponent crosstalk(double separationDb) {
        double share = Math.min(1 - LEAST_LEFT, Math.pow(10, (separationDb - converter.crosstalkDb()) / 20));
        return withAssumption(
                converter.gain(),
                UncertaintyComponent.typeB(
                        "crosstalk of the converter",
                        Distribution.ARCSINE,
                        20 * StrictMath.log10(1 + share),
                        converter.gain().source()));
    }

    private static UncertaintyComponent within(String name, double halfWidth) {
        return UncertaintyComponent.typeB(name, Distribution.RECTANGULAR, halfWidth, OWN);
    }

    private static UncertaintyComponent withAssumption(StatedValue from, UncertaintyComponent component) {
        return from.assumed() ? component.asAssumed() : component;
    }
}
