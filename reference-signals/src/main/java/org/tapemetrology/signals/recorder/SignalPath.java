/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.ArrayList;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import org.tapemetrology.signals.Decibels;

/**
 * What the present adjustment of a machine does to a signal, in closed form as amplitude ratios. The filters are designed
 * from it and the truth is read from it.
 */
final class SignalPath {
    /** Preferred frequencies of ISO 266, those usual on tapes. */
    private static final double[] FREQUENCIES = {
        31.5, 63, 125, 250, 315, 500, 1000, 2000, 4000, 6300, 8000, 10_000, 12_500, 16_000
    };

    private static final double REPLAY_CORNER_HZ = 4000;
    private static final double RECORD_CORNER_HZ = 7000;

    private final VirtualRecorder machine;

    SignalPath(VirtualRecorder machine) {
        this.machine = machine;
    }

    /** Speed now, in mm/s. */
    double speed() {
        return machine.speedMmPerSecond() * (1 + machine.error(TrimmerLaws.SPEED) / 100);
    }

    /** From the flux on the tape to the output, re the reference level; the frequency is that of the output. */
    double replayRatio(int channel, double hz, double recordedArcmin) {
        double wavelength = 1000 * speed() / hz;
        return Decibels.toRatio(error(TrimmerLaws.REPLAY_LEVEL, channel)
                        + error(TrimmerLaws.REPLAY_EQUALISATION, channel) * shelf(hz / REPLAY_CORNER_HZ, 2))
                * machine.heads().ratioAt(wavelength)
                * ReplayLosses.azimuthRatio(
                        machine.layout().trackWidthMm(),
                        machine.error(TrimmerLaws.REPLAY_AZIMUTH) - recordedArcmin,
                        wavelength);
    }

    /** From the input to the current that saturates the tape; the frequency is that of the input. */
    double recordCurrentRatio(int channel, double hz) {
        return Decibels.toRatio(error(TrimmerLaws.RECORD_LEVEL, channel)
                        + error(TrimmerLaws.RECORD_EQUALISATION, channel) * shelf(hz / RECORD_CORNER_HZ, 4))
                * machine.electronics().emphasis(hz);
    }

    /** From that current to the flux. Recommended bias gives a flat one: the maker's equalisation sees to that. */
    double recordedFluxRatio(int channel, double hz, double wavelengthMicrometres, VirtualTape tape) {
        double bias = bias(channel, tape);
        return Decibels.toRatio(tape.sensitivityDb())
                * tape.biasLaw().sensitivityRatio(bias, wavelengthMicrometres)
                / machine.electronics().emphasis(hz);
    }

    Saturation saturation(int channel, VirtualTape tape) {
        return Saturation.ofThirdHarmonic(
                tape.thirdHarmonicPercent() / 100 * tape.biasLaw().harmonicFactor(bias(channel, tape)));
    }

    RecorderTruth truth(VirtualTape tape) {
        double factor = 1 + machine.error(TrimmerLaws.SPEED) / 100;
        List<RotatingPart> parts = new ArrayList<>();
        for (RotatingPart part : machine.transport().parts()) {
            parts.add(new RotatingPart(
                    part.name(), part.rateHz() * factor, part.peakPercent(), part.ratePercentPerMinute()));
        }
        double replayArcmin = machine.error(TrimmerLaws.REPLAY_AZIMUTH);
        double recordArcmin = machine.recordAzimuthArcmin();
        List<ChannelTruth> channels = new ArrayList<>();
        for (int channel = 1; channel <= machine.channels(); channel++) {
            channels.add(channel(channel, tape));
        }
        List<String> unreachable = machine.trimmers().stream()
                .filter(trimmer -> !trimmer.truth().reachable())
                .map(Trimmer::id)
                .toList();
        return new RecorderTruth(
                machine.error(TrimmerLaws.SPEED),
                machine.transport().driftPercentPerMinute(),
                parts,
                machine.transport().randomFlutterPercent(),
                machine.transport().scrapePercent(),
                replayArcmin,
                delayMicroseconds(replayArcmin),
                recordArcmin,
                delayMicroseconds(replayArcmin) - delayMicroseconds(recordArcmin),
                channels,
                unreachable);
    }

    private double delayMicroseconds(double arcmin) {
        return 1e6 * machine.layout().gapOffsetMm(arcmin) / speed();
    }

    private ChannelTruth channel(int channel, VirtualTape tape) {
        double reference = machine.referenceHz();
        double replayLevel = Decibels.ofRatio(Math.abs(replayRatio(channel, reference, 0)));
        double small = smallSignal(channel, reference, tape);
        SortedMap<Double, Double> replay = new TreeMap<>();
        SortedMap<Double, Double> both = new TreeMap<>();
        for (double hz : FREQUENCIES) {
            replay.put(hz, Decibels.ofRatio(Math.abs(replayRatio(channel, hz, 0))) - replayLevel);
            both.put(hz, Decibels.ofRatio(smallSignal(channel, hz, tape) / small));
        }
        RecordedTone tone = referenceTone(channel, tape);
        return new ChannelTruth(
                channel,
                replayLevel,
                replay,
                Decibels.ofRatio(tone.fundamental(1)),
                both,
                Decibels.ofRatio(bias(channel, tape)),
                100 * tone.thirdHarmonic(1),
                tone.maximumOutputDb());
    }

    private double smallSignal(int channel, double hz, VirtualTape tape) {
        return Math.abs(recordCurrentRatio(channel, hz)
                * recordedFluxRatio(channel, hz, 1000 * speed() / hz, tape)
                * replayRatio(channel, hz, machine.recordAzimuthArcmin()));
    }

    private RecordedTone referenceTone(int channel, VirtualTape tape) {
        double hz = machine.referenceHz();
        return new RecordedTone(
                recordCurrentRatio(channel, hz),
                saturation(channel, tape),
                order -> recordedFluxRatio(channel, order * hz, 1000 * speed() / (order * hz), tape)
                        * replayRatio(channel, order * hz, machine.recordAzimuthArcmin()),
                machine.electronics());
    }

    private double bias(int channel, VirtualTape tape) {
        return Decibels.toRatio(error(TrimmerLaws.BIAS, channel)) / tape.biasNeed();
    }

    private double error(String kind, int channel) {
        return machine.error(kind + "-" + channel);
    }

    /** Share of a treble control that acts: 0 far below its corner, 1 far above. */
    private static double shelf(double relativeHz, int order) {
        double power = StrictMath.pow(relativeHz, order);
        return power / (1 + power);
    }
}
