/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import org.tapemetrology.core.detector.QuasiPeakConstants;
import org.tapemetrology.core.detector.QuasiPeakDetector;
import org.tapemetrology.core.filter.AnalogFilter;
import org.tapemetrology.core.filter.Butterworth;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.standard.Iec60386Edition1972;
import org.tapemetrology.signals.conformance.Figure;
import org.tapemetrology.signals.conformance.FlutterMeterUnderTest;
import org.tapemetrology.signals.conformance.RecordingFormat;

/**
 * A flutter meter of building blocks, each of which can be spoilt: a plain quadrature demodulator, the weighting, the
 * detectors.
 */
final class BlockFlutterMeter implements FlutterMeterUnderTest {
    /** To a rate that no rate of the suites divides, so that no percentile hangs on a phase. */
    private static final int DECIMATION = 11;

    private static final double PRESET_SECONDS = 0.5;

    /** What it is made of. */
    static final class Parts {
        Optional<AnalogFilter> weighting = Optional.of(Iec60386Edition1972.weighting());
        Optional<AnalogFilter> spoiltBy = Optional.empty();
        QuasiPeakConstants constants = Iec60386Edition1972.QUASI_PEAK;
        double flatFromHz = 0.5;
        double flatToHz = 200;
        double settlingSeconds = 3;
        boolean preset = true;
        boolean overNominal;
        boolean plainPeak;
        DoubleUnaryOperator rectified = DoubleUnaryOperator.identity();
        double exceeded = 0.05;
        Detector twoSigma = Detector.PERCENTILE;
        Detector rms = Detector.RMS;
        Detector average = Detector.AVERAGE;
    }

    /** How a figure comes from the weighted deviation. */
    enum Detector {
        PERCENTILE,
        RMS,
        AVERAGE,
        PEAK,
        TWICE_DEVIATION
    }

    private final Parts parts;
    private final Map<String, Values> demodulated;
    private final List<Channel> channels = new ArrayList<>();
    private double nominalHz;

    /**
     * A meter.
     *
     * @param parts what it is made of behind the demodulator
     * @param demodulated what the demodulator made of recordings: the same for every meter, and found there the next time
     */
    BlockFlutterMeter(Parts parts, Map<String, Values> demodulated) {
        this.parts = parts;
        this.demodulated = demodulated;
    }

    @Override
    public void start(RecordingFormat format) {
        nominalHz = format.nominalHz().orElseThrow();
        channels.clear();
        for (int i = 0; i < format.channels(); i++) {
            channels.add(new Channel(format.sampleRateHz(), format.name() + " " + i));
        }
    }

    @Override
    public void accept(double[][] block, int length) {
        for (int i = 0; i < channels.size(); i++) {
            channels.get(i).accept(block[i], length);
        }
    }

    @Override
    public Optional<Figure> read(Asked asked, int channel) {
        Channel from = channels.get(channel);
        double hertz = switch (asked) {
            case QUASI_PEAK -> from.highest;
            case QUASI_PEAK_NOW -> from.indication;
            case TWO_SIGMA -> from.figure(from.weighted, parts.twoSigma);
            case WEIGHTED_RMS -> from.figure(from.weighted, parts.rms);
            case WEIGHTED_AVERAGE -> from.figure(from.weighted, parts.average);
            case UNWEIGHTED_AVERAGE -> from.figure(from.flat, parts.average);
        };
        return Optional.of(new Figure(100 * hertz / (parts.overNominal ? nominalHz : from.meanHz()), "%"));
    }

    private final class Channel {
        private final double rateHz;
        private final double slowHz;
        private final SecondOrderSections inPhase;
        private final SecondOrderSections quadrature;
        private final SecondOrderSections flatBand;
        private final List<SecondOrderSections> weighting = new ArrayList<>();
        private final QuasiPeakDetector detector;
        private final double[] buffer = new double[4096];
        private final double[] other = new double[4096];
        private final double[] one = new double[1];
        private long taken;
        private double beforeI;
        private double beforeQ;
        private int slow;
        private double sum;
        private double[] early = new double[0];

        private double indication;
        private double highest;
        private final Values weighted = new Values();
        private final Values flat = new Values();

        private final Values deviations;
        private final boolean known;

        Channel(double rateHz, String name) {
            this.rateHz = rateHz;
            known = demodulated.containsKey(name);
            deviations = demodulated.computeIfAbsent(name, unknown -> new Values());
            slowHz = rateHz / DECIMATION;
            inPhase = Butterworth.lowPass(8, 1000, rateHz);
            quadrature = Butterworth.lowPass(8, 1000, rateHz);
            flatBand = Butterworth.band(2, parts.flatFromHz, parts.flatToHz, slowHz);
            parts.weighting.ifPresent(filter -> weighting.add(filter.bilinear(slowHz)));
            parts.spoiltBy.ifPresent(filter -> {
                weighting.add(filter.bilinear(slowHz));
            });
            detector = new QuasiPeakDetector(parts.constants, slowHz);
            early = new double[parts.preset ? (int) (PRESET_SECONDS * slowHz) : 0];
        }

        void accept(double[] samples, int length) {
            if (!known) {
                demodulate(samples, length);
            }
            for (int i = 0; i < length; i++) {
                if ((taken + i) % DECIMATION == 0) {
                    deviation(deviations.get(slow));
                }
            }
            taken += length;
        }

        private void demodulate(double[] samples, int length) {
            for (int i = 0; i < length; i++) {
                double angle = 2 * Math.PI * ((nominalHz * (taken + i) / rateHz) % 1);
                buffer[i] = samples[i] * Math.cos(angle);
                other[i] = -samples[i] * Math.sin(angle);
            }
            inPhase.process(buffer, 0, buffer, 0, length);
            quadrature.process(other, 0, other, 0, length);
            for (int i = 0; i < length; i++) {
                if ((taken + i) % DECIMATION == 0) {
                    double re = buffer[i] * beforeI + other[i] * beforeQ;
                    double im = other[i] * beforeI - buffer[i] * beforeQ;
                    beforeI = buffer[i];
                    beforeQ = other[i];
                    deviations.add(Math.atan2(im, re) * slowHz / (2 * Math.PI));
                }
            }
        }

        /** Deviation from the nominal frequency in Hz; the chain begins at the mean of the first half second. */
        private void deviation(double hertz) {
            int n = slow++;
            if (n < early.length) {
                early[n] = hertz;
                return;
            }
            if (n == early.length && n > 0) {
                // The first tenth of a second holds what the low-pass filters did at the onset.
                double start = Arrays.stream(early, n / 5, n).average().orElseThrow();
                weighting.forEach(filter -> filter.presetTo(start));
                flatBand.presetTo(start);
            }
            sum += hertz;
            one[0] = hertz;
            flatBand.process(one, 0, one, 0, 1);
            double flatValue = one[0];
            one[0] = hertz;
            for (SecondOrderSections filter : weighting) {
                filter.process(one, 0, one, 0, 1);
            }
            double x = one[0];
            double rectified = parts.rectified.applyAsDouble(x);
            indication = parts.plainPeak ? Math.max(indication, Math.abs(rectified)) : detector.next(rectified);
            if (n >= parts.settlingSeconds * slowHz) {
                highest = Math.max(highest, indication);
                weighted.add(x);
                flat.add(flatValue);
            } else if (parts.plainPeak) {
                indication = 0;
            }
        }

        double meanHz() {
            return nominalHz + sum / (slow - early.length);
        }

        double figure(Values values, Detector how) {
            double[] all = values.magnitudes();
            return switch (how) {
                case PERCENTILE -> {
                    Arrays.sort(all);
                    yield all[(int) ((1 - parts.exceeded) * (all.length - 1))];
                }
                case RMS -> rms(all);
                case TWICE_DEVIATION -> 2 * rms(all);
                case AVERAGE -> Arrays.stream(all).average().orElseThrow() * Math.PI / Math.sqrt(8);
                case PEAK -> Arrays.stream(all).max().orElseThrow();
            };
        }

        private static double rms(double[] all) {
            return Math.sqrt(Arrays.stream(all).map(x -> x * x).average().orElseThrow());
        }
    }

    /** Values that grow. */
    static final class Values {
        private double[] values = new double[1 << 16];
        private int size;

        void add(double value) {
            if (size == values.length) {
                values = Arrays.copyOf(values, 2 * size);
            }
            values[size++] = value;
        }

        double get(int index) {
            return values[index];
        }

        double[] magnitudes() {
            return Arrays.stream(values, 0, size).map(Math::abs).toArray();
        }
    }
}
