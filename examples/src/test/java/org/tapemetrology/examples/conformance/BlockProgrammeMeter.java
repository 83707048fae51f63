/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.conformance;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleFunction;
import org.tapemetrology.core.detector.Detector;
import org.tapemetrology.core.filter.Oversampler;
import org.tapemetrology.signals.conformance.Figure;
import org.tapemetrology.signals.conformance.ProgrammeMeterUnderTest;
import org.tapemetrology.signals.conformance.RecordingFormat;

/** A meter with ballistics around any detector. */
final class BlockProgrammeMeter implements ProgrammeMeterUnderTest {
    private final DoubleFunction<Detector> detectorForRate;
    private final List<Channel> channels = new ArrayList<>();

    BlockProgrammeMeter(DoubleFunction<Detector> detectorForRate) {
        this.detectorForRate = detectorForRate;
    }

    @Override
    public void start(RecordingFormat format) {
        channels.clear();
        for (int i = 0; i < format.channels(); i++) {
            channels.add(new Channel(format.sampleRateHz()));
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
        double rms = switch (asked) {
            case NOW -> channels.get(channel).now;
            case MAXIMUM -> channels.get(channel).highest;
        };
        return rms > 0 ? Optional.of(new Figure(20 * Math.log10(rms * Math.sqrt(2)), "dBFS")) : Optional.empty();
    }

    private final class Channel {
        private final Oversampler oversampler;
        private final Detector detector;
        private final double[] fast;
        private double now;
        private double highest;

        Channel(double rateHz) {
            oversampler = Oversampler.beforeRectifier(rateHz);
            detector = detectorForRate.apply(oversampler.outputRateHz());
            fast = new double[4096 * oversampler.factor()];
        }

        void accept(double[] samples, int length) {
            int made = oversampler.process(samples, 0, length, fast, 0);
            detector.process(fast, 0, fast, 0, made);
            for (int i = 0; i < made; i++) {
                now = fast[i];
                highest = Math.max(highest, now);
            }
        }
    }
}
