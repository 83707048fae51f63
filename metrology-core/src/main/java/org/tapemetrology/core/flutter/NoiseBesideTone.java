/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import org.tapemetrology.core.detector.MeanPower;
import org.tapemetrology.core.filter.Butterworth;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.quantity.StandardUncertainty;

/**
 * Scrape flutter, and how much of it and of the weighted figure is noise beside the tone.
 *
 * <p>Noise that is added to a tone moves its amplitude as much as its phase, while flutter moves the phase alone. The
 * amplitude deviation through the same band as the deviation is therefore the share of noise in it. Noise of constant
 * density N shows in the deviation as a density rising with the square of the rate, {@code c f^2}; from c, found in the
 * band, follows what it adds to any other figure.
 */
final class NoiseBesideTone {
    static final double FROM_HZ = 200;
    private static final double NARROW_TO_HZ = 1000;
    private static final double WIDE_TO_HZ = 5000;
    static final double WIDE_FROM_TONE_HZ = 10_000;
    private static final double LEAST_TO_HZ = 400;
    private static final int ORDER = 4;
    /** Step of the sums over rates: every response that is summed changes over some ten times as much. */
    private static final double STEP_HZ = 4;

    private final boolean wholeBand;
    private final boolean measurable;
    private final SecondOrderSections[] filters;
    private final Settling settling;
    private final MeanPower deviation;
    private final MeanPower amplitude;
    private final double passHz;
    private double bandFactor;
    private final double rateHz;
    private double[] filtered = new double[0];

    NoiseBesideTone(double rateHz, double flatDeviationHz, double toneHz, Settling settling) {
        this.rateHz = rateHz;
        this.settling = settling;
        this.deviation = new MeanPower(rateHz);
        this.amplitude = new MeanPower(rateHz);
        double wanted = scrapeToHz(toneHz);
        this.wholeBand = flatDeviationHz >= wanted;
        double to = Math.min(wanted, flatDeviationHz);
        this.measurable = to >= LEAST_TO_HZ;
        this.filters = measurable
                ? new SecondOrderSections[] {
                    Butterworth.band(ORDER, FROM_HZ, to, rateHz), Butterworth.band(ORDER, FROM_HZ, to, rateHz)
                }
                : new SecondOrderSections[0];
        this.passHz = flatDeviationHz;
        if (measurable) {
            bandFactor = power(rateHz / 2, filters[0]::magnitude);
        }
    }

    /** Power that noise of density f^2 has behind a filter, up to a rate of deviation. */
    private static double power(double toHz, DoubleUnaryOperator magnitude) {
        double sum = 0;
        for (double f = STEP_HZ / 2; f < toHz; f += STEP_HZ) {
            double g = magnitude.applyAsDouble(f);
            sum += f * f * g * g;
        }
        return STEP_HZ * sum;
    }

    void presetTo(double meanHz) {
        if (measurable) {
            filters[0].presetTo(meanHz);
        }
    }

    void accept(double[] deviationHz, double[] amplitudeDeviationHz, int offset, int length, boolean bridged) {
        int skipped = settling.leaveOut(length, bridged);
        if (!measurable) {
            return;
        }
        if (filtered.length < length) {
            filtered = new double[length];
        }
        filters[0].process(deviationHz, offset, filtered, 0, length);
        deviation.add(filtered, skipped, length - skipped);
        filters[1].process(amplitudeDeviationHz, offset, filtered, 0, length);
        amplitude.add(filtered, skipped, length - skipped);
    }

    /** Upper end of the scrape band on a tone. */
    static double scrapeToHz(double toneHz) {
        return toneHz >= WIDE_FROM_TONE_HZ ? WIDE_TO_HZ : NARROW_TO_HZ;
    }

    /** Whether the whole scrape band fits beside the tone. */
    boolean scrapeBandFits() {
        return wholeBand;
    }

    double seconds() {
        return deviation.count() / rateHz;
    }

    /** Scrape flutter in Hz. */
    OptionalDouble scrapeHz() {
        return wholeBand ? deviation.rms() : OptionalDouble.empty();
    }

    /** How well the scrape flutter in the long run is known. */
    Optional<StandardUncertainty> scrapeUncertainty() {
        return deviation.rmsUncertainty();
    }

    /** RMS value in Hz that the noise adds to the scrape flutter. */
    double scrapeNoiseHz() {
        return amplitude.rms().orElse(0);
    }

    /** Relative standard uncertainty of every value that is drawn from the noise. */
    Optional<StandardUncertainty> noiseUncertainty() {
        double hz = amplitude.rms().orElse(0);
        return hz > 0 ? amplitude.rmsUncertainty().map(u -> u.times(1 / hz)) : Optional.empty();
    }

    /** Whether noise explains more than half of the power in the scrape band. */
    boolean noiseExplainsScrape() {
        return measurable
                && amplitude.rms().orElse(0) > Math.sqrt(0.5) * deviation.rms().orElse(0);
    }

    /**
     * RMS value in Hz that the noise adds to a figure; 0 where it can't be told.
     *
     * @param toHz up to which rate of deviation the figure's path goes
     * @param magnitude the figure's response over the rate of deviation
     */
    double noiseHz(double toHz, DoubleUnaryOperator magnitude) {
        return measurable
                ? Math.sqrt(power(toHz, magnitude) / bandFactor)
                        * amplitude.rms().orElse(0)
                : 0;
    }

    /**
     * Tone over the noise within the band that is passed on both sides of it, in dB. Noise of relative density c moves
     * the amplitude by c per hertz of rate, half of it on each side; both quadratures together make 2 c times the width.
     */
    OptionalDouble toneToNoiseDb() {
        double hz = amplitude.rms().orElse(0);
        return measurable && hz > 0
                ? OptionalDouble.of(-10 * Math.log10(2 * passHz * hz * hz / bandFactor))
                : OptionalDouble.empty();
    }
}
