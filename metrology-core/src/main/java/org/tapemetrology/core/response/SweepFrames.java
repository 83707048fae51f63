/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import java.util.Arrays;

/**
 * The latest frames of a recording: the spectrum of each in groups of lines no wider than 1/24 octave where there are
 * several lines to it, and the logarithm of its strongest frequency. Frames are numbered from the start of the recording.
 */
final class SweepFrames {
    private static final double GROUP = StrictMath.pow(2, 1 / 24.0);

    /** The strongest group lies anywhere in the band that the sweep passes in a frame: its centre is found in steps. */
    private static final int CENTRINGS = 3;

    /** First line of each group, and the one behind the last group. */
    private final int[] firstLine;

    private final double[][] power;
    private final double[] strongest;
    private final boolean[] overloaded;
    private final int[] searched;
    private final int leastHalf;
    private final double relativeHalf;
    private long end;

    /**
     * Room for frames.
     *
     * @param capacity how many frames are kept
     * @param lines lines of a spectrum, the one of 0 Hz included
     * @param fromLine lowest line at which the strongest frequency is looked for
     * @param toLine highest such line
     * @param leastHalf lines on either side that belong to a tone, at least
     * @param relativeHalf more of them, as a share of the line's number
     */
    SweepFrames(int capacity, int lines, double fromLine, double toLine, int leastHalf, double relativeHalf) {
        int[] firsts = new int[lines];
        int groups = 0;
        for (int line = 1; line < lines; line = Math.max(line + 1, (int) (line * GROUP))) {
            firsts[groups++] = line;
        }
        firsts[groups] = lines;
        this.firstLine = Arrays.copyOf(firsts, groups + 1);
        this.power = new double[capacity][groups];
        this.strongest = new double[capacity];
        this.overloaded = new boolean[capacity];
        this.searched = new int[] {groupFrom(fromLine), groupFrom(toLine)};
        this.leastHalf = leastHalf;
        this.relativeHalf = relativeHalf;
    }

    /** The first group whose centre is not below a line. */
    private int groupFrom(double line) {
        int low = 0;
        int high = firstLine.length - 1;
        while (low < high) {
            int middle = (low + high) / 2;
            if (centre(middle) < line) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return low;
    }

    private double centre(int group) {
        return (firstLine[group] + firstLine[group + 1] - 1) / 2.0;
    }

    private int slot(long frame) {
        return (int) (frame % strongest.length);
    }

    void add(double[] lines, boolean frameOverloaded) {
        int slot = slot(end++);
        double[] groups = power[slot];
        int best = searched[0];
        for (int g = 0; g < groups.length; g++) {
            groups[g] = FrameSpectrum.sum(lines, firstLine[g], firstLine[g + 1] - 1);
            if (g > searched[0] && g < searched[1] && groups[g] > groups[best]) {
                best = g;
            }
        }
        double line = centre(best);
        for (int i = 0; i < CENTRINGS && line > 0; i++) {
            line = centreOfPower(lines, line);
        }
        strongest[slot] = StrictMath.log(line);
        overloaded[slot] = frameOverloaded;
    }

    /** Centre of the power about a line; 0 where there is none. */
    private double centreOfPower(double[] lines, double line) {
        int from = Math.max(1, (int) StrictMath.round(line - halfLines(line)));
        int to = Math.min(lines.length - 1, (int) StrictMath.round(line + halfLines(line)));
        double sum = 0;
        double moment = 0;
        for (int k = from; k <= to; k++) {
            sum += lines[k];
            moment += k * lines[k];
        }
        return sum > 0 ? moment / sum : 0;
    }

    private double halfLines(double line) {
        return leastHalf + relativeHalf * line;
    }

    /** The first frame that is still kept. */
    long first() {
        return Math.max(0, end - strongest.length);
    }

    /** One more than the last frame. */
    long end() {
        return end;
    }

    int capacity() {
        return strongest.length;
    }

    /** Logarithm of the strongest line of a frame, negative infinity where the frame is silent. */
    double strongest(long frame) {
        return strongest[slot(frame)];
    }

    boolean overloaded(long frame) {
        return overloaded[slot(frame)];
    }

    /** Frames after which a sweep that passes a line has left the lines about it, and has not yet come to them before. */
    int framesApart(double line, double slope) {
        double clear = (line + halfLines(line) + leastHalf) / (1 - relativeHalf);
        return (int) Math.ceil(StrictMath.log(clear / line) / slope);
    }

    /** Power about a line. */
    double powerAt(long frame, double line) {
        double half = halfLines(line);
        return sum(power[slot(frame)], groupFrom(line - half), groupFrom(line + half));
    }

    /** Noise among the lines about a line, by as many lines on either side of them. */
    double noiseBeside(long frame, double line) {
        double[] groups = power[slot(frame)];
        double half = halfLines(line);
        int below = groupFrom(line - 2 * half - 1);
        int from = groupFrom(line - half);
        int to = groupFrom(line + half);
        int above = groupFrom(line + 2 * half + 1);
        int beside = firstLine[from] - firstLine[below] + firstLine[above] - firstLine[to];
        double sum = sum(groups, below, from) + sum(groups, to, above);
        return beside == 0 ? 0 : sum / beside * (firstLine[to] - firstLine[from]);
    }

    private static double sum(double[] groups, int from, int to) {
        double sum = 0;
        for (int g = from; g < to; g++) {
            sum += groups[g];
        }
        return sum;
    }

    void copyFrom(SweepFrames other) {
        for (int i = 0; i < power.length; i++) {
            System.arraycopy(other.power[i], 0, power[i], 0, power[i].length);
        }
        System.arraycopy(other.strongest, 0, strongest, 0, strongest.length);
        System.arraycopy(other.overloaded, 0, overloaded, 0, overloaded.length);
        end = other.end;
    }

    void clear() {
        end = 0;
    }
}
