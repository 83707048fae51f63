/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.tapemetrology.core.wav.WavReader;
import org.tapemetrology.examples.report.Report.Strip;
import org.tapemetrology.examples.report.Report.StripPoint;

/**
 * Level over time of each channel of a recording: RMS of all that it holds over windows of 100 ms, in dBFS (a full-scale sine
 * reads 0). Long recordings are summed up over 2, 4, 8... windows: power mean, lowest and highest window. A last window that
 * is not whole is left out. Digital silence is shown as {@link #FLOOR_DBFS}.
 */
final class LevelTrace {
    /** Below the noise of any converter. */
    static final double FLOOR_DBFS = -150;

    private static final double WINDOW_SECONDS = 0.1;
    private static final int MOST_POINTS = 4096;
    private static final int FRAMES = 4096;

    /** Mean square over some windows, and the least and the greatest of one window. */
    private record Power(double low, double mean, double high) {
        Power and(Power other) {
            return new Power(Math.min(low, other.low), (mean + other.mean) / 2, Math.max(high, other.high));
        }
    }

    private final int windowLength;
    private final double[] sums;
    private final List<List<Power>> windows = new ArrayList<>();
    private final List<List<Power>> points = new ArrayList<>();
    private int inWindow;
    private int group = 1;

    private LevelTrace(int rateHz, int channels) {
        windowLength = (int) Math.round(WINDOW_SECONDS * rateHz);
        sums = new double[channels];
        for (int i = 0; i < channels; i++) {
            windows.add(new ArrayList<>());
            points.add(new ArrayList<>());
        }
    }

    static List<Strip> of(Path wav) throws IOException {
        try (WavReader reader = WavReader.open(wav)) {
            int channels = reader.format().channels();
            int rate = reader.format().sampleRateHz();
            LevelTrace trace = new LevelTrace(rate, channels);
            float[] block = new float[FRAMES * channels];
            for (int frames = reader.read(block, 0, FRAMES); frames >= 0; frames = reader.read(block, 0, FRAMES)) {
                for (int i = 0; i < frames; i++) {
                    trace.accept(block, i * channels);
                }
            }
            return trace.strips((double) trace.windowLength / rate);
        }
    }

    private void accept(float[] block, int offset) {
        for (int i = 0; i < sums.length; i++) {
            sums[i] += (double) block[offset + i] * block[offset + i];
        }
        if (++inWindow == windowLength) {
            for (int i = 0; i < sums.length; i++) {
                double mean = sums[i] / windowLength;
                windows.get(i).add(new Power(mean, mean, mean));
                sums[i] = 0;
            }
            inWindow = 0;
            if (windows.get(0).size() == group) {
                keep();
            }
        }
    }

    private void keep() {
        for (int i = 0; i < sums.length; i++) {
            List<Power> whole = windows.get(i);
            while (whole.size() > 1) {
                pairUp(whole);
            }
            points.get(i).add(whole.remove(0));
        }
        if (points.get(0).size() == MOST_POINTS) {
            points.forEach(LevelTrace::pairUp);
            group *= 2;
        }
    }

    /** Their number is a power of two. */
    private static void pairUp(List<Power> powers) {
        int half = powers.size() / 2;
        for (int i = 0; i < half; i++) {
            powers.set(i, powers.get(2 * i).and(powers.get(2 * i + 1)));
        }
        powers.subList(half, powers.size()).clear();
    }

    private List<Strip> strips(double windowSeconds) {
        double interval = group * windowSeconds;
        List<Strip> strips = new ArrayList<>();
        for (int channel = 1; channel <= sums.length; channel++) {
            List<StripPoint> strip = new ArrayList<>();
            for (Power power : points.get(channel - 1)) {
                strip.add(new StripPoint(
                        (strip.size() + 0.5) * interval, dbfs(power.low), dbfs(power.mean), dbfs(power.high)));
            }
            if (!strip.isEmpty()) {
                strips.add(new Strip(channel, interval, strip));
            }
        }
        return strips;
    }

    /** The mean square of a full-scale sine is a half. */
    private static double dbfs(double meanSquare) {
        return Math.max(FLOOR_DBFS, 10 * Math.log10(2 * meanSquare));
    }
}
