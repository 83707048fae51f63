/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Cuts a recording into segments from frame to frame. A segment ends with the first frame that does not continue it: pieces
 * of one step, as dropouts make them, are put together by {@link Alignment}.
 */
final class Segmenter {
    /** Fewer frames are no segment. */
    private static final int LEAST_FRAMES = 4;
    /** Power of both channels together that is taken for silence. */
    private static final double SILENCE = 1e-9;

    private static final double HALF_WIDTH = 0.06;
    private static final int HALF_BINS = 3;
    /** Line over the rest around it: to begin a line, and to leave one. */
    private static final double PROMINENT = 8;

    private static final double STILL_PROMINENT = 4;
    /** Part of the power, weighted by frequency against hum, that the line must have to begin and to go on. */
    private static final double PREVAILS = 0.6;

    private static final double STILL_PREVAILS = 0.4;
    private static final double JUMP = 0.025;
    private static final double FIRST_JUMP = 0.08;
    private static final double JUMP_BINS = 1.2;
    private static final int FIRST_FRAMES = 3;
    private static final double GLIDE_SHARE = 0.25;
    private static final double SIDE_CHANGE_DB = 8;
    /** A channel that is so much weaker is silent, and what is in it is rounding. */
    private static final double ONE_SIDED_DB = 60;

    private static final int RECENT = 4;
    private static final double SLOW_SHARE = 0.08;
    private static final double LEVEL_CHANGE_DB = 2.5;
    private static final double BROAD_CHANGE_DB = 3;
    private static final double BROAD_STEP_DB = 8;
    private static final double STEADY_GLIDE = 0.03;
    private static final int BANDS = 7;
    private static final double LOWEST_BAND_HZ = 180;
    private static final double SHAPE_CHANGE_DB = 4.5;
    private static final int MOST_SEGMENTS = 8192;

    private final double binHz;
    private final double hopSeconds;
    private final double firstSeconds;
    private final BroadMatch match;
    private final double[] spectrum;
    private final double[] bands = new double[BANDS];
    private final double[] recentBands = new double[BANDS];
    private final double[] edges = new double[LEAST_FRAMES];
    private final double[] recent = new double[RECENT];
    private final List<Segment> segments = new ArrayList<>();

    private long frame;
    // The frame at hand.
    private boolean silent;
    private int peak;
    private double linePower;
    private double aroundPower;
    private double share;
    private double total;
    /** The same weighted by frequency: of noise it fluctuates much less. */
    private double weighted;

    private double lnHz;
    private final double[] channelPower = new double[2];
    // The open segment.
    private boolean line;
    private int frames;
    private long first;
    private double lastLnHz;
    private double step;
    private double slow;
    /** Last frames that told of a change which is slow to show: they belong to what follows. */
    private int runOn;

    private double sumPower;
    private double sumRest;
    private final double[] sumChannel = new double[2];
    private double sumX;
    private double sumY;
    private double sumXx;
    private double sumXy;

    /**
     * A segmenter.
     *
     * @param programme what may be in the recording
     * @param binHz width of a bin
     * @param bins bins of a spectrum
     * @param hopSeconds time from frame to frame
     * @param firstSeconds middle of the first frame
     */
    Segmenter(Programme programme, double binHz, int bins, double hopSeconds, double firstSeconds) {
        this.binHz = binHz;
        this.hopSeconds = hopSeconds;
        this.firstSeconds = firstSeconds;
        this.match = new BroadMatch(programme.steps(), binHz, bins);
        this.spectrum = new double[bins];
    }

    /** Takes the spectra of the next frame. */
    void accept(PairSpectrum next) {
        look(next);
        if (frames > 0 && !continues()) {
            close();
        }
        if (!silent) {
            if (frames == 0) {
                open();
            }
            add(next);
        }
        frame++;
    }

    private void look(PairSpectrum next) {
        double[] both = next.both();
        total = PairSpectrum.sum(both, 2, both.length - 1);
        silent = !(total > SILENCE);
        if (silent) {
            return;
        }
        double most = 0;
        peak = 2;
        weighted = 0;
        for (int k = 2; k < both.length - 1; k++) {
            double here = (both[k - 1] + both[k] + both[k + 1]) * k;
            if (here > most) {
                most = here;
                peak = k;
            }
            weighted += both[k] * k;
        }
        int half = Math.max(HALF_BINS, (int) Math.ceil(HALF_WIDTH * peak));
        linePower = 0;
        double moment = 0;
        for (int k = Math.max(1, peak - half); k <= Math.min(both.length - 1, peak + half); k++) {
            linePower += both[k];
            moment += k * both[k];
        }
        aroundPower = PairSpectrum.sum(both, (int) Math.min(0.7 * peak, peak - 3.0 * HALF_BINS), (int)
                        Math.max(1.4 * peak, peak + 3.0 * HALF_BINS))
                - linePower;
        share = moment / weighted;
        lnHz = Math.log(moment / linePower * binHz);
        for (int c = 0; c < 2; c++) {
            channelPower[c] = PairSpectrum.sum(next.of(c), peak - half, peak + half);
        }
    }

    private boolean isLine() {
        boolean inLine = frames > 0 && line;
        return linePower > (inLine ? STILL_PROMINENT : PROMINENT) * aroundPower
                && share > (inLine ? STILL_PREVAILS : PREVAILS);
    }

    private boolean continues() {
        if (silent || isLine() != line) {
            return false;
        }
        return line ? lineContinues() : broadContinues();
    }

    private boolean lineContinues() {
        boolean starting = frames < FIRST_FRAMES;
        double off = Math.abs(lnHz - lastLnHz - (starting ? 0 : step));
        if (off > Math.max(starting ? FIRST_JUMP : JUMP, JUMP_BINS / peak)) {
            return false;
        }
        double before = side(sumChannel[0], sumChannel[1]);
        if (frames >= LEAST_FRAMES && Math.abs(side(channelPower[0], channelPower[1]) - before) > SIDE_CHANGE_DB) {
            return false;
        }
        boolean steady = Math.abs(step) < STEADY_GLIDE * hopSeconds * 4;
        return !steady || frames < 3 * RECENT || goesOn(Math.abs(decibels(recentMean(), slow)) < LEVEL_CHANGE_DB);
    }

    private boolean broadContinues() {
        // A single frame of something much louder would make the mean spectrum its own.
        if (Math.abs(decibels(weighted, slow)) > BROAD_STEP_DB) {
            return false;
        }
        if (frames < 2 * RECENT) {
            return true;
        }
        double off = 0;
        for (int b = 0; b < BANDS; b++) {
            off += Math.abs(decibels(recentBands[b], bands[b] / frames)) / BANDS;
        }
        return goesOn(off < SHAPE_CHANGE_DB && Math.abs(decibels(recentMean(), slow)) < BROAD_CHANGE_DB);
    }

    private boolean goesOn(boolean alike) {
        runOn = alike ? 0 : RECENT;
        return alike;
    }

    private static double decibels(double power, double re) {
        return 10 * Math.log10((power + Double.MIN_NORMAL) / (re + Double.MIN_NORMAL));
    }

    private static double side(double one, double other) {
        return Math.max(-ONE_SIDED_DB, Math.min(ONE_SIDED_DB, decibels(one, other)));
    }

    /** Of {@link #RECENT} frames, as soon as there are so many. */
    private double recentMean() {
        double sum = 0;
        for (double each : recent) {
            sum += each;
        }
        return sum / RECENT;
    }

    private void open() {
        line = isLine();
        frames = 0;
        first = frame;
        step = 0;
        slow = 0;
        runOn = 0;
        sumPower = 0;
        sumRest = 0;
        sumX = 0;
        sumY = 0;
        sumXx = 0;
        sumXy = 0;
        Arrays.fill(sumChannel, 0);
        Arrays.fill(spectrum, 0);
        Arrays.fill(bands, 0);
    }

    private void add(PairSpectrum next) {
        double power = line ? linePower : weighted;
        if (frames > 0) {
            step += Math.max(GLIDE_SHARE, 1.0 / frames) * (lnHz - lastLnHz - step);
        }
        lastLnHz = lnHz;
        if (frames < LEAST_FRAMES) {
            edges[frames] = power;
        }
        recent[frames % RECENT] = power;
        frames++;
        double slowShare = Math.max(SLOW_SHARE, 1.0 / frames);
        slow += slowShare * (power - slow);
        sumPower += power;
        sumRest += total - linePower;
        double x = (frame - first) * hopSeconds;
        sumX += x;
        sumY += lnHz;
        sumXx += x * x;
        sumXy += x * lnHz;
        double[] both = next.both();
        for (int k = 1; k < spectrum.length; k++) {
            spectrum[k] += both[k];
        }
        for (int c = 0; c < 2; c++) {
            sumChannel[c] += line ? channelPower[c] : PairSpectrum.sum(next.of(c), 2, both.length - 1);
        }
        if (!line) {
            double low = LOWEST_BAND_HZ / binHz;
            for (int b = 0; b < BANDS; b++, low *= 2) {
                double here = PairSpectrum.sum(both, (int) low, (int) (2 * low) - 1);
                bands[b] += here;
                recentBands[b] = frames == 1 ? here : recentBands[b] + 0.25 * (here - recentBands[b]);
            }
        }
    }

    private void close() {
        Segment segment = frames < LEAST_FRAMES ? null : made();
        frames = 0;
        if (segment != null) {
            if (segments.size() == MOST_SEGMENTS) {
                forgetTheShortest();
            }
            segments.add(segment);
        }
    }

    /** Where a recording has more than can be kept, the shorter half is forgotten. */
    private void forgetTheShortest() {
        double median = segments.stream()
                .mapToDouble(Segment::seconds)
                .sorted()
                .skip(segments.size() / 2)
                .findFirst()
                .orElseThrow();
        segments.removeIf(segment -> segment.seconds() <= median);
    }

    private Segment made() {
        double mean = sumPower / frames;
        int early = 0;
        int late = 0;
        double determinant = frames * sumXx - sumX * sumX;
        double glide = (frames * sumXy - sumX * sumY) / determinant;
        // A frame in whose middle a tone begins has a quarter of its power; of a sweep the level is no guide.
        if (Math.abs(glide) < STEADY_GLIDE || !line) {
            while (early < LEAST_FRAMES - 1 && edges[early] < 0.25 * mean) {
                early++;
            }
            while (late < RECENT - 1 && recent[(frames - 1 - late) % RECENT] < 0.25 * mean) {
                late++;
            }
        }
        late = Math.max(late, runOn);
        double from = firstSeconds + (first + early - 0.5) * hopSeconds;
        double to = firstSeconds + (first + frames - 1 - late + 0.5) * hopSeconds;
        for (int k = 0; k < spectrum.length; k++) {
            spectrum[k] /= frames;
        }
        return new Segment(
                line,
                Math.max(0, from),
                to,
                firstSeconds + first * hopSeconds + sumX / frames,
                sumY / frames,
                glide,
                10 * Math.log10(2 * Math.max(sumChannel[0], sumChannel[1]) / frames + Double.MIN_NORMAL),
                decibels(sumChannel[0], sumChannel[1]),
                decibels(sumRest, sumPower),
                match.judge(spectrum, frames));
    }

    /** All segments so far, the open one included. */
    List<Segment> segments() {
        List<Segment> all = new ArrayList<>(segments);
        if (frames >= LEAST_FRAMES) {
            double[] kept = spectrum.clone();
            all.add(made());
            System.arraycopy(kept, 0, spectrum, 0, kept.length);
        }
        return all;
    }

    void reset() {
        frame = 0;
        frames = 0;
        segments.clear();
    }
}
