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
    /** Of the series within a cell, where the phase of the fastest line moves by less than 0.8 rad: 0.8^17/17! = 6e-17. */
    private static final int DEGREE = 17;

    private final double rms;
    private final List<SinusoidalDeviation> lines;
    private final int cellsPerSecond;
    private final double integralAtZero;
    private @Nullable Cell latest;

    private RandomDeviation(double rms, List<SinusoidalDeviation> lines, double highestHz) {
        this.rms = rms;
        this.lines = List.copyOf(lines);
        // A power of two, so that the place within a cell is exact; four cells per period of the fastest line.
        this.cellsPerSecond = Integer.highestOneBit((int) Math.ceil(4 * highestHz)) << 1;
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

    private Cell cell(long wholeSeconds, double fraction) {
        int number = (int) (fraction * cellsPerSecond);
        Cell known = latest;
        if (known != null && known.wholeSeconds == wholeSeconds && known.number == number) {
            return known;
        }
        // Two threads may each make the cell; both make the same, and all its fields are final.
        Cell made = new Cell(lines, wholeSeconds, number, cellsPerSecond);
        latest = made;
        return made;
    }

    private interface Scale {
        double rate(double place);
    }

    /** The integral as a power series about the middle of a short time, so that a sample does not cost a sine per line. */
    private static final class Cell {
        final long wholeSeconds;
        final int number;
        final double middle;
        final double half;
        final double[] series = new double[DEGREE + 1];

        Cell(List<SinusoidalDeviation> lines, long wholeSeconds, int number, int cellsPerSecond) {
            this.wholeSeconds = wholeSeconds;
            this.number = number;
            this.half = 0.5 / cellsPerSecond;
            this.middle = (2.0 * number + 1) * half;
            for (SinusoidalDeviation line : lines) {
                add(line);
            }
        }

        private void add(SinusoidalDeviation line) {
            double angular = Cycles.TWO_PI * line.rateHz();
            double angle = Cycles.TWO_PI * Cycles.of(line.rateHz(), wholeSeconds, middle) + line.phase();
            // Derivatives of -cos: sin, cos, -sin, -cos, and round again.
            double even = -Math.cos(angle);
            double odd = Math.sin(angle);
            double scale = line.peak() / angular;
            double step = angular * half;
            for (int power = 0; power <= DEGREE; power += 2) {
                series[power] += scale * even;
                scale *= step / (power + 1);
                series[power + 1] += scale * odd;
                scale *= step / (power + 2);
                even = -even;
                odd = -odd;
            }
        }

        double integral(double fraction) {
            double x = (fraction - middle) / half;
            double sum = 0;
            for (int power = DEGREE; power >= 0; power--) {
                sum = sum * x + series[power];
            }
            return sum;
        }

        double deviation(double fraction) {
            double x = (fraction - middle) / half;
            double sum = 0;
            for (int power = DEGREE; power >= 1; power--) {
                sum = sum * x + power * series[power];
            }
            return sum / half;
        }
    }
}
