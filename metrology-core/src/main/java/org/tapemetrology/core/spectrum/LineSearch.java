/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Looks for lines in rounds: what the lines found leave is transformed, its noise floor taken, peaks that rise well above
 * the floor are added, and all lines refitted, neighbours jointly, the others in turn. Two that the fit does not tell apart are
 * made one and fitted so before anything else is looked for: what the second was would else rise again in every round. Where
 * such a line still leaves more than noise it counts as the sum of lines that cannot be told, with what it leaves and a
 * resolution width for its uncertainties, and nothing more is looked for in what it leaves. The search ends when nothing
 * rises any more and no line moves.
 */
final class LineSearch implements LineCluster.Residual {
    private static final int ROUNDS = 60;
    /** More than any machine has parts to make them; what has more is no line spectrum. */
    private static final int MOST_LINES = 64;
    /** Lines nearer than this, in resolution widths, are fitted jointly; farther ones overlap by less than 4 %. */
    private static final double JOINT = 8;
    /** Two lines nearer than this are one, unless the fit tells them apart. */
    private static final double SAME = 0.5;
    /** Distance of two lines that are told apart, re the sum of their standard uncertainties, which it has if they are opposite. */
    private static final double CLEARLY_APART = 5;
    /** A line by which so many others were given up, and that still leaves more than noise, has some that are not told from it. */
    private static final int MANY_TWINS = 2;
    /** And so has one to which others come back whatever it leaves. */
    private static final int MOST_TWINS = 4;
    /** To so many widths from a stronger line a peak of the same round, or a line that cannot be told, may be part of it. */
    private static final double MAIN_LOBES = 3;
    /** The points of the spectrum miss a peak by up to 0.9 dB. */
    private static final double SCALLOPING = 0.8;
    /** A peak counts in the same round as a stronger one if it is as many times above the latter's side lobes. */
    private static final double ABOVE_SIDE_LOBES = 4;

    /** No peak below this ratio to the floor can be significant. */
    private static final double LEAST_RATIO = 5;

    /** Ratio to the floor, 20 dB, from which a line that leaves more than noise is tried as a sweep. */
    private static final double UNSTEADY_RATIO = 100;

    private static final int UNSTEADY_TRIES = 6;
    /** Widths around a line in which it should leave noise alone. */
    private static final double CLOSE = 4;
    /** Mean power re the noise that is not by chance: of nine independent points it is above this once in 3000 times. */
    private static final double UNEXPLAINED = 2.5;
    /** Sweep in standard uncertainties. */
    private static final double CLEAR_SWEEP = 5;

    private static final double SETTLED = 0.02;
    /** Density, re that of the record as white noise, below which rounding is all there is: 200 dB down. */
    private static final double ROUNDING = 1e-20;

    private final double[] record;
    private final double rateHz;
    private final double allowed;
    private final double seconds;
    private final double pointsPerWidth;
    private final int first;
    private final int last;
    private final double least;
    private final FalseAlarm falseAlarm;
    private final Fourier fourier;
    private final double[] periodogram;
    private final double[] floorByPoint;
    private final List<Component> components = new ArrayList<>();
    private final List<Double> rejected = new ArrayList<>();
    private NoiseFloor floor;
    private int rounds;

    /**
     * A search, done.
     *
     * @param record relative speed deviation
     * @param rateHz its rate
     * @param lowestHz lower end of the band
     * @param highestHz upper end of the band
     * @param allowed false alarms allowed per record
     */
    LineSearch(double[] record, double rateHz, double lowestHz, double highestHz, double allowed) {
        this.record = record;
        this.rateHz = rateHz;
        this.allowed = allowed;
        this.seconds = record.length / rateHz;
        this.fourier = new Fourier(Fourier.pointsFor(2L * record.length));
        this.pointsPerWidth = (double) fourier.points() / record.length;
        this.first = (int) Math.ceil(lowestHz * seconds * pointsPerWidth);
        this.last = (int) Math.floor(highestHz * seconds * pointsPerWidth);
        this.periodogram = new double[last + 1];
        this.floorByPoint = new double[last + 1];
        this.falseAlarm = new FalseAlarm(lowestHz, highestHz, seconds);
        double sum = 0;
        for (double value : record) {
            sum += value * value;
        }
        this.least = Math.max(Double.MIN_NORMAL, ROUNDING * sum / record.length * 2 / rateHz);
        this.floor = residual();
        search();
    }

    private void search() {
        while (rounds < ROUNDS) {
            rounds++;
            List<Component> added = addPeaks();
            if (components.isEmpty()) {
                return;
            }
            if (!added.isEmpty()) {
                floor = residual();
            }
            double change = refine();
            floor = residual();
            if (mergeTwins()) {
                // Each is fitted alone before anything is looked for in what it left as one of two.
                floor = residual();
                change = Math.max(change, refine());
                floor = residual();
            }
            noteResidues(MANY_TWINS, MOST_TWINS);
            boolean dropped = dropInsignificant();
            boolean swept = sweepUnsteady();
            if (dropped || swept) {
                floor = residual();
            }
            if (swept || components.stream().anyMatch(added::contains)) {
                // What hid behind the new line gets another chance.
                rejected.clear();
            } else if (!dropped && change < SETTLED) {
                break;
            }
        }
        noteResidues(1, Integer.MAX_VALUE);
    }

    /** Transforms what the lines leave, and takes its floor. */
    private NoiseFloor residual() {
        double[] x = fourier.first();
        System.arraycopy(record, 0, x, 0, record.length);
        Arrays.fill(x, record.length, x.length, 0);
        Arrays.fill(fourier.second(), 0);
        for (Component line : components) {
            subtract(line, x);
        }
        Trend.remove(x, record.length);
        fourier.transform();
        double scale = 2 / (rateHz * record.length);
        for (int k = 0; k <= last; k++) {
            periodogram[k] = scale * fourier.firstPower(k);
        }
        NoiseFloor made = new NoiseFloor(periodogram, widthHz() / pointsPerWidth, pointsPerWidth, first, last, least);
        for (int k = first; k <= last; k++) {
            floorByPoint[k] = made.density(k * widthHz() / pointsPerWidth);
        }
        return made;
    }

    private void subtract(Component line, double[] x) {
        double n = record.length;
        double middle = (n - 1) / 2;
        double bend = 2 * Math.PI * line.sweep / (n * n);
        double bendCos = Math.cos(bend);
        double bendSin = Math.sin(bend);
        // The rotation is begun anew now and then, before its rounding adds up.
        for (int from = 0; from < record.length; from += 512) {
            double s = (from - middle) / n;
            double phase = 2 * Math.PI * line.place * s + Math.PI * line.sweep * s * s;
            double step = 2 * Math.PI * (line.place + line.sweep * s) / n + bend / 2;
            double c = Math.cos(phase);
            double d = Math.sin(phase);
            double stepCos = Math.cos(step);
            double stepSin = Math.sin(step);
            int to = Math.min(record.length, from + 512);
            for (int i = from; i < to; i++) {
                x[i] -= line.cosine * c + line.sine * d;
                double next = c * stepCos - d * stepSin;
                d = d * stepCos + c * stepSin;
                c = next;
                if (bend != 0) {
                    next = stepCos * bendCos - stepSin * bendSin;
                    stepSin = stepSin * bendCos + stepCos * bendSin;
                    stepCos = next;
                }
            }
        }
    }

    private double widthHz() {
        return 1 / seconds;
    }

    private List<Component> addPeaks() {
        List<Component> peaks = new ArrayList<>();
        List<Component> unsteady = new ArrayList<>();
        for (int k = first + 1; k < last; k++) {
            double power = periodogram[k];
            if (power > LEAST_RATIO * floorByPoint[k] && power > periodogram[k - 1] && power >= periodogram[k + 1]) {
                double hz = k * widthHz() / pointsPerWidth;
                double freedom = floor.degreesOfFreedom(hz);
                if (rises(hz, power, floorByPoint[k], freedom)) {
                    boolean alone = rises(hz, power, floor.level(hz).density(), freedom);
                    Component peak = new Component(peakPlace(k), re(k), -im(k));
                    if (alone) {
                        peaks.add(peak);
                    } else if (power > UNSTEADY_RATIO * floorByPoint[k]) {
                        unsteady.add(peak);
                    }
                }
            }
        }
        List<Component> added = new ArrayList<>();
        for (Component peak : strongestFirst(peaks)) {
            if (components.size() < MOST_LINES && clear(peak, added)) {
                added.add(peak);
                components.add(peak);
            }
        }
        int tries = UNSTEADY_TRIES;
        for (Component peak : strongestFirst(unsteady)) {
            if (tries > 0 && components.size() < MOST_LINES && clear(peak, added)) {
                tries--;
                Component line = swept(new Component(peak.place, 0, 0));
                if (line == null) {
                    rejected.add(peak.place);
                } else {
                    added.add(line);
                    components.add(line);
                }
            }
        }
        return added;
    }

    private static List<Component> strongestFirst(List<Component> lines) {
        lines.sort(Comparator.comparingDouble(Component::power).reversed());
        return lines;
    }

    /** Whether a peak may be significant, once it is taken at its top and not at the points on both sides. */
    private boolean rises(double hz, double power, double noise, double freedom) {
        return falseAlarm.probability(hz, power / noise / SCALLOPING, freedom) <= allowed;
    }

    /** Lets those lines sweep that leave more than noise around them, if that explains it. */
    private boolean sweepUnsteady() {
        boolean any = false;
        for (int i = 0; i < components.size(); i++) {
            Component line = components.get(i);
            if (!line.sweeping && line.power() > UNSTEADY_RATIO * density(line) * widthHz()) {
                Component replaced = swept(line);
                if (replaced != null) {
                    components.set(i, replaced);
                    any = true;
                }
            }
        }
        return any;
    }

    /** A line with a sweep in place of a steady one, or null where the steady one will do or the sweep will not. */
    private @Nullable Component swept(Component steady) {
        double before = new LineCluster(List.of(steady), this).rest(steady.place, CLOSE);
        if (before < UNEXPLAINED) {
            return null;
        }
        Component line = new Component(steady.place, steady.cosine, steady.sine);
        LineCluster cluster = new LineCluster(List.of(line), this);
        cluster.startSweep();
        double reach = CLOSE + Math.abs(line.sweep) / 2;
        if (cluster.fit() == Double.POSITIVE_INFINITY
                || Math.abs(line.sweep) > LineCluster.REACH
                || Math.abs(line.sweep) < CLEAR_SWEEP * Math.sqrt(line.covariance[3][3])) {
            return null;
        }
        double after = cluster.rest(line.place, reach);
        return after < UNEXPLAINED || after < before / 10 ? line : null;
    }

    private double density(Component line) {
        return floor.density(line.place * widthHz());
    }

    private double peakPlace(int k) {
        double a = Math.sqrt(periodogram[k - 1]);
        double b = Math.sqrt(periodogram[k]);
        double c = Math.sqrt(periodogram[k + 1]);
        double bend = a - 2 * b + c;
        return (k + (bend < 0 ? (a - c) / (2 * bend) : 0)) / pointsPerWidth;
    }

    private boolean clear(Component peak, List<Component> added) {
        for (double place : rejected) {
            if (Math.abs(place - peak.place) < SAME) {
                return false;
            }
        }
        for (Component stronger : added) {
            if (withinLobes(peak, stronger.place, stronger.power())) {
                return false;
            }
        }
        for (Component line : components) {
            if (line.residue > 0 && withinLobes(peak, line.place, line.residue * line.residue / 2)) {
                return false;
            }
        }
        return true;
    }

    private static boolean withinLobes(Component peak, double place, double power) {
        double distance = Math.abs(place - peak.place);
        double sideLobes = power / (Math.PI * Math.PI * distance * distance);
        return distance < MAIN_LOBES || peak.power() < ABOVE_SIDE_LOBES * sideLobes;
    }

    private double refine() {
        components.sort(Comparator.comparingDouble(line -> line.place));
        double change = 0;
        List<Component> failed = new ArrayList<>();
        for (int from = 0, to; from < components.size(); from = to) {
            to = from + 1;
            while (to < components.size() && components.get(to).place - components.get(to - 1).place < JOINT) {
                to++;
            }
            List<Component> cluster = components.subList(from, to);
            double moved = new LineCluster(cluster, this).fit();
            if (moved == Double.POSITIVE_INFINITY) {
                failed.add(weakest(cluster));
            }
            change = Math.max(change, moved);
        }
        for (Component line : failed) {
            reject(line);
        }
        return change;
    }

    private static Component weakest(List<Component> lines) {
        Component weakest = lines.get(0);
        for (Component line : lines) {
            if (line.power() < weakest.power()) {
                weakest = line;
            }
        }
        return weakest;
    }

    private void reject(Component line) {
        components.remove(line);
        rejected.add(line.place);
    }

    /** Makes one of two lines that are nearer than {@link #SAME} where the fit does not tell them apart. */
    private boolean mergeTwins() {
        components.sort(Comparator.comparingDouble(line -> line.place));
        boolean any = false;
        for (int i = components.size() - 1; i > 0; i--) {
            Component upper = components.get(i);
            Component lower = components.get(i - 1);
            double apart = upper.place - lower.place;
            double uncertainty = Math.sqrt(upper.covariance[2][2]) + Math.sqrt(lower.covariance[2][2]);
            if (apart < SAME && !(apart > CLEARLY_APART * uncertainty)) {
                Component weaker = upper.power() < lower.power() ? upper : lower;
                (weaker == upper ? lower : upper).take(weaker);
                components.remove(weaker);
                any = true;
            }
        }
        return any;
    }

    /**
     * Of lines that took others in: the amplitude of what is left by them, where that is more than noise.
     *
     * @param least from how many others on
     * @param most beyond how many others more than noise is taken for granted
     */
    private void noteResidues(int least, int most) {
        for (Component line : components) {
            if (line.twins >= least) {
                double rest = new LineCluster(List.of(line), this).rest(line.place, CLOSE);
                // By Parseval's theorem the sum over the widths, each of which has twice the variance of either part.
                double squares = Math.max(1, rest - 1) * 2 * density(line) * widthHz() * 2 * CLOSE;
                line.residue = rest > UNEXPLAINED || line.twins > most ? Math.sqrt(squares) : 0;
            }
        }
    }

    /**
     * Drops lines that are not significant; of neighbours that explain each other only the least significant, after
     * which the others may be.
     */
    private boolean dropInsignificant() {
        List<Component> dropped = new ArrayList<>();
        Component latest = null;
        for (Component line : components) {
            boolean inside = line.place * pointsPerWidth >= first && line.place * pointsPerWidth <= last;
            if (inside && probability(line, floor.level(line.place * widthHz())) <= allowed) {
                continue;
            }
            if (latest == null || line.place - latest.place >= JOINT) {
                dropped.add(line);
                latest = line;
            } else if (line.power() / line.amplitudeVariance() < latest.power() / latest.amplitudeVariance()) {
                dropped.set(dropped.size() - 1, line);
                latest = line;
            }
        }
        for (Component line : dropped) {
            reject(line);
            // What is too weak to be told from a line within its width may still be there.
            for (Component other : components) {
                if (Math.abs(other.place - line.place) < 1) {
                    other.twins = Math.max(other.twins, line.twins) + 1;
                }
            }
        }
        return !dropped.isEmpty();
    }

    private double probability(Component line, NoiseFloor.Level level) {
        return falseAlarm.probability(line.place * widthHz(), ratio(line, level), level.degreesOfFreedom());
    }

    /** The peak that the line would make over the noise if it were alone; less for what neighbours may explain of it. */
    private double ratio(Component line, NoiseFloor.Level level) {
        double hz = line.place * widthHz();
        return line.power() / line.amplitudeVariance() * floor.density(hz) / level.density();
    }

    /** Rounds that it took. */
    int rounds() {
        return rounds;
    }

    /** The noise that the lines leave. */
    NoiseFloor floor() {
        return floor;
    }

    List<Line> lines() {
        components.sort(Comparator.comparingDouble(line -> line.place));
        List<Line> lines = new ArrayList<>();
        for (Component line : components) {
            NoiseFloor.Level level = floor.level(line.place * widthHz());
            double excess = level.density() / floor.density(line.place * widthHz());
            double noise = level.density() * widthHz();
            // Lines that are not told apart are known to a resolution width to either side, all of it alike.
            double within = line.residue > 0 ? 1.0 / 3 : 0;
            double residue = line.residue * line.residue;
            lines.add(new Line(
                    line.place * widthHz(),
                    line.amplitude(),
                    line.phase(),
                    Math.sqrt(excess * line.covariance[2][2] + within) * widthHz(),
                    Math.sqrt(excess * line.amplitudeVariance() + residue),
                    Math.sqrt(excess * line.phaseVariance() + residue / (2 * line.power())),
                    line.sweep * widthHz() * widthHz(),
                    Math.sqrt(excess * line.covariance[3][3]) * widthHz() * widthHz(),
                    level.density(),
                    level.degreesOfFreedom(),
                    10 * Math.log10(line.power() / noise),
                    probability(line, level)));
        }
        return List.copyOf(lines);
    }

    @Override
    public int samples() {
        return record.length;
    }

    @Override
    public double pointsPerWidth() {
        return pointsPerWidth;
    }

    @Override
    public int firstPoint() {
        return first;
    }

    @Override
    public int lastPoint() {
        return last;
    }

    @Override
    public double re(int point) {
        return rotated(point, true);
    }

    @Override
    public double im(int point) {
        return rotated(point, false);
    }

    /** The transform runs from the first sample; the middle is half the record later. */
    private double rotated(int k, boolean real) {
        long turns = (long) k * (record.length - 1) % (2L * fourier.points());
        double angle = Math.PI * turns / fourier.points();
        double c = Math.cos(angle);
        double s = Math.sin(angle);
        double re = fourier.firstRe(k);
        double im = fourier.firstIm(k);
        return (real ? re * c - im * s : re * s + im * c) * 2 / record.length;
    }

    @Override
    public double variance(int point) {
        return floorByPoint[point] * widthHz();
    }
}
