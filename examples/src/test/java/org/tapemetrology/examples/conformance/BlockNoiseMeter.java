/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import org.tapemetrology.core.detector.Ballistics;
import org.tapemetrology.core.detector.TwoStagePeakDetector;
import org.tapemetrology.core.filter.AnalogFilter;
import org.tapemetrology.core.filter.MatchedFilter;
import org.tapemetrology.core.filter.Oversampler;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.standard.Iec61672Edition2013;
import org.tapemetrology.core.standard.ItuRBs468Edition4;
import org.tapemetrology.signals.conformance.Figure;
import org.tapemetrology.signals.conformance.NoiseMeterUnderTest;
import org.tapemetrology.signals.conformance.RecordingFormat;

/** A noise meter of building blocks, each of which can be spoilt: weighting, rectifier, detector. */
final class BlockNoiseMeter implements NoiseMeterUnderTest {
    /** What it is made of. */
    static final class Parts {
        AnalogFilter weighting = ItuRBs468Edition4.weighting();
        boolean weighted = true;
        /** Quasi-peak where true, else the mean over the recording. */
        boolean quasiPeak = true;

        Ballistics first = ItuRBs468Edition4.FIRST_STAGE;
        Ballistics second = ItuRBs468Edition4.SECOND_STAGE;
        DoubleUnaryOperator input = DoubleUnaryOperator.identity();
        DoubleUnaryOperator rectified = Math::abs;
        double settlingSeconds = 5;
        /** Of the magnitude over the recording: 2 for RMS, 1 for an average-responding meter. */
        int power = 2;
        /** Natural frequency of a needle that swings over; 0 for none. */
        double needleHz;
        /** Amplitude of an oscillation that dies away after the start. */
        double onset;

        Parts aWeighted() {
            weighting = Iec61672Edition2013.aWeighting();
            quasiPeak = false;
            settlingSeconds = 1;
            return this;
        }
    }

    private static final double FORM_FACTOR = Math.PI / Math.sqrt(8);

    private final Parts parts;
    private final List<Channel> channels = new ArrayList<>();

    BlockNoiseMeter(Parts parts) {
        this.parts = parts;
    }

    @Override
    public void start(RecordingFormat format) {
        // The detector calibrates itself when it is made, which costs as much as a recording: it is made once.
        channels.removeIf(channel -> channel.rateHz != format.sampleRateHz());
        while (channels.size() < format.channels()) {
            channels.add(new Channel(format.sampleRateHz()));
        }
        channels.subList(format.channels(), channels.size()).clear();
        channels.forEach(Channel::reset);
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
        double rms = switch (asked) {
            case A_WEIGHTED, QUASI_PEAK -> parts.quasiPeak ? from.sum / from.count : from.mean();
            case QUASI_PEAK_MAXIMUM -> from.highest;
        };
        return Optional.of(new Figure(20 * Math.log10(rms * Math.sqrt(2)), "dBFS"));
    }

    private final class Channel {
        private final double rateHz;
        private final SecondOrderSections weighting;
        private final Oversampler oversampler;
        private final TwoStagePeakDetector detector;
        private final double[] buffer = new double[4096];
        private final double[] fast;
        private long taken;
        private long produced;
        private double sum;
        private long count;
        private double highest;
        private double needle;
        private double speed;

        Channel(double rateHz) {
            this.rateHz = rateHz;
            weighting = new MatchedFilter(parts.weighting, rateHz).sections();
            oversampler = Oversampler.beforeRectifier(rateHz);
            fast = new double[buffer.length * oversampler.factor()];
            detector = new TwoStagePeakDetector(oversampler.outputRateHz(), parts.first, parts.second);
        }

        void reset() {
            weighting.reset();
            oversampler.reset();
            detector.reset();
            taken = 0;
            produced = 0;
            sum = 0;
            count = 0;
            highest = 0;
            needle = 0;
            speed = 0;
        }

        void accept(double[] samples, int length) {
            for (int i = 0; i < length; i++) {
                double time = (taken + i) / rateHz;
                double onset = parts.onset == 0
                        ? 0
                        : parts.onset * Math.exp(-time / 0.05) * Math.sin(2 * Math.PI * 3000 * time);
                buffer[i] = parts.input.applyAsDouble(samples[i] + onset);
            }
            if (parts.weighted) {
                weighting.process(buffer, 0, buffer, 0, length);
            }
            if (parts.quasiPeak) {
                quasiPeak(length);
            } else {
                for (int i = 0; i < length; i++) {
                    if (taken + i >= parts.settlingSeconds * rateHz) {
                        sum += Math.pow(Math.abs(buffer[i]), parts.power);
                        count++;
                    }
                }
            }
            taken += length;
        }

        private void quasiPeak(int length) {
            int made = oversampler.process(buffer, 0, length, fast, 0);
            for (int i = 0; i < made; i++) {
                fast[i] = parts.rectified.applyAsDouble(fast[i]);
            }
            detector.process(fast, 0, fast, 0, made);
            for (int i = 0; i < made; i++) {
                double shown = parts.needleHz > 0 ? needle(fast[i]) : fast[i];
                if (produced + i >= parts.settlingSeconds * oversampler.outputRateHz()) {
                    highest = Math.max(highest, shown);
                    sum += shown;
                    count++;
                }
            }
            produced += made;
        }

        /** A second-order movement with a damping of 0.4. */
        private double needle(double to) {
            double step = 1 / oversampler.outputRateHz();
            double angular = 2 * Math.PI * parts.needleHz;
            speed += step * (angular * angular * (to - needle) - 2 * 0.4 * angular * speed);
            needle += step * speed;
            return needle;
        }

        double mean() {
            return parts.power == 2 ? Math.sqrt(sum / count) : FORM_FACTOR * sum / count;
        }
    }
}
