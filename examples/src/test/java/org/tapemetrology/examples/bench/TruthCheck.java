/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SortedMap;
import org.tapemetrology.core.alignment.AlignmentPlan;
import org.tapemetrology.core.alignment.Tolerances;
import org.tapemetrology.signals.recorder.BiasLaw;
import org.tapemetrology.signals.recorder.ChannelTruth;
import org.tapemetrology.signals.recorder.RecorderTruth;
import org.tapemetrology.signals.recorder.VirtualRecorder;

/** Holds what a virtual recorder truly is against the limits of a plan; knows nothing of what was measured. */
final class TruthCheck {
    /** Below this full-width test tapes are not asked (fringing). */
    private static final double FRINGING_HZ = 500;

    private final VirtualRecorder machine;
    private final AlignmentPlan plan;
    private final List<String> wrong = new ArrayList<>();

    private TruthCheck(VirtualRecorder machine, AlignmentPlan plan) {
        this.machine = machine;
        this.plan = plan;
    }

    /** What lies outside of its limit, with its value. */
    static List<String> wrong(VirtualRecorder machine, AlignmentPlan plan) {
        TruthCheck check = new TruthCheck(machine, plan);
        check.all();
        return check.wrong;
    }

    private void all() {
        Tolerances limits = plan.tolerances();
        RecorderTruth truth = machine.truth();
        check("speed %", truth.speedErrorPercent(), limits.speedPercent());
        if (machine.channels() == 2) {
            check("azimuth us", truth.replayAzimuthDelayMicroseconds(), limits.azimuthMicroseconds());
            check("record azimuth us", truth.recordReplayDelayMicroseconds(), 2 * limits.azimuthMicroseconds());
        } else {
            check("azimuth loss dB", azimuthLossDb(truth.replayAzimuthArcmin()), limits.azimuthLossDb());
        }
        for (ChannelTruth channel : truth.channels()) {
            String of = " of channel " + channel.channel();
            check("replay level dB" + of, channel.replayLevelDb(), limits.replayLevelDb());
            response("replay response dB" + of, channel.replayResponseDb(), FRINGING_HZ, limits.replayResponseDb());
            check("bias, drop dB" + of, dropDb(channel.biasDb()) - plan.overBiasDropDb(), limits.overBiasDropDb());
            check("record level dB" + of, channel.recordReplayLevelDb(), limits.recordLevelDb());
            response("record response dB" + of, channel.recordReplayResponseDb(), 0, limits.recordResponseDb());
            if (channel.thirdHarmonicPercent() > limits.thirdHarmonicPercent()) {
                check("third harmonic %" + of, channel.thirdHarmonicPercent(), limits.thirdHarmonicPercent());
            }
        }
    }

    private void response(String what, SortedMap<Double, Double> table, double fromHz, double limit) {
        for (double hz : plan.responseHz()) {
            if (hz >= fromHz) {
                Double db = table.get(hz);
                if (db == null) {
                    throw new IllegalStateException(hz + " Hz is not in " + table.keySet());
                }
                check(what + " at " + hz + " Hz", db, limit);
            }
        }
    }

    /** Drop below the peak, signed by the side on which the bias lies. */
    private double dropDb(double biasDb) {
        double wavelength = 1000 * machine.speedMmPerSecond() / plan.biasHz();
        BiasLaw law = machine.ratedTape().biasLaw();
        double bias = Math.pow(10, biasDb / 20);
        double peak = law.peakBias(wavelength);
        double drop = 20 * Math.log10(law.sensitivityRatio(peak, wavelength) / law.sensitivityRatio(bias, wavelength));
        return bias > peak ? drop : -drop;
    }

    /** A head askew reads sin(x)/x of a track, x = pi w tan(a)/wavelength (handbooks of magnetic recording). */
    private double azimuthLossDb(double arcmin) {
        double x = Math.PI
                * machine.layout().trackWidthMm()
                * Math.tan(Math.toRadians(arcmin / 60))
                / (machine.speedMmPerSecond() / plan.azimuthHz());
        return x == 0 ? 0 : -20 * Math.log10(Math.abs(Math.sin(x) / x));
    }

    private void check(String what, double value, double limit) {
        if (!(Math.abs(value) <= limit)) {
            wrong.add(String.format(Locale.ROOT, "%s %.2f beyond %.2f", what, value, limit));
        }
    }
}
