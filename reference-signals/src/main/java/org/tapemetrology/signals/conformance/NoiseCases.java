/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.tapemetrology.signals.Decibels;
import org.tapemetrology.signals.Sequence;
import org.tapemetrology.signals.Sequence.Section;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.Sine;
import org.tapemetrology.signals.conformance.NoiseMeterUnderTest.Asked;
import org.tapemetrology.signals.table.Confidence;
import org.tapemetrology.signals.table.NoiseBurstRow;
import org.tapemetrology.signals.table.PublishedTable;
import org.tapemetrology.signals.table.PublishedTables;
import org.tapemetrology.signals.table.Tolerance;
import org.tapemetrology.signals.table.WeightingRow;

/** Cases of weighted noise. */
final class NoiseCases {
    private static final int RATE_HZ = 48_000;
    private static final double AMPLITUDE = 0.5;
    private static final double HIGHEST_HZ = 20_000;
    /** A quasi-peak figure may leave out the first 5 s; by then its meter is at rest or steady. */
    private static final double QUIET_SECONDS = 5.5;

    private static final double A_SECONDS = 3;
    private static final double QUASI_PEAK_SECONDS = 6.3;
    private static final double BURST_TONE_HZ = 5000;

    /** The own limit of a weighting: rounding of the table, ripple of the detector; half a decibel must show. */
    private static final double NARROW_DB = 0.2;
    /** The own limit of the dynamics, a share of the document's: a time constant a fifth off must show. */
    private static final double NARROW_SHARE = 0.2;
    /** Half of the last digit of a table: what its printing leaves where it allows nothing. */
    private static final double PRINTED_DB = 0.05;

    private final String prefix;
    private final Asked figure;
    private final double seconds;
    private final List<Exercise<NoiseMeterUnderTest>> cases = new ArrayList<>();

    private NoiseCases(String prefix, Asked figure, double seconds) {
        this.prefix = prefix;
        this.figure = figure;
        this.seconds = seconds;
    }

    static Suite<NoiseMeterUnderTest> ituRBs468() {
        NoiseCases cases = new NoiseCases("bs468", Asked.QUASI_PEAK, QUASI_PEAK_SECONDS);
        cases.addScale("clause 2.6", Confidence.SECOND_HAND);
        cases.addWeighting(PublishedTables.noiseWeighting(), "Table 1");
        cases.addBursts(PublishedTables.noiseSingleBursts(), "Table 2");
        cases.addBursts(PublishedTables.noiseRepeatedBursts(), "Table 3");
        cases.addOverload();
        cases.addReversal();
        cases.addOverswing();
        return new Suite<>(
                "itu-r-bs468-4",
                "ITU-R BS.468-4: weighted quasi-peak noise",
                List.of(
                        "weighting at 31.5 kHz: beyond half the sampling rate of 48 kHz",
                        "unweighted mode, and so the one-sided pulses of clause 2.4: the mode's flatness is not known"),
                cases.cases);
    }

    static Suite<NoiseMeterUnderTest> iec61672() {
        NoiseCases cases = new NoiseCases("iec61672-a", Asked.A_WEIGHTED, A_SECONDS);
        cases.addScale("definition of the level", Confidence.COMPUTED);
        cases.addWeighting(PublishedTables.aWeighting(), "Table 3");
        cases.addTwoTones();
        return new Suite<>(
                "iec-61672-1-a",
                "IEC 61672-1:2013 class 1: frequency weighting A, RMS",
                List.of(
                        "time weightings F and S, level range and linearity: noise is averaged over the whole recording",
                        "weightings C and Z; everything acoustic"),
                cases.cases);
    }

    private void addScale(String clause, Confidence confidence) {
        Sine right = new Sine(1000, AMPLITUDE);
        Recording one = recording(prefix + "-1khz", seconds, right);
        cases.add(draft("scale", clause, "steady 1 kHz reads its RMS value")
                .plays(one)
                .how(figure.id())
                .expects(right.levelDbfs(), "dBFS", 2)
                .ownLimits(0.5)
                .narrower(NARROW_DB)
                .source("a steady sine has one answer", confidence)
                .by((meter, bench) -> bench.read(meter, one, figure, 0)));
        Sine other = new Sine(1000, AMPLITUDE / 4);
        Recording two = recording(prefix + "-channel-2", seconds, right, other);
        cases.add(draft("channel-2", clause, "channel 2 of two, 12 dB below channel 1")
                .plays(two)
                .how(figure.id() + " of channel 2")
                .expects(other.levelDbfs(), "dBFS", 2)
                .ownLimits(0.5)
                .narrower(NARROW_DB)
                .source("a steady sine has one answer", Confidence.COMPUTED)
                .by((meter, bench) -> bench.read(meter, two, figure, 1)));
    }

    private void addWeighting(PublishedTable<WeightingRow> table, String clause) {
        Recording reference = recording(prefix + "-1khz", seconds, new Sine(1000, AMPLITUDE));
        for (WeightingRow row : table.rows()) {
            if (row.nominalHz() > HIGHEST_HZ || row.nominalHz() == 1000) {
                continue;
            }
            String name = FlutterCases.name(row.nominalHz());
            Tolerance tolerance = row.tolerance().orElseThrow();
            // A tolerance of nothing at one frequency: there the printed digit itself is the limit.
            double minus = Math.max(tolerance.minus(), PRINTED_DB);
            double plus = Math.max(tolerance.plus(), PRINTED_DB);
            Recording recording = recording(prefix + "-" + name + "hz", seconds, new Sine(row.exactHz(), AMPLITUDE));
            cases.add(draft("weighting-" + name, clause, "weighting at " + name + " Hz re 1 kHz")
                    .plays(recording, reference)
                    .how(figure.id() + " of the first minus that of the second")
                    .expects(row.responseDb(), "dB", 2)
                    .documentLimits(row.responseDb() - minus, row.responseDb() + plus, row.toleranceConfidence())
                    .narrower(Math.min(NARROW_DB, minus), Math.min(NARROW_DB, plus))
                    .source(table.source(), row.confidence())
                    .by((meter, bench) ->
                            bench.read(meter, recording, figure, 0) - bench.read(meter, reference, figure, 0)));
        }
    }

    /** IEC 61672-1 is about RMS levels: powers add. */
    private void addTwoTones() {
        Recording reference = recording(prefix + "-1khz", seconds, new Sine(1000, AMPLITUDE));
        Signal pair = new Sine(1000, AMPLITUDE).plus(new Sine(437, AMPLITUDE));
        Recording recording = recording(prefix + "-two-tones", seconds, pair);
        double weighted = Decibels.toRatio(2 * -4.05); // power at 437 Hz
        cases.add(draft("two-tones", "definition of the level", "437 Hz and 1 kHz together: powers add")
                .plays(recording, reference)
                .how(figure.id() + " of the first minus that of the second")
                .expects(10 * StrictMath.log10(1 + weighted), "dB", 2)
                .ownLimits(0.5)
                .narrower(NARROW_DB)
                .source("A(437 Hz) = -4.05 dB from the formula of annex E", Confidence.COMPUTED)
                .by((meter, bench) ->
                        bench.read(meter, recording, figure, 0) - bench.read(meter, reference, figure, 0)));
    }

    private void addBursts(PublishedTable<NoiseBurstRow> table, String clause) {
        Recording steady = recording(prefix + "-5khz-steady", seconds, new Sine(BURST_TONE_HZ, AMPLITUDE));
        for (NoiseBurstRow row : table.rows()) {
            double burst = row.burstMilliseconds() / 1000;
            String width = FlutterCases.name(row.burstMilliseconds()) + "ms";
            String name;
            String asks;
            Recording recording;
            if (row.burstsPerSecond().isPresent()) {
                double perSecond = row.burstsPerSecond().getAsDouble();
                name = "bursts-" + width + "-" + FlutterCases.name(perSecond) + "-per-s";
                asks = "bursts of " + width + ", " + FlutterCases.name(perSecond) + " per s";
                recording = recording(prefix + "-" + name, 6.5, repeated(burst, perSecond));
            } else {
                name = "burst-" + width;
                asks = "single burst of " + width;
                recording = recording(prefix + "-" + name, QUIET_SECONDS + burst + 0.8, single(burst, AMPLITUDE));
            }
            double below = row.nominalPercent() - row.lowerPercent();
            double above = row.upperPercent() - row.nominalPercent();
            cases.add(draft(name, clause, asks + " of 5 kHz re the steady tone")
                    .plays(recording, steady)
                    .how("100 times 10^(d/20), d = " + Asked.QUASI_PEAK_MAXIMUM.id() + " of the first minus "
                            + figure.id() + " of the second")
                    .expects(row.nominalPercent(), "%", 1)
                    .documentLimits(row.lowerPercent(), row.upperPercent(), row.confidence())
                    .narrower(NARROW_SHARE * below, NARROW_SHARE * above)
                    .source(table.source(), row.confidence())
                    .by((meter, bench) -> 100
                            * Decibels.toRatio(bench.read(meter, recording, Asked.QUASI_PEAK_MAXIMUM, 0)
                                    - bench.read(meter, steady, figure, 0))));
        }
    }

    private void addOverload() {
        Recording full = recording(prefix + "-isolated-0db", QUIET_SECONDS + 0.8, single(0.6e-3, 0.99));
        for (int down : new int[] {10, 20}) {
            Recording recording = recording(
                    prefix + "-isolated-" + down + "db",
                    QUIET_SECONDS + 0.8,
                    single(0.6e-3, 0.99 * Decibels.toRatio(-down)));
            cases.add(
                    draft("overload-" + down + "db", "clause 2.3", "isolated bursts of 0.6 ms, " + down + " dB weaker")
                            .plays(recording, full)
                            .how(Asked.QUASI_PEAK_MAXIMUM.id() + " of the first minus that of the second")
                            .expects(-down, "dB", 2)
                            .documentLimits(-down - 1, -down + 1, Confidence.SECOND_HAND)
                            .narrower(NARROW_DB)
                            .source("transcription in a general-purpose acoustics library", Confidence.SECOND_HAND)
                            .by((meter, bench) -> bench.read(meter, recording, Asked.QUASI_PEAK_MAXIMUM, 0)
                                    - bench.read(meter, full, Asked.QUASI_PEAK_MAXIMUM, 0)));
        }
    }

    /** Not the pulses of the clause: the weighting makes them symmetrical. */
    private void addReversal() {
        double each = 0.3;
        Signal asymmetrical = new Sine(1000, each).plus(new Sine(2000, each, 0.75 * Math.PI));
        Recording up = recording(prefix + "-asymmetrical", seconds, asymmetrical);
        Recording down = recording(prefix + "-reversed", seconds, asymmetrical.scaledBy(-1));
        cases.add(draft("reversal", "clause 2.4", "asymmetrical signal with the polarity reversed")
                .plays(down, up)
                .how(figure.id() + " of the first minus that of the second")
                .expects(0, "dB", 2)
                .documentLimits(-0.5, 0.5, Confidence.SECOND_HAND)
                .narrower(NARROW_DB)
                .source(
                        "transcription in a general-purpose acoustics library; the signal is this project's",
                        Confidence.SECOND_HAND)
                .by((meter, bench) -> bench.read(meter, down, figure, 0) - bench.read(meter, up, figure, 0)));
    }

    private void addOverswing() {
        Recording sudden = recording(
                prefix + "-sudden",
                QUIET_SECONDS + 1.5,
                Sequence.of(Section.silence(QUIET_SECONDS), new Section(new Sine(1000, AMPLITUDE), 1.5)));
        Recording steady = recording(prefix + "-1khz", seconds, new Sine(1000, AMPLITUDE));
        cases.add(draft("overswing", "clause 2.5", "overswing on a sudden tone of 1 kHz")
                .plays(sudden, steady)
                .how(Asked.QUASI_PEAK_MAXIMUM.id() + " of the first minus " + figure.id() + " of the second")
                .expects(0, "dB", 2)
                .documentLimits(-0.3, 0.3, Confidence.SECOND_HAND)
                .narrower(0.1)
                .source("transcription in a general-purpose acoustics library", Confidence.SECOND_HAND)
                .by((meter, bench) ->
                        bench.read(meter, sudden, Asked.QUASI_PEAK_MAXIMUM, 0) - bench.read(meter, steady, figure, 0)));
    }

    /** A burst that begins where it passes zero, after the meter has come to rest. */
    private static Signal single(double burstSeconds, double amplitude) {
        return Sequence.of(
                Section.silence(QUIET_SECONDS), new Section(new Sine(BURST_TONE_HZ, amplitude), burstSeconds));
    }

    private static Signal repeated(double burstSeconds, double perSecond) {
        return seconds -> {
            double since = seconds - Math.floor(seconds * perSecond) / perSecond;
            return since < burstSeconds ? AMPLITUDE * Math.sin(2 * Math.PI * BURST_TONE_HZ * since) : 0;
        };
    }

    private CaseDraft<NoiseMeterUnderTest> draft(String name, String clause, String asks) {
        return new CaseDraft<>(prefix + "-" + name, clause, asks);
    }

    private static Recording recording(String name, double seconds, Signal... channels) {
        return new Recording(name, List.of(channels), RATE_HZ, seconds, OptionalDouble.empty());
    }
}
