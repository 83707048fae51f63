/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.tapemetrology.core.quantity.Quantity.*;

import java.util.List;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.detector.BlockStatistic;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.standard.NabEdition1965;

/**
 * What the instrument of one flutter figure shows while a tone runs, in % of its mean frequency: the indication now, its
 * worst and its mean since the tone began.
 *
 * <table>
 * <caption>What is shown of which figure</caption>
 * <tr><th>figure</th><th>now</th><th>worst</th><th>mean</th></tr>
 * <tr><td>{@code flutter.weighted.quasi-peak}</td><td>indication of the detector</td><td>as
 * {@code flutter.weighted.quasi-peak.maximum}</td><td>as {@code flutter.weighted.quasi-peak.mean}</td></tr>
 * <tr><td>{@code flutter.unweighted.peak}</td><td>indication of the detector</td><td>highest indication</td><td>mean
 * indication</td></tr>
 * <tr><td>{@code flutter.weighted.two-sigma}</td><td>over the last 5 s</td><td>as
 * {@code flutter.weighted.two-sigma.maximum}</td><td>over everything, as the figure itself</td></tr>
 * <tr><td>RMS and average-responding figures</td><td>over the last 5 s</td><td>highest over any 5 s, looked at every
 * 0.1 s</td><td>over everything, as the figure itself</td></tr>
 * </table>
 *
 * <p>It is to look at its meter whenever that has taken 0.1 s of samples: {@link #look}. Nothing is allocated then.
 * Thread-confined.
 *
 * <p>Definitions are those of IEC 60386 and of {@link ToneMeter}. Cost: some operations a look. Never NaN: where the
 * reading has no value there is no worst and no mean.
 *
 * <p>Not for a record or a verdict: that is the reading of the meter.
 */
public final class FlutterIndicator {
    /** The figures that can be shown. */
    public static final List<Quantity> FIGURES = List.of(
            FLUTTER_WEIGHTED_QUASI_PEAK,
            FLUTTER_WEIGHTED_TWO_SIGMA,
            FLUTTER_WEIGHTED_RMS,
            FLUTTER_WEIGHTED_AVERAGE,
            FLUTTER_UNWEIGHTED_PEAK,
            FLUTTER_UNWEIGHTED_RMS,
            FLUTTER_UNWEIGHTED_AVERAGE,
            WOW_RMS,
            FLUTTER_RMS);

    /** Looks in 5 s, which IEC 60386 Amd 1 and AES6 ask for at least, and which holds some turns of the slowest parts. */
    private static final int LOOKS = 50;

    private final Quantity figure;
    private final double[] sums = new double[LOOKS];
    private final long[] counts = new long[LOOKS];
    private int looks;
    private @Nullable Stretch followed;
    private double nowHz;
    private double worstHz;

    /**
     * What is shown at one moment.
     *
     * <p>Its numbers are not checked.
     *
     * @param figure which figure
     * @param status that of the figure; worst and mean have values where it is {@code valid}
     * @param nowPercent indication now in %, from as soon as there is one
     * @param worstPercent the worst so far in %
     * @param meanPercent the mean so far in %
     */
    public record Shown(
            Quantity figure,
            Status status,
            OptionalDouble nowPercent,
            OptionalDouble worstPercent,
            OptionalDouble meanPercent) {}

    /**
     * An indicator that has seen nothing.
     *
     * @param figure one of {@link #FIGURES}
     */
    public FlutterIndicator(Quantity figure) {
        if (!FIGURES.contains(figure)) {
            throw new IllegalArgumentException("figure " + figure.id() + " is none of "
                    + String.join(", ", FIGURES.stream().map(Quantity::id).toList()));
        }
        this.figure = figure;
    }

    /**
     * Looks at the meter.
     *
     * @param meter the meter, always the same
     */
    public void look(ToneMeter meter) {
        Stretch now = meter.followed();
        if (now != followed) {
            reset();
            followed = now;
        }
        if (now == null || now.flutter().isEmpty()) {
            return;
        }
        FlutterBands bands = now.flutter().get().bands();
        nowHz = switch (figure) {
            case FLUTTER_WEIGHTED_QUASI_PEAK -> bands.weightedSeconds() > 0 ? bands.runningQuasiPeakHz() : 0;
            case FLUTTER_UNWEIGHTED_PEAK -> bands.flatSeconds() > 0 ? bands.runningFlatQuasiPeakHz() : 0;
            case FLUTTER_WEIGHTED_TWO_SIGMA -> bands.twoSigma().latest();
            case FLUTTER_WEIGHTED_RMS -> ofLastSeconds(bands.weighted());
            case FLUTTER_WEIGHTED_AVERAGE -> NabEdition1965.AVERAGE_TO_RMS * ofLastSeconds(bands.weightedAverage());
            case FLUTTER_UNWEIGHTED_RMS -> ofLastSeconds(bands.flat());
            case FLUTTER_UNWEIGHTED_AVERAGE ->
                NabEdition1965.AVERAGE_TO_RMS * ofLastSeconds(bands.nab().statistic());
            case WOW_RMS -> ofLastSeconds(bands.wow().statistic());
            case FLUTTER_RMS -> ofLastSeconds(bands.flutter().statistic());
            default -> throw new IllegalStateException(figure.id());
        };
        worstHz = Math.max(worstHz, nowHz);
    }

    /** The statistic over the last 5 s that were measured, 0 before; moments that were left out do not count. */
    private double ofLastSeconds(BlockStatistic statistic) {
        int at = Math.floorMod(looks, LOOKS);
        int last = Math.floorMod(looks - 1, LOOKS);
        if (looks > 0 && counts[last] == statistic.count()) {
            return nowHz; // settling, or a gap
        }
        double value = 0;
        if (looks >= LOOKS) {
            value = statistic.ofSome(statistic.sum() - sums[at], statistic.count() - counts[at]);
        }
        sums[at] = statistic.sum();
        counts[at] = statistic.count();
        looks++;
        return value;
    }

    /**
     * What is shown now.
     *
     * @param reading what the meter says of the tone that is followed: {@link ToneMeter#followedReading()}
     * @return indication, worst and mean
     */
    public Shown shown(Measurement reading) {
        Stretch stretch = followed;
        Status status = reading.find(figure).map(Reading::status).orElse(Status.NO_CARRIER);
        if (stretch == null || stretch.flutter().isEmpty()) {
            return new Shown(figure, status, OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty());
        }
        double toPercent = 100 / stretch.meanHz();
        OptionalDouble now = nowHz > 0 ? OptionalDouble.of(nowHz * toPercent) : OptionalDouble.empty();
        if (status != Status.VALID) {
            return new Shown(figure, status, now, OptionalDouble.empty(), OptionalDouble.empty());
        }
        FlutterBands bands = stretch.flutter().get().bands();
        return switch (figure) {
            case FLUTTER_WEIGHTED_QUASI_PEAK ->
                new Shown(
                        figure,
                        status,
                        now,
                        value(reading, FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM),
                        value(reading, FLUTTER_WEIGHTED_QUASI_PEAK_MEAN));
            case FLUTTER_WEIGHTED_TWO_SIGMA ->
                new Shown(
                        figure,
                        status,
                        now,
                        value(reading, FLUTTER_WEIGHTED_TWO_SIGMA_MAXIMUM),
                        value(reading, figure));
            case FLUTTER_UNWEIGHTED_PEAK ->
                new Shown(
                        figure,
                        status,
                        now,
                        ReportLines.scaled(bands.flatQuasiPeakParts().highest(), toPercent),
                        ReportLines.scaled(bands.flatQuasiPeakParts().mean(), toPercent));
            default ->
                new Shown(
                        figure,
                        status,
                        now,
                        worstHz > 0 ? OptionalDouble.of(worstHz * toPercent) : OptionalDouble.empty(),
                        value(reading, figure));
        };
    }

    private static OptionalDouble value(Measurement reading, Quantity quantity) {
        return reading.find(quantity).map(Reading::value).orElse(OptionalDouble.empty());
    }

    /** Forgets what it has seen. */
    public void reset() {
        followed = null;
        looks = 0;
        nowHz = 0;
        worstHz = 0;
    }
}
