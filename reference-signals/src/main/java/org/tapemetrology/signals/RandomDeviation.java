/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.signals.internal.Require;

/**
 * A band-limited random speed deviation: the sum of many sinusoidal deviations of equal power, one at a random place in
 * each of as many cells of the band, with random phases. Cells of equal width give a flat power spectrum, cells of equal
 * ratio a power spectrum that falls as 1/f. Its RMS over a long time is exact; by the number of lines it is nearly
 * Gaussian. The same seed gives the same deviation.
 *
 * <p>Immutable but for a cache whose content is a function of time alone; may be shared between threads.
 *
 * <p>Rates are in Hz, RMS and values are ratios. Bands and RMS values that are NaN or out of range are refused with
 * an {@link IllegalArgumentException}.
 */
public final class RandomDeviation implements Deviation {
    private static final int DEFAULT_LINES = 256;

    private final double rms;
    private final List<SinusoidalDeviation> lines;
    private final List<Band> bands;
    private final int cellsPerSecond;
    private final double integralAtZero;
    private @Nullable Cell latest;

    private RandomDeviation(double rms, List<SinusoidalDeviation> lines, double highestHz) {
        this.rms = rms;
        this.lines = List.copyOf(lines);
        this.cellsPerSecond = LineSeries.cellsPerSecond(highestHz);
        this.bands = bands(this.lines, cellsPerSecond);
        double sum = 0;
        for (SinusoidalDeviation line : lines) {
            sum += line.peak() / (Cycles.TWO_PI * line.rateHz()) * Math.cos(line.phase());
        }
        this.integralAtZero = sum;
    }

    /**
     * A deviation of flat power spectrum.
     *
     * @param seed start of the random numbers
     * @param lowestHz lower limit of the band, above 0
     * @param highestHz upper limit of the band, above the lower one and at most 10 kHz
     * @param rms RMS value, a ratio
     * @return the deviation
     */
    public static RandomDeviation flat(long seed, double lowestHz, double highestHz, double rms) {
        return flat(seed, lowestHz, highestHz, rms, DEFAULT_LINES);
    }

    /**
     * A deviation of flat power spectrum with a stated number of lines.
     *
     * @param seed start of the random numbers
     * @param lowestHz lower limit of the band, above 0
     * @param highestHz upper limit of the band, above the lower one and at most 10 kHz
     * @param rms RMS value, a ratio
     * @param lineCount number of sinusoidal deviations, 8 to 65536
     * @return the deviation
     */
    public static RandomDeviation flat(long seed, double lowestHz, double highestHz, double rms, int lineCount) {
        check(lowestHz, highestHz, rms, lineCount);
        double width = (highestHz - lowestHz) / lineCount;
        return make(seed, rms, lineCount, highestHz, place -> lowestHz + place * width);
    }

    /**
     * A deviation whose power spectrum falls as 1/f, as that of many machines does.
     *
     * @param seed start of the random numbers
     * @param lowestHz lower limit of the band, above 0
     * @param highestHz upper limit of the band, above the lower one and at most 10 kHz
     * @param rms RMS value, a ratio
     * @return the deviation
     */
    public static RandomDeviation falling(long seed, double lowestHz, double highestHz, double rms) {
        return falling(seed, lowestHz, highestHz, rms, DEFAULT_LINES);
    }

    /**
     * A deviation whose power spectrum falls as 1/f, with a stated number of lines.
     *
     * @param seed start of the random numbers
     * @param lowestHz lower limit of the band, above 0
     * @param highestHz upper limit of the band, above the lower one and at most 10 kHz
     * @param rms RMS value, a ratio
     * @param lineCount number of sinusoidal deviations, 8 to 65536
     * @return the deviation
     */
    public static RandomDeviation falling(long seed, double lowestHz, double highestHz, double rms, int lineCount) {
        check(lowestHz, highestHz, rms, lineCount);
        double octaves = StrictMath.log(highestHz / lowestHz) / lineCount;
        return make(seed, rms, lineCount, highestHz, place -> lowestHz * StrictMath.exp(place * octaves));
    }

    /**
     * RMS value over a long time.
     *
     * @return the RMS value, a ratio
     */
    public double rms() {
        return rms;
    }

    /**
     * The sinusoidal deviations whose sum this is.
     *
     * @return the lines, by rising rate
     */
    public List<SinusoidalDeviation> lines() {
        return lines;
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        return cell(wholeSeconds, fraction).deviation(fraction);
    }

    @Override
    public double integralTo(long wholeSeconds, double fraction) {
        return integralAtZero + cell(wholeSeconds, fraction).integral(fraction);
    }

    private static void check(double lowestHz, double highestHz, double rms, int lineCount) {
        Require.within("upper limit of the band in Hz", highestHz, Double.MIN_VALUE, 10_000);
        Require.positive("lower limit of the band in Hz", lowestHz);
        Require.that(
                lowestHz < highestHz,
                "lower limit of the band is " + lowestHz + " Hz, allowed: below the upper one, " + highestHz + " Hz");
        Require.within("RMS relative deviation", rms, 0, 0.5);
        Require.within("number of lines", lineCount, 8, 65_536);
    }

    private static RandomDeviation make(long seed, double rms, int count, double highestHz, Scale scale) {
        CounterRandom places = CounterRandom.of(seed);
        CounterRandom phases = places.stream(1);
        double peak = rms * Math.sqrt(2.0 / count);
        List<SinusoidalDeviation> lines = new ArrayList<>(count);
        for (int i = 0; i < count; i++) {
            double rate = scale.rate(i + places.uniform(i));
            lines.add(new SinusoidalDeviation(rate, peak, Cycles.TWO_PI * phases.uniform(i)));
        }
        return new RandomDeviation(rms, lines, highestHz);
    }

    /** Lines of an octave or so each: slow ones need a series less often. */
    private static List<Band> bands(List<SinusoidalDeviation> lines, int cellsPerSecond) {
        List<Band> bands = new ArrayList<>();
        int from = 0;
        while (from < lines.size()) {
            int cells = Math.min(
                    cellsPerSecond, LineSeries.cellsPerSecond(lines.get(from).rateHz()));
            int to = from + 1;
            while (to < lines.size()
                    && (cells == cellsPerSecond
                            || LineSeries.cellsPerSecond(lines.get(to).rateHz()) == cells)) {
                to++;
            }
            bands.add(new Band(new LineSeries(lines.subList(from, to), cells), cellsPerSecond / cells));
            from = to;
        }
        return List.copyOf(bands);
    }

    private Cell cell(long wholeSeconds, double fraction) {
        int number = (int) (fraction * cellsPerSecond);
        Cell known = latest;
        if (known != null && known.wholeSeconds == wholeSeconds && known.number == number) {
            return known;
        }
        // Two threads may each make the cell; both make the same, and all its fields are final.
        Cell made = new Cell(bands, known, wholeSeconds, number, cellsPerSecond);
        latest = made;
        return made;
    }

    private interface Scale {
        double rate(double place);
    }

    /** Lines with series of their own, each of which lasts as long as so many of the shortest. */
    private record Band(LineSeries lines, int cells) {}

    /** The integral of all lines during a short time, so that a sample does not cost a sine per line. */
    private static final class Cell {
        final long wholeSeconds;
        final int number;
        final double middle;
        final double half;
        final PowerSeries[] parts;
        final PowerSeries sum;

        Cell(List<Band> bands, @Nullable Cell before, long wholeSeconds, int number, int cellsPerSecond) {
            this.wholeSeconds = wholeSeconds;
            this.number = number;
            this.half = 0.5 / cellsPerSecond;
            this.middle = (2.0 * number + 1) * half;
            this.parts = new PowerSeries[bands.size()];
            PowerSeries all = PowerSeries.zero();
            for (int i = 0; i < parts.length; i++) {
                Band band = bands.get(i);
                int cells = band.cells();
                if (before != null && before.wholeSeconds == wholeSeconds && before.number / cells == number / cells) {
                    parts[i] = before.parts[i];
                } else {
                    parts[i] = band.lines().integral(wholeSeconds, number / cells);
                }
                // Places within the long cell: its middle is 0, its ends are -1 and 1.
                double place = (2.0 * (number % cells) + 1) / cells - 1;
                all = all.plus(parts[i].part(place, 1.0 / cells));
            }
            this.sum = all;
        }

        double integral(double fraction) {
            return sum.at((fraction - middle) / half);
        }

        double deviation(double fraction) {
            return sum.slopeAt((fraction - middle) / half) / half;
        }
    }
}
