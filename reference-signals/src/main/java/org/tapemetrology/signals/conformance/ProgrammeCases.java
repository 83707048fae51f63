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
import org.tapemetrology.signals.conformance.ProgrammeMeterUnderTest.Asked;
import org.tapemetrology.signals.table.Confidence;
import org.tapemetrology.signals.table.ParameterRow;
import org.tapemetrology.signals.table.ProgrammeBurstRow;
import org.tapemetrology.signals.table.PublishedTable;
import org.tapemetrology.signals.table.PublishedTables;
import org.tapemetrology.signals.table.ReturnRow;
import org.tapemetrology.signals.table.Tolerance;

/** Cases of volume indicators and peak programme meters. */
final class ProgrammeCases {
    private static final int RATE_HZ = 48_000;
    private static final double AMPLITUDE = 0.5;
    private static final double BEFORE_SECONDS = 1;
    private static final double STEADY_SECONDS = 2;
    private static final double BURST_TONE_HZ = 5000;

    private static final double NARROW_DB = 0.1;

    private final String prefix;
    private final List<Exercise<ProgrammeMeterUnderTest>> cases = new ArrayList<>();

    private ProgrammeCases(String prefix) {
        this.prefix = prefix;
    }

    static Suite<ProgrammeMeterUnderTest> volumeIndicator() {
        ProgrammeCases cases = new ProgrammeCases("vu");
        cases.addScale();
        cases.addMovement();
        cases.addTwoTones();
        cases.addFlatness("flatness-35-hz-to-10-khz", 35, 100, 5000, 10_000);
        // Not 16 kHz: a tone of a third of the sampling rate shows each meter the same three phases for ever.
        cases.addFlatness("flatness-25-hz-to-16-khz", 25, 15_991);
        return new Suite<>(
                "iec-60268-17",
                "IEC 60268-17:1990 (ANSI C16.5): standard volume indicator",
                List.of("reference level of +4 dBu, impedance, scale and linearity: not about samples"),
                cases.cases);
    }

    static Suite<ProgrammeMeterUnderTest> typeOne() {
        ProgrammeCases cases = new ProgrammeCases("ppm1");
        cases.addScale();
        // 0.26 of the tolerances is what a fit of two stages uses; a time constant a fifth off must show.
        cases.addBursts(PublishedTables.programmeMeterTypeI(), 0.3);
        cases.addReturn("I", 0.3);
        return new Suite<>(
                "iec-60268-10-type-i",
                "IEC 60268-10:1991: peak programme meter type I",
                List.of("frequency response, overswing, reversal and scale: no figures were found"),
                cases.cases);
    }

    static Suite<ProgrammeMeterUnderTest> typeTwo() {
        ProgrammeCases cases = new ProgrammeCases("ppm2");
        cases.addScale();
        cases.addBursts(PublishedTables.programmeMeterTypeII(), 0.3);
        cases.addReturn("II", 0.3);
        return new Suite<>(
                "iec-60268-10-type-ii",
                "IEC 60268-10:1991: peak programme meter type II",
                List.of("frequency response, overswing, reversal and scale: no figures were found"),
                cases.cases);
    }

    private void addScale() {
        Sine right = new Sine(1000, AMPLITUDE);
        Recording one = recording(prefix + "-1khz", STEADY_SECONDS, right);
        cases.add(draft("scale", "definition of the scale", "steady 1 kHz reads its level")
                .plays(one)
                .how(Asked.NOW.id() + " at the end")
                .expects(right.levelDbfs(), "dBFS", 2)
                .ownLimits(0.5)
                .narrower(NARROW_DB)
                .source("a steady sine has one answer", Confidence.COMPUTED)
                .by((meter, bench) -> bench.read(meter, one, Asked.NOW, 0)));
        Sine other = new Sine(1000, AMPLITUDE / 4);
        Recording two = recording(prefix + "-channel-2", STEADY_SECONDS, right, other);
        cases.add(draft("channel-2", "definition of the scale", "channel 2 of two, 12 dB below channel 1")
                .plays(two)
                .how(Asked.NOW.id() + " of channel 2 at the end")
                .expects(other.levelDbfs(), "dBFS", 2)
                .ownLimits(0.5)
                .narrower(NARROW_DB)
                .source("a steady sine has one answer", Confidence.COMPUTED)
                .by((meter, bench) -> bench.read(meter, two, Asked.NOW, 1)));
    }

    /** Rise, overswing and fall of a volume indicator. */
    private void addMovement() {
        double deflection = parameter("deflection").value() / 100;
        Recording on = recording(
                prefix + "-sudden",
                BEFORE_SECONDS + 3,
                Sequence.of(Section.silence(BEFORE_SECONDS), new Section(new Sine(1000, AMPLITUDE), 3)));
        Recording off = recording(
                prefix + "-stops", 4, Sequence.of(new Section(new Sine(1000, AMPLITUDE), 2), Section.silence(2)));
        ParameterRow time = parameter("rise-time");
        String source = PublishedTables.volumeIndicator().source();
        cases.add(timed("rise", "rise to 99 % of the deflection", on, time)
                .how("time from the onset at 1 s until the indication is 0.087 dB below its last value")
                .source(source, time.confidence())
                .by((meter, bench) -> {
                    Bench.Trace trace = bench.trace(meter, on, Asked.NOW, BEFORE_SECONDS);
                    return trace.secondsToReach(trace.last() + Decibels.ofRatio(deflection));
                }));
        cases.add(timed("fall", "fall to 1 % of the deflection", off, time)
                .how("time from the end of the tone at 2 s until the indication is 40 dB below what it was")
                .source(source, time.confidence())
                .by((meter, bench) -> bench.trace(meter, off, Asked.NOW, 2)
                        .secondsToFallTo(steady(meter, bench, 1000) + Decibels.ofRatio(1 - deflection))));
        ParameterRow overshoot = parameter("overshoot");
        Tolerance tolerance = overshoot.tolerance().orElseThrow();
        cases.add(draft("overswing", PublishedTables.volumeIndicator().clause(), "overswing on a sudden tone")
                .plays(on)
                .how("highest indication over the last one, as a ratio, minus 1, times 100")
                .expects(overshoot.value(), "%", 2)
                .documentLimits(
                        overshoot.value() - tolerance.minus(),
                        overshoot.value() + tolerance.plus(),
                        overshoot.toleranceConfidence())
                .narrower(0.1)
                .source(source, overshoot.confidence())
                .by((meter, bench) -> {
                    Bench.Trace trace = bench.trace(meter, on, Asked.NOW, BEFORE_SECONDS + 0.1);
                    return 100 * (Decibels.toRatio(trace.highest() - trace.last()) - 1);
                }));
    }

    private CaseDraft<ProgrammeMeterUnderTest> timed(String name, String asks, Recording plays, ParameterRow row) {
        Tolerance tolerance = row.tolerance().orElseThrow();
        return draft(name, PublishedTables.volumeIndicator().clause(), asks)
                .plays(plays)
                .expects(row.value(), "s", 3)
                .documentLimits(
                        row.value() - tolerance.minus(), row.value() + tolerance.plus(), row.toleranceConfidence())
                .narrower(0.009); // 3 %: the indication is looked at each millisecond
    }

    private void addTwoTones() {
        Recording pair = recording(prefix + "-two-tones", 3, new Sine(1000, AMPLITUDE).plus(new Sine(1730, AMPLITUDE)));
        cases.add(draft("two-tones", "full-wave average", "two equal tones re the RMS of the pair")
                .plays(pair)
                .how(Asked.NOW.id() + " at the end minus the RMS level of the pair, -3.01 dBFS")
                .expects(Decibels.ofRatio(TwoTones.AVERAGE_OVER_RMS), "dB", 2)
                .ownLimits(0.5)
                .narrower(NARROW_DB)
                .source("mean magnitude of two sines", Confidence.COMPUTED)
                .by((meter, bench) ->
                        bench.read(meter, pair, Asked.NOW, 0) - Decibels.ofRatio(AMPLITUDE * Math.sqrt(2))));
    }

    private void addFlatness(String parameter, double... frequencies) {
        ParameterRow row = parameter(parameter);
        Tolerance tolerance = row.tolerance().orElseThrow();
        Recording reference = steadyRecording(1000);
        for (double hz : frequencies) {
            String name = FlutterCases.name(hz);
            Recording recording = steadyRecording(hz);
            cases.add(draft("flatness-" + name, "response", "response at " + name + " Hz re 1 kHz")
                    .plays(recording, reference)
                    .how(Asked.NOW.id() + " at the end of the first minus that of the second")
                    .expects(0, "dB", 2)
                    .documentLimits(-tolerance.minus(), tolerance.plus(), row.toleranceConfidence())
                    .narrower(NARROW_DB)
                    .source(PublishedTables.volumeIndicator().source(), row.confidence())
                    .by((meter, bench) -> steady(meter, bench, hz) - steady(meter, bench, 1000)));
        }
    }

    private void addBursts(PublishedTable<ProgrammeBurstRow> table, double share) {
        Recording reference = steadyRecording(BURST_TONE_HZ);
        for (ProgrammeBurstRow row : table.rows()) {
            String width = FlutterCases.name(row.burstMilliseconds()) + "ms";
            double burst = row.burstMilliseconds() / 1000;
            Recording recording = recording(
                    prefix + "-burst-" + width,
                    BEFORE_SECONDS + burst + 0.5,
                    Sequence.of(
                            Section.silence(BEFORE_SECONDS), new Section(new Sine(BURST_TONE_HZ, AMPLITUDE), burst)));
            Tolerance tolerance = row.tolerance();
            cases.add(draft("burst-" + width, table.clause(), "burst of " + width + " of 5 kHz re the steady tone")
                    .plays(recording, reference)
                    .how(Asked.MAXIMUM.id() + " of the first minus " + Asked.NOW.id() + " at the end of the second")
                    .expects(row.indicationDb(), "dB", 2)
                    .documentLimits(
                            row.indicationDb() - tolerance.minus(),
                            row.indicationDb() + tolerance.plus(),
                            row.toleranceConfidence())
                    .narrower(share * tolerance.minus(), share * tolerance.plus())
                    .source(table.source(), row.confidence())
                    .by((meter, bench) ->
                            bench.read(meter, recording, Asked.MAXIMUM, 0) - steady(meter, bench, BURST_TONE_HZ)));
        }
    }

    private void addReturn(String type, double share) {
        PublishedTable<ReturnRow> table = PublishedTables.programmeMeterReturn();
        ReturnRow row = table.rows().stream()
                .filter(each -> each.type().equals(type))
                .findFirst()
                .orElseThrow();
        Recording recording = recording(
                prefix + "-stops",
                6,
                Sequence.of(new Section(new Sine(BURST_TONE_HZ, AMPLITUDE), 2), Section.silence(4)));
        Tolerance tolerance = row.tolerance();
        String fall = FlutterCases.name(row.fallDb()) + " dB";
        cases.add(draft("return", table.clause(), "return by " + fall)
                .plays(recording, steadyRecording(BURST_TONE_HZ))
                .how("time from the end of the tone at 2 s until the indication is " + fall + " below " + Asked.NOW.id()
                        + " at the end of the second")
                .expects(row.seconds(), "s", 3)
                .documentLimits(
                        row.seconds() - tolerance.minus(), row.seconds() + tolerance.plus(), row.toleranceConfidence())
                .narrower(share * tolerance.minus(), share * tolerance.plus())
                .source(table.source(), row.confidence())
                .by((meter, bench) -> bench.trace(meter, recording, Asked.NOW, 2)
                        .secondsToFallTo(steady(meter, bench, BURST_TONE_HZ) - row.fallDb())));
    }

    private double steady(ProgrammeMeterUnderTest meter, Bench bench, double hz) {
        return bench.read(meter, steadyRecording(hz), Asked.NOW, 0);
    }

    private Recording steadyRecording(double hz) {
        return recording(prefix + "-steady-" + FlutterCases.name(hz) + "hz", STEADY_SECONDS, new Sine(hz, AMPLITUDE));
    }

    private static ParameterRow parameter(String name) {
        return PublishedTables.volumeIndicator().rows().stream()
                .filter(row -> row.parameter().equals(name))
                .findFirst()
                .orElseThrow();
    }

    private CaseDraft<ProgrammeMeterUnderTest> draft(String name, String clause, String asks) {
        return new CaseDraft<>(prefix + "-" + name, clause, asks);
    }

    private static Recording recording(String name, double seconds, Signal... channels) {
        return new Recording(name, List.of(channels), RATE_HZ, seconds, OptionalDouble.empty());
    }
}
