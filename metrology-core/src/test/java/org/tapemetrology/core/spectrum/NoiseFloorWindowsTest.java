/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The floor of powers that do not scatter. The median of n exponentially distributed powers of mean 1 is ln 2 + 1/(2n), so
 * powers that are all 1 have a floor of 1/(ln 2 + 1/(2n)), n being the width of the window in resolution widths.
 */
class NoiseFloorWindowsTest {
    private static final int WIDTHS = 4000;
    /** Resolution widths of 0.02 Hz, with several points each. */
    private static final double WIDTH_HZ = 0.02;

    private static NoiseFloor floor(int pointsPerWidth, int firstWidth, DoubleUnaryOperator density) {
        double spacing = WIDTH_HZ / pointsPerWidth;
        double[] powers = new double[WIDTHS * pointsPerWidth + 1];
        for (int i = 1; i < powers.length; i++) {
            powers[i] = density.applyAsDouble(i * spacing);
        }
        return new NoiseFloor(
                powers, spacing, pointsPerWidth, firstWidth * pointsPerWidth, WIDTHS * pointsPerWidth, 1e-30);
    }

    private static double meanFor(double widths) {
        return 1 / (Math.log(2) + 0.5 / widths);
    }

    /** An octave to either side, 300 widths at most, thirty in all at least; cut off at the ends of the band. */
    private static double widthsAt(double place, int firstWidth) {
        double from = Math.max(firstWidth, Math.max(place / 2, place - 300));
        double to = Math.min(WIDTHS, Math.min(place * 2, place + 300));
        return Math.max(30, to - from);
    }

    /**
     * Powers that follow f^s are levelled by a slope that is found exactly, so that the floor is theirs; only at the ends the
     * slope is that of lopsided windows. To 1 %, for the floor is interpolated between nodes.
     */
    @ParameterizedTest
    @CsvSource({"1, 0", "4, 0", "1, -1", "4, -1", "4, -2", "4, 1"})
    void powersOfTheFrequencyAreFollowed(int pointsPerWidth, double slope) {
        NoiseFloor floor = floor(pointsPerWidth, 10, f -> 3 * Math.pow(f, slope));
        for (double place : new double[] {100, 150, 220, 500, 1000, 1700, 2500, 3400}) {
            double hz = place * WIDTH_HZ;
            double expected = 3 * Math.pow(hz, slope) * meanFor(widthsAt(place, 10));
            assertThat(floor.density(hz) / expected).as("%s widths", place).isCloseTo(1, within(0.01));
        }
    }

    /** A median counts 2 (ln 2)^2 degrees of freedom a width. */
    @ParameterizedTest
    @ValueSource(ints = {1, 4})
    void degreesOfFreedomCountTheWidths(int pointsPerWidth) {
        NoiseFloor floor = floor(pointsPerWidth, 10, f -> 1);
        for (double place : new double[] {10, 60, 120, 200, 400, 1000, 3000, 3900, 4000}) {
            double expected = 2 * Math.pow(Math.log(2), 2) * widthsAt(place, 10);
            // Nodes stand up to 75 widths apart, and between them it is a straight line.
            assertThat(floor.degreesOfFreedom(place * WIDTH_HZ))
                    .as("%s widths", place)
                    .isCloseTo(expected, within(0.06 * expected));
        }
        // Up to the first node and from the last one on it is theirs.
        assertThat(floor.density(0.01)).isEqualTo(floor.density(10 * WIDTH_HZ));
        assertThat(floor.density(500)).isEqualTo(floor.density(WIDTHS * WIDTH_HZ));
    }

    /** The median itself, of odd and even numbers of powers in any order: all within one window of a fifth of an octave. */
    @ParameterizedTest
    @ValueSource(ints = {20, 21, 28, 29})
    void theMedianIsThatOfThePowers(int points) {
        Random random = new Random(points);
        for (int trial = 0; trial < 20; trial++) {
            double[] powers = new double[200];
            double[] sorted = new double[points];
            for (int i = 0; i < points; i++) {
                powers[100 + i] = trial % 4 == 3 ? random.nextInt(4) : random.nextDouble();
                sorted[i] = powers[100 + i];
            }
            Arrays.sort(sorted);
            double median = (sorted[(points - 1) / 2] + sorted[points / 2]) / 2;
            NoiseFloor floor = new NoiseFloor(powers, 0.5, 1, 100, 99 + points, 1e-30);
            assertThat(floor.density(52)).isCloseTo(Math.max(1e-30, median * meanFor(points)), within(1e-12));
        }
    }

    @Test
    void aBandOfOnePointHasItsPower() {
        NoiseFloor floor = new NoiseFloor(new double[] {0, 0, 0, 5, 0}, 0.5, 1, 3, 3, 1e-30);
        assertThat(floor.density(1.5)).isCloseTo(5 * meanFor(1), within(1e-12));
        assertThat(floor.degreesOfFreedom(1.5)).isZero();
        assertThat(floor.density(99)).isCloseTo(5 * meanFor(1), within(1e-12));
    }

    /**
     * A step of more than 1.6 parts a window that would hold both sides: it counts half the widths. One of less does not, nor
     * does one within 60 widths of the window's end.
     */
    @ParameterizedTest
    @CsvSource({"1, 1.5, 600", "4, 1.5, 600", "1, 1.7, 300", "4, 1.7, 300", "4, 0.63, 600", "4, 0.6, 300"})
    void aStepPartsTheWindow(int pointsPerWidth, double ratio, double widths) {
        // Nodes stand 75 widths apart from here on: this is one.
        double step = nodeAt(pointsPerWidth);
        NoiseFloor floor = floor(pointsPerWidth, 10, f -> f < step - WIDTH_HZ / 8 ? 1 : ratio);
        assertThat(floor.degreesOfFreedom(step)).isCloseTo(2 * Math.pow(Math.log(2), 2) * widths, within(6.0));
        // Far off on either side it is that of its side.
        assertThat(floor.density(step - 310 * WIDTH_HZ)).isCloseTo(meanFor(600), within(0.003));
        assertThat(floor.density(step + 310 * WIDTH_HZ)).isCloseTo(ratio * meanFor(600), within(0.003 * ratio));
        if (widths == 300) {
            // 60 widths off the step the floor is still that of the side.
            assertThat(floor.density(step - 80 * WIDTH_HZ)).isCloseTo(meanFor(400), within(0.003));
            assertThat(floor.density(step + 80 * WIDTH_HZ)).isCloseTo(ratio * meanFor(400), within(0.003 * ratio));
        }
    }

    /** A node beyond 2000 widths: they rise by a fifth up to 375 widths, then by 75. */
    private static double nodeAt(int pointsPerWidth) {
        double spacing = WIDTH_HZ / pointsPerWidth;
        double hz = 10 * pointsPerWidth * spacing;
        while (hz < 2000 * WIDTH_HZ) {
            hz = Math.min(hz * 1.2, hz + 300.0 * pointsPerWidth * spacing / 4);
        }
        return hz;
    }

    /**
     * A bump of 100 widths from 2000 on, ten times as high, which the floor does not follow: the median of 48 neighbours, from 2
     * widths off, is that of the bump where more than half of them stand in it.
     */
    @ParameterizedTest
    @CsvSource({
        "1, 1970, false",
        "4, 1970, false",
        "1, 1980, true",
        "4, 1980, true",
        "4, 1996, true",
        "4, 2050, true",
        "1, 2110, true",
        "1, 2120, true",
        "4, 2120, true",
        "1, 2130, false",
        "4, 2130, false"
    })
    void aBumpGuardsWhatStandsBesideIt(int pointsPerWidth, double place, boolean guarded) {
        NoiseFloor floor = floor(pointsPerWidth, 10, f -> f > 1999.9 * WIDTH_HZ && f < 2100.1 * WIDTH_HZ ? 10 : 1);
        double hz = place * WIDTH_HZ;
        assertThat(floor.density(hz)).isCloseTo(meanFor(600), within(0.005));
        NoiseFloor.Level level = floor.level(hz);
        if (guarded) {
            // Of 48 widths, or of the nearest 12, of which the median counts for less.
            assertThat(level.density()).isBetween(9.9 * meanFor(12), 10.05 * meanFor(48.25));
            assertThat(level.degreesOfFreedom()).isEqualTo(30);
        } else {
            assertThat(level.density()).isEqualTo(floor.density(hz));
            assertThat(level.degreesOfFreedom()).isEqualTo(floor.degreesOfFreedom(hz));
        }
    }

    /** 48 neighbours guard where they are 1.8 times as high as the floor, the nearest 12 where they are 3 times as high. */
    @ParameterizedTest
    @CsvSource({"100, 1.78, false", "100, 1.88, true", "20, 3.1, false", "20, 3.35, true", "5, 9, false"})
    void howHighABumpHasToBe(double widths, double height, boolean guarded) {
        double from = 2000;
        NoiseFloor floor =
                floor(4, 10, f -> f > (from - 0.1) * WIDTH_HZ && f < (from + widths + 0.1) * WIDTH_HZ ? height : 1);
        double hz = (from - 3) * WIDTH_HZ;
        assertThat(floor.level(hz).density() > floor.density(hz)).isEqualTo(guarded);
        double above = (from + widths + 3) * WIDTH_HZ;
        assertThat(floor.level(above).density() > floor.density(above)).isEqualTo(guarded);
    }

    /** At the ends of the band neighbours count where three quarters of them have room. */
    @ParameterizedTest
    @CsvSource({"37, false", "40, true"})
    void atTheEndsFewerNeighboursDo(double off, boolean guarded) {
        int first = 1000;
        NoiseFloor floor = floor(4, first, f -> f < (first + 30) * WIDTH_HZ || f > (WIDTHS - 30) * WIDTH_HZ ? 2.5 : 1);
        double low = (first + off) * WIDTH_HZ;
        assertThat(floor.level(low).degreesOfFreedom() == 30).isEqualTo(guarded);
        double high = (WIDTHS - off) * WIDTH_HZ;
        assertThat(floor.level(high).degreesOfFreedom() == 30).isEqualTo(guarded);
    }
}
