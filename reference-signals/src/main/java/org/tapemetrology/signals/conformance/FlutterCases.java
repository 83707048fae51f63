/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.tapemetrology.signals.Decibels;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.conformance.FlutterMeterUnderTest.Asked;
import org.tapemetrology.signals.table.Confidence;
import org.tapemetrology.signals.table.FlutterPulseRow;
import org.tapemetrology.signals.table.FlutterPulseRow.Indication;
import org.tapemetrology.signals.table.PublishedTable;
import org.tapemetrology.signals.table.PublishedTables;
import org.tapemetrology.signals.table.Tolerance;
import org.tapemetrology.signals.table.WeightingRow;

/** Cases of wow and flutter. */
final class FlutterCases {
    private static final int RATE_HZ = 48_000;
    private static final double AMPLITUDE = 0.5;
    private static final double SETTLING_SECONDS = 3;
    private static final double IEC_CARRIER_HZ = 3150;
    private static final double OTHER_CARRIER_HZ = 3000;

    private static final String AMPLITUDE_PERCENT = "0.3";
    private static final double PEAK = 0.003;
    /** A sine of 0.1 % for the cases about the scale. */
    private static final double SMALL_PEAK = 0.001;
    /** Peak to peak of the pulses, and so twice the peak of the sine that they are compared with. */
    private static final double PULSE_HEIGHT = 0.002;

    /** The own limit of the weighting: a change of half a decibel must show. */
    private static final double NARROW_DB = 0.25;
    /** Where whole cycles matter more than to a percentile. */
    private static final double NARROW_MEAN_DB = 0.3;
    /** Through a quasi-peak detector: its ripple and fall-back between the peaks of a sine come on top. */
    private static final double NARROW_QUASI_PEAK_DB = 0.45;
    /** The own limit of the scale, a share of the figure. */
    private static final double NARROW_SCALE = 0.01;
    /** The limit for "conforms" where no text of the document was seen: common practice, no source. */
    private static final double WIDE_SCALE = 0.05;

    private static final String DEFINITION = "definition of the figure";

    private final String prefix;
    private final double carrierHz;
    private final Asked figure;
    private final List<Exercise<FlutterMeterUnderTest>> cases = new ArrayList<>();

    private FlutterCases(String prefix, double carrierHz, Asked figure) {
        this.prefix = prefix;
        this.carrierHz = carrierHz;
        this.figure = figure;
    }

    static Suite<FlutterMeterUnderTest> quasiPeak() {
        FlutterCases cases = new FlutterCases("iec60386-qp", IEC_CARRIER_HZ, Asked.QUASI_PEAK);
        cases.addScale(1, "the peak of a 4 Hz sine", Confidence.VERIFIED);
        cases.addPulses(1);
        cases.addPulses(-1);
        cases.addWeighting(0.6, 200, NARROW_QUASI_PEAK_DB);
        return new Suite<>(
                "iec-60386-quasi-peak",
                "IEC 60386:1972 method 2 (AES6, DIN 45507): weighted quasi-peak",
                List.of(
                        "weighting below 0.6 Hz: the fall-back of the detector between the peaks adds to it",
                        "carrier offset, input level, amplitude modulation and accuracy asked of an instrument: no figures"
                                + " were found",
                        "how readings of several passes are combined"),
                cases.cases);
    }

    static Suite<FlutterMeterUnderTest> twoSigma() {
        FlutterCases cases = new FlutterCases("iec60386-2s", IEC_CARRIER_HZ, Asked.TWO_SIGMA);
        // A sine is above the 95th percentile of its magnitude for 5 % of the time.
        cases.addScale(
                StrictMath.sin(0.95 * Math.PI / 2), "the level that a 4 Hz sine exceeds for 5 %", Confidence.COMPUTED);
        cases.addTwoTones(TwoTones.exceededFor(0.05), "level exceeded for 5 % by two rates of equal weight");
        cases.addWeighting(0.2, 200, NARROW_DB);
        return new Suite<>(
                "iec-60386-two-sigma",
                "IEC 60386:1972 Amd 1:1988 method 1 (AES6-2008): weighted two-sigma",
                List.of(
                        "weighting at 0.1 Hz: no tolerance is known",
                        "sampling rate and accuracy of the stored deviations: no figures were found"),
                cases.cases);
    }

    static Suite<FlutterMeterUnderTest> nab() {
        FlutterCases cases = new FlutterCases("nab", OTHER_CARRIER_HZ, Asked.WEIGHTED_AVERAGE);
        cases.addScale(Math.sqrt(0.5), "the RMS of a 4 Hz sine", Confidence.MEMORY);
        cases.addTwoTones(TwoTones.AVERAGE_OVER_RMS, "average of two rates of equal weight");
        cases.addWeighting(0.6, 200, NARROW_MEAN_DB);
        for (double rateHz : new double[] {2, 10, 50}) {
            cases.addFlat(rateHz);
        }
        return new Suite<>(
                "nab-1965",
                "NAB 1965 reel standard: average-responding flutter",
                List.of(
                        "edges of the flat band and their slope: no figures were found",
                        "ballistics of the indicator: no figures were found"),
                cases.cases);
    }

    static Suite<FlutterMeterUnderTest> jis() {
        FlutterCases cases = new FlutterCases("jis", OTHER_CARRIER_HZ, Asked.WEIGHTED_RMS);
        cases.addScale(Math.sqrt(0.5), "the RMS of a 4 Hz sine", Confidence.MEMORY);
        cases.addTwoTones(1, "RMS of two rates of equal weight");
        cases.addWeighting(0.6, 200, NARROW_MEAN_DB);
        return new Suite<>(
                "jis-c-5551",
                "JIS C 5551: weighted RMS flutter",
                List.of("integration time and ballistics of the indicator: no figures were found"),
                cases.cases);
    }

    /** The scale, off speed, in drift, on the right channel. */
    private void addScale(double readingOverPeak, String asks, Confidence confidence) {
        double percent = 100 * SMALL_PEAK * readingOverPeak;
        FmTone right = tone().sine(4, SMALL_PEAK).build();
        FmTone other = tone().sine(4, 2 * SMALL_PEAK).build();
        cases.add(scale("scale", asks, percent, confidence, 0, right));
        cases.add(scale(
                "off-speed",
                asks + ", 3 % fast",
                percent,
                Confidence.COMPUTED,
                0,
                tone().speedError(0.03).sine(4, SMALL_PEAK).build()));
        cases.add(scale(
                "drift",
                asks + ", in a drift of 1 % a minute",
                percent,
                Confidence.COMPUTED,
                0,
                tone().drift(0.01 / 60).sine(4, SMALL_PEAK).build()));
        cases.add(scale(
                "channel-2",
                asks + ", twice as large in channel 2",
                2 * percent,
                Confidence.COMPUTED,
                1,
                right,
                other));
    }

    private Exercise<FlutterMeterUnderTest> scale(
            String name, String asks, double percent, Confidence confidence, int channel, Signal... channels) {
        Recording recording = recording(prefix + "-" + name, SETTLING_SECONDS + 8, channels);
        String of = channels.length == 1 ? "" : " of channel " + (channel + 1);
        return draft(name, DEFINITION, asks)
                .plays(recording)
                .how(figure.id() + of)
                .expects(percent, "%", 4)
                .ownLimits(WIDE_SCALE * percent)
                .narrower(NARROW_SCALE * percent)
                .source("a steady sine has one answer", confidence)
                .by((meter, bench) -> bench.read(meter, recording, figure, channel));
    }

    private void addTwoTones(double readingOverRms, String asks) {
        // Rates of equal weight in the printed table, so that the figure depends on the detector alone.
        double weightDb = -0.9;
        double percent = 100 * PEAK * Decibels.toRatio(weightDb) * readingOverRms;
        Recording recording = recording(
                prefix + "-two-rates",
                SETTLING_SECONDS + 20,
                tone().sine(2, PEAK).sine(6.3, PEAK).build());
        cases.add(draft("two-rates", DEFINITION, asks + ", 2 Hz and 6.3 Hz")
                .plays(recording)
                .how("20 lg of " + figure.id() + " over the peak deviation of one rate, " + AMPLITUDE_PERCENT + " %")
                .expects(Decibels.ofRatio(percent / (100 * PEAK)), "dB", 2)
                // A detector of another kind is 0.7 dB off or more.
                .ownLimits(0.6)
                // The table is rounded and not quite smooth: both rows are 0.15 dB off a filter that fits all of them.
                .narrower(0.4)
                .source("distribution of the sum of two sines; weights of Table I", Confidence.COMPUTED)
                .by((meter, bench) -> Decibels.ofRatio(bench.read(meter, recording, figure, 0) / (100 * PEAK))));
    }

    private void addWeighting(double fromHz, double toHz, double narrowDb) {
        PublishedTable<WeightingRow> table = PublishedTables.flutterWeighting();
        Recording reference = reference();
        for (WeightingRow row : table.rows()) {
            double rate = row.nominalHz();
            if (rate < fromHz || rate > toHz || rate == 4) {
                continue;
            }
            Tolerance tolerance = row.tolerance().orElseThrow();
            Recording recording = sine(rate);
            cases.add(draft("weighting-" + name(rate), "Table I", "weighting at " + name(rate) + " Hz re 4 Hz")
                    .plays(recording, reference)
                    .how("20 lg of " + figure.id() + " of the first over that of the second")
                    .expects(row.responseDb(), "dB", 2)
                    .documentLimits(
                            row.responseDb() - tolerance.minus(),
                            row.responseDb() + tolerance.plus(),
                            row.toleranceConfidence())
                    .narrower(narrowDb)
                    .source(table.source(), row.confidence())
                    .by((meter, bench) -> Decibels.ofRatio(
                            bench.read(meter, recording, figure, 0) / bench.read(meter, reference, figure, 0))));
        }
    }

    private void addFlat(double rate) {
        Recording recording = sine(rate);
        Asked flat = Asked.UNWEIGHTED_AVERAGE;
        cases.add(draft("flat-" + name(rate), "unweighted, 0.5 Hz to 200 Hz", "flat response at " + name(rate) + " Hz")
                .plays(recording)
                .how("20 lg of " + flat.id() + " over the RMS deviation, " + AMPLITUDE_PERCENT
                        + " % over the root of 2")
                .expects(0, "dB", 2)
                .ownLimits(1)
                .narrower(NARROW_DB)
                .source("flat band from memory", Confidence.MEMORY)
                .by((meter, bench) ->
                        Decibels.ofRatio(bench.read(meter, recording, flat, 0) / (100 * PEAK * Math.sqrt(0.5)))));
    }

    private void addPulses(int sign) {
        PublishedTable<FlutterPulseRow> table = PublishedTables.flutterPulses();
        String upsideDown = sign > 0 ? "" : "-slower";
        String words = sign > 0 ? "" : ", slower instead of faster";
        Recording reference = recording(
                prefix + "-scale",
                SETTLING_SECONDS + 8,
                tone().sine(4, SMALL_PEAK).build());
        for (FlutterPulseRow row : table.rows()) {
            String width = name(row.pulseMilliseconds());
            double seconds = row.pulseMilliseconds() / 1000;
            boolean highest = row.indication() == Indication.HIGHEST;
            Recording recording = recording(
                    prefix + "-pulses-" + width + "ms" + upsideDown,
                    12,
                    tone().pulses(sign * PULSE_HEIGHT, seconds, 1, 0.25).build());
            Procedure<FlutterMeterUnderTest> procedure = highest
                    ? (meter, bench) -> 100
                            * bench.read(meter, recording, Asked.QUASI_PEAK, 0)
                            / bench.read(meter, reference, Asked.QUASI_PEAK, 0)
                    : (meter, bench) -> 100
                            * bench.trace(meter, recording, Asked.QUASI_PEAK_NOW, 10)
                                    .lowest()
                            / bench.read(meter, reference, Asked.QUASI_PEAK, 0);
            double below = row.nominalPercent() - row.lowerPercent();
            double above = row.upperPercent() - row.nominalPercent();
            cases.add(draft(
                            (highest ? "pulses-" : "fall-back-") + width + "ms" + upsideDown,
                            "method 2, dynamics",
                            (highest ? "highest indication, pulses of " : "lowest indication between pulses of ")
                                    + width + " ms" + words)
                    .plays(recording, reference)
                    .how(
                            highest
                                    ? "100 times " + figure.id() + " of the first over that of the second"
                                    : "100 times the lowest indication in the last 2 s of the first over " + figure.id()
                                            + " of the second")
                    .expects(row.nominalPercent(), "%", 1)
                    .documentLimits(row.lowerPercent(), row.upperPercent(), row.toleranceConfidence())
                    .narrower(narrowShare(row) * below, narrowShare(row) * above)
                    .source(table.source(), row.confidence())
                    .by(procedure));
        }
    }

    /**
     * Share of the document's tolerance that the own limits allow. The table does not determine a detector, and a fit of
     * five time constants to all rows leaves 0.63 at 10 ms and 0.4 at 30 and 60 ms; any of these constants a fifth off
     * goes beyond one of the shares.
     */
    private static double narrowShare(FlutterPulseRow row) {
        if (row.pulseMilliseconds() == 10) {
            return 2.0 / 3;
        }
        if (row.pulseMilliseconds() == 30) {
            return 0.45;
        }
        return row.pulseMilliseconds() == 60 ? 0.4 : 0.2;
    }

    private CaseDraft<FlutterMeterUnderTest> draft(String name, String clause, String asks) {
        return new CaseDraft<>(prefix + "-" + name, clause, asks);
    }

    private FmTone.Builder tone() {
        return FmTone.builder(carrierHz).amplitude(AMPLITUDE);
    }

    private Recording reference() {
        return sine(4);
    }

    /** A sinusoidal deviation, whole half-periods long after the meter has settled. */
    private Recording sine(double rateHz) {
        double halfPeriod = 0.5 / rateHz;
        double seconds = SETTLING_SECONDS + Math.ceil(8 / halfPeriod) * halfPeriod;
        return recording(
                prefix + "-sine-" + name(rateHz) + "hz",
                seconds,
                tone().sine(rateHz, PEAK).build());
    }

    private Recording recording(String name, double seconds, Signal... channels) {
        return new Recording(name, List.of(channels), RATE_HZ, seconds, OptionalDouble.of(carrierHz));
    }

    /** A number without superfluous decimals. */
    static String name(double value) {
        return value == Math.rint(value) ? String.format(Locale.ROOT, "%.0f", value) : Double.toString(value);
    }
}
