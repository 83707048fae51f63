/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import org.tapemetrology.core.fit.RunningMoments;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/**
 * The response from a recording of many tones at once, on a machine up to 5 % off speed, in dB re the tone at the
 * reference frequency.
 *
 * <p>The power spectra of half-overlapping frames of about 1.4 s are averaged. The power of a tone is that of the lines
 * within 1.5 % or 30 Hz (but 0.3 of the way to the next tone) less the noise beside it, re the power that was sent. For
 * the speed see {@link #speedRatio}. A tone less than 6 dB above that noise is {@link Status#NO_CARRIER}; fewer than three frames are {@link
 * Status#INSUFFICIENT_DATA}. Never NaN. A level that wanders alike at all frequencies does not move the readings;
 * their uncertainty is that of the ratio to the reference tone, by its scatter among parts of the recording, from four parts
 * on. Feed the multitone alone: whatever else is in the recording counts. Memory does not grow.
 * Thread-confined.
 *
 * <p>Settling and cost: three frames, some 3 s.
 *
 * <p>Not for levels at which the tape distorts: products of the tones may fall on others.
 */
public final class MultitoneResponse extends ResponseMeter {
    private static final double FRAME_SECONDS = 1.1;
    private static final int LEAST_FRAMES = 3;
    private static final int LEAST_PARTS = 4;
    private static final double FLUTTER = 0.015;
    private static final double FLUTTER_RATE_HZ = 30;
    private static final double ROOM = 0.3;
    private static final double LEAST_TO_NOISE = 4;
    private static final double SPEED_RANGE = 0.06;
    private static final double SPEED_STEP = 0.0005;
    /** Half a window of the search, re the frequency; at least a line. */
    private static final double SEARCH_REACH = 2 * SPEED_STEP;
    /** Each takes the windows on from the speed before: of a tone at the edge of one the first finds a part alone. */
    private static final int SPEED_PASSES = 2;
    /** Lines that a tone has to itself on either side: beyond them is 1/10 000 of a Hann window's power. */
    private static final int OWN_LINES = 3;

    private final double[] frequenciesHz;
    private final double[] sentPower;
    private final double[] spectrum;
    private final SpectrumBatches batches;
    private int frames;
    private boolean overloaded;

    /**
     * A meter of one channel.
     *
     * @param sampleRateHz sampling rate in Hz, 8000 to 768000
     * @param channel 1-based channel
     * @param referenceHz reference frequency in Hz, one of the tones
     * @param frequenciesHz frequencies in Hz, rising, each at least 1.1 times the one below, none below 20 Hz or above
     *     0.45 times the sampling rate
     * @param sentLevelsDb level of each tone as sent, in dB re any common reference
     */
    public MultitoneResponse(
            double sampleRateHz,
            int channel,
            double referenceHz,
            List<Double> frequenciesHz,
            List<Double> sentLevelsDb) {
        super(sampleRateHz, channel, referenceHz, FRAME_SECONDS);
        this.frequenciesHz = requireRising(frequenciesHz, 1.1, sampleRateHz);
        requireMember(referenceHz, this.frequenciesHz);
        if (sentLevelsDb.size() != frequenciesHz.size()) {
            throw new IllegalArgumentException(
                    sentLevelsDb.size() + " sent levels do not go with " + frequenciesHz.size() + " frequencies");
        }
        this.sentPower = sentLevelsDb.stream()
                .mapToDouble(level -> StrictMath.pow(10, level / 10))
                .toArray();
        this.spectrum = new double[(int) (sampleRateHz / binHz()) / 2 + 1];
        this.batches = new SpectrumBatches(spectrum.length);
    }

    @Override
    void add(double[] power, boolean frameOverloaded) {
        overloaded |= frameOverloaded;
        frames++;
        for (int k = 0; k < spectrum.length; k++) {
            spectrum[k] += power[k];
        }
        batches.add(power);
    }

    @Override
    void clear() {
        Arrays.fill(spectrum, 0);
        batches.clear();
        frames = 0;
        overloaded = false;
    }

    /**
     * Speed of the machine over that of the recording, its mean over the frames.
     *
     * <p>A search in steps of 0.05 % finds where the sent frequencies meet the most power, every tone counting alike (the
     * sum of its logarithms). It has no single best step: within 0.1 % all of them hold the whole tone. So the ratio is then
     * that of the tones' centres of power, the noise beside them taken off, to the frequencies sent, by least squares in Hz:
     * every centre is known to about the same part of a line, and flutter spreads a tone evenly about it. Tones that have
     * less than ten lines (some 7 Hz) to the next one, do not stand out of their noise or have their centre elsewhere do not
     * count; where none counts the search alone tells the ratio, to 0.1 % or one and a half lines.
     *
     * @return the ratio, 1 on speed; empty where there are too few frames, or no tone stands out of the noise
     */
    public OptionalDouble speedRatio() {
        if (frames < LEAST_FRAMES) {
            return OptionalDouble.empty();
        }
        double ratio = searchedRatio();
        boolean any = false;
        for (int i = 0; i < frequenciesHz.length; i++) {
            any |= power(spectrum, i, ratio) > 0;
        }
        if (!any) {
            return OptionalDouble.empty();
        }
        // First in the windows of the search, so that what stands at the edge of a tone's own window takes no part.
        for (int pass = 0; pass < SPEED_PASSES; pass++) {
            ratio = ratioOfCentres(ratio, true);
        }
        for (int pass = 0; pass < SPEED_PASSES; pass++) {
            ratio = ratioOfCentres(ratio, false);
        }
        return OptionalDouble.of(ratio);
    }

    private double searchedRatio() {
        double best = 1;
        double greatest = Double.NEGATIVE_INFINITY;
        int steps = (int) StrictMath.round(SPEED_RANGE / SPEED_STEP);
        for (int step = -steps; step <= steps; step++) {
            double ratio = 1 + step * SPEED_STEP;
            double score = 0;
            for (double frequencyHz : frequenciesHz) {
                int middle = (int) StrictMath.round(ratio * frequencyHz / binHz());
                int half = searchHalf(middle);
                score += StrictMath.log(Double.MIN_NORMAL + FrameSpectrum.sum(spectrum, middle - half, middle + half));
            }
            if (score > greatest) {
                greatest = score;
                best = ratio;
            }
        }
        return best;
    }

    private static int searchHalf(int line) {
        return (int) Math.max(1, StrictMath.round(SEARCH_REACH * line));
    }

    /** The ratio by the centres of the tones in their windows at a ratio that is nearly right. */
    private double ratioOfCentres(double near, boolean narrow) {
        double product = 0;
        double square = 0;
        for (int i = 0; i < frequenciesHz.length; i++) {
            if (ROOM * room(i) < OWN_LINES * binHz() || !(power(spectrum, i, near) > 0)) {
                continue;
            }
            int line = line(i, near);
            int half = halfWidth(i, line);
            int reach = searchHalf(line) + 1;
            double centre = centre(line, narrow ? Math.min(half, reach + 1) : half, noisePerLine(spectrum, i, near));
            if (Math.abs(centre - line) <= reach) {
                product += frequenciesHz[i] * centre * binHz();
                square += frequenciesHz[i] * frequenciesHz[i];
            }
        }
        return square > 0 ? product / square : near;
    }

    /**
     * The level of each tone.
     *
     * @return one reading of {@link Quantity#LEVEL} for each frequency, in dBFS, in the order in which they were sent
     */
    public List<Reading> levelReadings() {
        List<Reading> readings = new ArrayList<>();
        List<ToneLevel> levels = checkedLevels();
        for (int i = 0; i < frequenciesHz.length; i++) {
            ToneLevel level = levels.get(i);
            Reading reading = level.status() == Status.VALID
                    // A full-scale sine has a mean square of 1/2.
                    ? Reading.valid(
                            Quantity.LEVEL, 10 * StrictMath.log10(2 * level.power() * sentPower[i] / frames), method())
                    : Reading.without(Quantity.LEVEL, level.status(), method());
            readings.add(reading.onChannel(channel()).atFrequency(level.frequencyHz()));
        }
        return List.copyOf(readings);
    }

    @Override
    List<ToneLevel> levels() {
        OptionalDouble speed = speedRatio();
        List<ToneLevel> levels = new ArrayList<>();
        for (int i = 0; i < frequenciesHz.length; i++) {
            if (frames < LEAST_FRAMES) {
                levels.add(ToneLevel.without(frequenciesHz[i], Status.INSUFFICIENT_DATA));
            } else if (overloaded) {
                levels.add(ToneLevel.without(frequenciesHz[i], Status.OVERLOAD));
            } else if (speed.isEmpty()) {
                levels.add(ToneLevel.without(frequenciesHz[i], Status.NO_CARRIER));
            } else {
                levels.add(level(i, speed.getAsDouble()));
            }
        }
        return levels;
    }

    /** Hertz to the nearest other tone. */
    private double room(int i) {
        double room = Double.POSITIVE_INFINITY;
        if (i > 0) {
            room = frequenciesHz[i] - frequenciesHz[i - 1];
        }
        if (i + 1 < frequenciesHz.length) {
            room = Math.min(room, frequenciesHz[i + 1] - frequenciesHz[i]);
        }
        return room;
    }

    private int line(int i, double speed) {
        return (int) StrictMath.round(speed * frequenciesHz[i] / binHz());
    }

    /** Lines on either side that belong to a tone: those of its flutter, as far as the next tone leaves room. */
    private int halfWidth(int i, int line) {
        double wanted = Math.max(FLUTTER * line, FLUTTER_RATE_HZ / binHz());
        return (int) Math.max(3, Math.ceil(Math.min(wanted, ROOM * room(i) / binHz())));
    }

    private ToneLevel level(int i, double speed) {
        double power = power(spectrum, i, speed);
        if (!(power > 0)) {
            return ToneLevel.without(frequenciesHz[i], Status.NO_CARRIER);
        }
        ToneLevel level = new ToneLevel(frequenciesHz[i], power / sentPower[i], Status.VALID);
        int parts = batches.whole().size();
        if (parts < LEAST_PARTS) {
            return level;
        }
        RunningMoments ratios = new RunningMoments();
        int reference = Arrays.binarySearch(frequenciesHz, referenceHz());
        for (double[] part : batches.whole()) {
            double ratio = power(part, i, speed) / power(part, reference, speed);
            if (!(ratio > 0 && ratio < Double.POSITIVE_INFINITY)) {
                return level;
            }
            ratios.add(StrictMath.log(ratio));
        }
        double variance = ratios.standardDeviation() * ratios.standardDeviation() / parts;
        // What is common to both tones is no error of the response, so the reference itself has none.
        return new ToneLevel(
                frequenciesHz[i],
                level.power(),
                Status.VALID,
                variance,
                i == reference ? Double.POSITIVE_INFINITY : parts - 1.0);
    }

    /** Power of a tone, the noise beside it taken off; 0 where it does not stand out. */
    private double power(double[] spectrum, int i, double speed) {
        int line = line(i, speed);
        int half = halfWidth(i, line);
        double noise = noisePerLine(spectrum, i, speed) * (2 * half + 1);
        double power = FrameSpectrum.sum(spectrum, line - half, line + half) - noise;
        return power > LEAST_TO_NOISE * noise ? power : 0;
    }

    /** The line about which the power in a window lies, the noise taken off; NaN where there is no more than that. */
    private double centre(int line, int half, double noise) {
        double sum = 0;
        double moment = 0;
        for (int k = Math.max(0, line - half); k <= Math.min(spectrum.length - 1, line + half); k++) {
            sum += spectrum[k] - noise;
            moment += (k - line) * (spectrum[k] - noise);
        }
        return sum > 0 ? line + moment / sum : Double.NaN;
    }

    /** Power of a line of noise beside a tone. */
    private double noisePerLine(double[] spectrum, int i, double speed) {
        int line = line(i, speed);
        int half = halfWidth(i, line);
        int from = i == 0 ? 1 : (int) Math.ceil((line + speed * frequenciesHz[i - 1] / binHz()) / 2);
        int to = i + 1 == frequenciesHz.length
                ? spectrum.length - 1
                : (int) Math.floor((line + speed * frequenciesHz[i + 1] / binHz()) / 2);
        int lowFrom = Math.max(from, line - 2 * half - 1);
        int lowTo = line - half - 1;
        int highFrom = line + half + 1;
        int highTo = Math.min(to, line + 2 * half + 1);
        int count = Math.max(0, lowTo - lowFrom + 1) + Math.max(0, highTo - highFrom + 1);
        return count == 0
                ? 0
                : (FrameSpectrum.sum(spectrum, lowFrom, lowTo) + FrameSpectrum.sum(spectrum, highFrom, highTo)) / count;
    }

    @Override
    String method() {
        return "multitone, selective power mean";
    }
}
