/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.Iterator;
import java.util.List;
import org.tapemetrology.core.spectrum.LineCluster.Component;

/**
 * Looks for lines in rounds: what the lines found leave is transformed, its noise floor taken, peaks that rise well above
 * the floor are added, and all lines refitted, neighbours jointly, the others in turn. It ends when nothing rises any more
 * and no line moves.
 */
final class LineSearch implements LineCluster.Residual {
    private static final int ROUNDS = 60;
    /** More than any machine has parts to make them; what has more is no line spectrum. */
    private static final int MOST_LINES = 64;
    /** Lines nearer than this, in resolution widths, are fitted jointly; farther ones overlap by less than 4 %. */
    private static final double JOINT = 8;
    /** Two lines nearer than this are one. */
    private static final double SAME = 0.5;
    /** The points of the spectrum miss a peak by up to 0.9 dB. */
    private static final double SCALLOPING = 0.8;
    /** A peak counts in the same round as a stronger one if it is as many times above the latter's side lobes. */
    private static final double ABOVE_SIDE_LOBES = 4;

    /** No peak below this ratio to the floor can be significant. */
    private static final double LEAST_RATIO = 5;

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
        for (int round = 0; round < ROUNDS; round++) {
            List<Component> added = addPeaks();
            if (components.isEmpty()) {
                return;
            }
            if (!added.isEmpty()) {
                floor = residual();
            }
            double change = refine();
            floor = residual();
            boolean dropped = dropInsignificant();
            if (dropped) {
                floor = residual();
            }
            if (components.stream().anyMatch(added::contains)) {
                // What hid behind the new line gets another chance.
                rejected.clear();
            } else if (!dropped && change < SETTLED) {
                return;
            }
        }
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
        double perSample = 2 * Math.PI * line.place / record.length;
        double middle = (record.length - 1) / 2.0;
        double stepCos = Math.cos(perSample);
        double stepSin = Math.sin(perSample);
        // The rotation is begun anew now and then, before its rounding adds up.
        for (int from = 0; from < record.length; from += 512) {
            double c = Math.cos(perSample * (from - middle));
            double s = Math.sin(perSample * (from - middle));
            int to = Math.min(record.length, from + 512);
            for (int n = from; n < to; n++) {
                x[n] -= line.cosine * c + line.sine * s;
                double next = c * stepCos - s * stepSin;
                s = s * stepCos + c * stepSin;
                c = next;
            }
        }
    }

    private double widthHz() {
        return 1 / seconds;
    }

    private List<Component> addPeaks() {
        List<Component> peaks = new ArrayList<>();
        for (int k = first + 1; k < last; k++) {
            double power = periodogram[k];
            if (power > periodogram[k - 1] && power >= periodogram[k + 1] && promising(k)) {
                peaks.add(new Component(peakPlace(k), re(k), -im(k)));
            }
        }
        peaks.sort(Comparator.comparingDouble(Component::power).reversed());
        List<Component> added = new ArrayList<>();
        for (Component peak : peaks) {
            if (components.size() == MOST_LINES) {
                break;
            }
            if (clear(peak, added)) {
                added.add(peak);
                components.add(peak);
            }
        }
        return added;
    }

    private boolean promising(int k) {
        if (periodogram[k] < LEAST_RATIO * floorByPoint[k]) {
            return false;
        }
        double hz = k * widthHz() / pointsPerWidth;
        double freedom = floor.degreesOfFreedom(hz);
        return falseAlarm.probability(hz, periodogram[k] / floorByPoint[k] / SCALLOPING, freedom) <= allowed
                && falseAlarm.probability(hz, periodogram[k] / floor.level(hz).density() / SCALLOPING, freedom)
                        <= allowed;
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
            double distance = Math.abs(stronger.place - peak.place);
            double sideLobes = stronger.power() / (Math.PI * Math.PI * distance * distance);
            if (distance < 3 || peak.power() < ABOVE_SIDE_LOBES * sideLobes) {
                return false;
            }
        }
        return true;
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
        mergeTwins();
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

    private void mergeTwins() {
        components.sort(Comparator.comparingDouble(line -> line.place));
        for (int i = components.size() - 1; i > 0; i--) {
            Component upper = components.get(i);
            Component lower = components.get(i - 1);
            if (upper.place - lower.place < SAME) {
                components.remove(upper.power() < lower.power() ? upper : lower);
            }
        }
    }

    private boolean dropInsignificant() {
        boolean dropped = false;
        Iterator<Component> lines = components.iterator();
        while (lines.hasNext()) {
            Component line = lines.next();
            double hz = line.place * widthHz();
            boolean outside = !(line.place * pointsPerWidth >= first && line.place * pointsPerWidth <= last);
            if (outside || !(probability(line, floor.level(hz)) <= allowed)) {
                rejected.add(line.place);
                lines.remove();
                dropped = true;
            }
        }
        return dropped;
    }

    private double probability(Component line, NoiseFloor.Level level) {
        return falseAlarm.probability(line.place * widthHz(), ratio(line, level), level.degreesOfFreedom());
    }

    /** The peak that the line would make over the noise if it were alone; less for what neighbours may explain of it. */
    private double ratio(Component line, NoiseFloor.Level level) {
        double hz = line.place * widthHz();
        return line.power() / line.amplitudeVariance() * floor.density(hz) / level.density();
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
            lines.add(new Line(
                    line.place * widthHz(),
                    line.amplitude(),
                    Math.atan2(-line.sine, line.cosine),
                    Math.sqrt(excess * line.covariance[2][2]) * widthHz(),
                    Math.sqrt(excess * line.amplitudeVariance()),
                    Math.sqrt(excess * line.phaseVariance()),
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
