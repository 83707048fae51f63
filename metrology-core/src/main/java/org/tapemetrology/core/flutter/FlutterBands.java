/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import org.tapemetrology.core.detector.AverageMagnitude;
import org.tapemetrology.core.detector.HighestPerPart;
import org.tapemetrology.core.detector.MeanPower;
import org.tapemetrology.core.detector.MovingMoment;
import org.tapemetrology.core.detector.QuasiPeakDetector;
import org.tapemetrology.core.detector.TwoSigma;
import org.tapemetrology.core.filter.Butterworth;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.filter.SectionsDecimator;
import org.tapemetrology.core.standard.Iec60386Edition1972;
import org.tapemetrology.core.standard.NabEdition1965;

/**
 * Every wow and flutter figure of a deviation, in Hz, in one pass.
 *
 * <p>The deviation is band-limited to 470 Hz and goes from there, at 2 kHz to 4 kHz, to the weighting, the flat band of
 * 0.1 Hz to 200 Hz and the wow, flutter and NAB bands. What is no power, indications, percentile and mean magnitude, is
 * read at moments that never lock to the deviation ({@link MovingMoment}): so ten values in a period of 200 Hz are enough.
 * Filters are preset to the mean, so that only what moves makes a transient.
 */
final class FlutterBands {
    /** Time that weighted, flutter, scrape and NAB-way figures leave out at the start, and need after it. */
    static final double FAST_START_SECONDS = 3;

    static final double FAST_NEED_SECONDS = 5;
    /** The same for wow and the flat band, whose lower edges are at 0.1 Hz and below. */
    static final double SLOW_START_SECONDS = 15;

    static final double SLOW_NEED_SECONDS = 20;

    static final double FAST_GAP_SECONDS = 1;
    private static final double SLOW_GAP_SECONDS = 5;
    private static final double PART_SECONDS = 30;

    private static final double LEAST_RATE_HZ = 2000;
    /** Flat within 0.01 % to 250 Hz, 3 dB down at 470 Hz, 82 dB at 1.5 kHz, which 2 kHz would fold to there. */
    private static final int LIMIT_ORDER = 8;

    /** Edges of the flat band, outside 0.1 Hz and 200 Hz so that these are passed flat. */
    private static final double FLAT_FROM_HZ = 0.075;

    private static final double FLAT_TO_HZ = 270;

    private final double rateHz;
    private final SectionsDecimator limiter;
    private final double delaySeconds;

    private final WeightedPath weighting;
    private final QuasiPeakDetector quasiPeak;
    private final HighestPerPart quasiPeakParts;
    private final MovingMoment weightedMoments = new MovingMoment();
    private final TwoSigma twoSigma;
    private final MeanPower weighted;
    private final AverageMagnitude weightedAverage;
    private final Settling weightedSettling;

    private final SecondOrderSections flatFilter;
    private final MovingMoment flatMoments = new MovingMoment();
    private final QuasiPeakDetector flatQuasiPeak;
    private final HighestPerPart flatQuasiPeakParts;
    private final MeanPower flat;
    private final Settling flatSettling;

    private final SettledBand<MeanPower> wow;
    private final SettledBand<MeanPower> flutter;
    private final SettledBand<AverageMagnitude> nab;
    private final StripChart chart;

    private double[] limited = new double[0];
    private double[] filtered = new double[0];
    private double[] moved = new double[0];
    private double[] indicated = new double[0];
    private long index;

    /**
     * A meter at rest.
     *
     * @param inputRateHz rate of the deviation
     */
    FlutterBands(double inputRateHz) {
        this.limiter = new SectionsDecimator(
                Butterworth.lowPass(LIMIT_ORDER, WeightedPath.BAND_HZ, inputRateHz), LEAST_RATE_HZ);
        this.rateHz = limiter.rateHz();
        // Group delay of a Butterworth low-pass at low frequencies.
        this.delaySeconds =
                1 / (2 * StrictMath.PI * WeightedPath.BAND_HZ * StrictMath.sin(StrictMath.PI / (2 * LIMIT_ORDER)));

        this.weighting = new WeightedPath(rateHz);
        this.quasiPeak = new QuasiPeakDetector(Iec60386Edition1972.QUASI_PEAK, rateHz);
        this.quasiPeakParts = new HighestPerPart(Math.round(PART_SECONDS * rateHz), rateHz);
        this.twoSigma = new TwoSigma(
                Iec60386Edition1972.TWO_SIGMA_EXCEEDED,
                (int) Math.round(Iec60386Edition1972.TWO_SIGMA_PERIOD_SECONDS * rateHz),
                rateHz);
        this.weighted = new MeanPower(rateHz);
        this.weightedAverage = new AverageMagnitude(rateHz);
        this.flat = new MeanPower(rateHz);
        this.weightedSettling = new Settling(FAST_START_SECONDS, FAST_GAP_SECONDS, rateHz);

        this.flatFilter = Butterworth.band(4, FLAT_FROM_HZ, FLAT_TO_HZ, rateHz);
        this.flatQuasiPeak = quasiPeak.another();
        this.flatQuasiPeakParts = new HighestPerPart(Math.round(PART_SECONDS * rateHz), rateHz);
        this.flatSettling = new Settling(SLOW_START_SECONDS, SLOW_GAP_SECONDS, rateHz);

        this.wow = new SettledBand<>(
                Butterworth.band(4, Iec60386Edition1972.WOW_FROM_HZ, Iec60386Edition1972.FLUTTER_FROM_HZ, rateHz),
                new Settling(SLOW_START_SECONDS, SLOW_GAP_SECONDS, rateHz),
                new MeanPower(rateHz));
        this.flutter = new SettledBand<>(
                Butterworth.band(4, Iec60386Edition1972.FLUTTER_FROM_HZ, Iec60386Edition1972.FLUTTER_TO_HZ, rateHz),
                new Settling(FAST_START_SECONDS, FAST_GAP_SECONDS, rateHz),
                new MeanPower(rateHz));
        this.nab = new SettledBand<>(
                Butterworth.band(2, NabEdition1965.FROM_HZ, NabEdition1965.TO_HZ, rateHz),
                new Settling(FAST_START_SECONDS, FAST_GAP_SECONDS, rateHz),
                new AverageMagnitude(rateHz));
        this.chart = new StripChart(rateHz);
    }

    /** Puts every filter into the state after an endless constant deviation. */
    void presetTo(double meanHz) {
        limiter.presetTo(meanHz);
        weighting.presetTo(meanHz);
        flatFilter.presetTo(meanHz);
        wow.presetTo(meanHz);
        flutter.presetTo(meanHz);
        nab.presetTo(meanHz);
    }

    void accept(double[] deviationHz, int offset, int length, boolean bridged) {
        makeRoom(length);
        int count = limiter.process(deviationHz, offset, length, limited);
        acceptFlat(count, bridged);
        wow.accept(limited, count, bridged);
        flutter.accept(limited, count, bridged);
        nab.accept(limited, count, bridged);
        acceptWeighted(count, bridged);
        index += count;
    }

    private void makeRoom(int length) {
        if (limited.length < length) {
            limited = new double[length];
            filtered = new double[length];
            moved = new double[length];
            indicated = new double[length];
        }
    }

    private void acceptWeighted(int count, boolean bridged) {
        weighting.process(limited, 0, count, filtered);
        weightedMoments.process(filtered, 0, moved, 0, count);
        int skipped = weightedSettling.leaveOut(count, bridged);
        if (!bridged) {
            quasiPeak.process(moved, 0, indicated, 0, count);
            quasiPeakParts.add(indicated, skipped, count - skipped, index + skipped);
            chart.add(index + skipped, limited, filtered, indicated, skipped, count - skipped);
        }
        weighted.add(filtered, skipped, count - skipped);
        twoSigma.addMoved(moved, skipped, count - skipped);
        weightedAverage.addMoved(moved, skipped, count - skipped);
    }

    private void acceptFlat(int count, boolean bridged) {
        flatFilter.process(limited, 0, filtered, 0, count);
        flatMoments.process(filtered, 0, moved, 0, count);
        int skipped = flatSettling.leaveOut(count, bridged);
        if (!bridged) {
            flatQuasiPeak.process(moved, 0, indicated, 0, count);
            flatQuasiPeakParts.add(indicated, skipped, count - skipped, index + skipped);
        }
        flat.add(filtered, skipped, count - skipped);
    }

    /** Seconds from the start of the stretch to the value with an index. */
    private double secondsAt(long valueIndex) {
        return valueIndex / rateHz - delaySeconds;
    }

    /** Time over which the weighted figures were taken. */
    double weightedSeconds() {
        return weighted.count() / rateHz;
    }

    /** Time over which the figures of the flat band were taken. */
    double flatSeconds() {
        return flat.count() / rateHz;
    }

    HighestPerPart quasiPeakParts() {
        return quasiPeakParts;
    }

    double worstMomentSeconds() {
        return secondsAt(quasiPeakParts.highestIndex());
    }

    double runningQuasiPeakHz() {
        return quasiPeak.indication();
    }

    double runningFlatQuasiPeakHz() {
        return flatQuasiPeak.indication();
    }

    TwoSigma twoSigma() {
        return twoSigma;
    }

    MeanPower weighted() {
        return weighted;
    }

    AverageMagnitude weightedAverage() {
        return weightedAverage;
    }

    HighestPerPart flatQuasiPeakParts() {
        return flatQuasiPeakParts;
    }

    MeanPower flat() {
        return flat;
    }

    SettledBand<MeanPower> wow() {
        return wow;
    }

    SettledBand<MeanPower> flutter() {
        return flutter;
    }

    SettledBand<AverageMagnitude> nab() {
        return nab;
    }

    /** Gain of the flat band at a rate. */
    double flatMagnitude(double hz) {
        return flatFilter.magnitude(hz);
    }

    StripChart chart() {
        return chart;
    }

    double chartDelaySeconds() {
        return delaySeconds;
    }
}
