/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The shape of a line against the sums and integrals that define it, its derivatives against differences. */
class LineShapeTest {
    private static final int POINTS = 9;
    private static final int SAMPLES = 400;
    private static final double FIRST = 17.25;
    private static final double SPACING = 0.5;

    private static LineShape shape(double place, double sweep) {
        LineShape shape = new LineShape(POINTS);
        shape.take(place, sweep, FIRST, SPACING, SAMPLES);
        return shape;
    }

    /** The mean of {@code cos(2 pi w (n - (N - 1)/2)/N)} over N samples. */
    private static double ofSteady(double widths) {
        double sum = 0;
        for (int n = 0; n < SAMPLES; n++) {
            sum += Math.cos(2 * Math.PI * widths * (n - (SAMPLES - 1) / 2.0) / SAMPLES);
        }
        return sum / SAMPLES;
    }

    @ParameterizedTest
    @CsvSource({"19, 0", "17.25, 0", "18.0001, 0", "19, 0.7", "20.3, -3"})
    void valuesAreThoseOfTheirDefinition(double place, double sweep) {
        LineShape shape = shape(place, sweep);
        int steps = 20_000;
        for (int i = 0; i < POINTS; i++) {
            double at = FIRST + i * SPACING;
            assertThat(shape.image[i]).isCloseTo(ofSteady(place + at), within(1e-12));
            double re = sweep == 0 ? ofSteady(place - at) : 0;
            double im = 0;
            for (int n = 0; n < steps && sweep != 0; n++) {
                double s = (n + 0.5) / steps - 0.5;
                double angle = 2 * Math.PI * ((place - at) * s + sweep * s * s / 2);
                re += Math.cos(angle) / steps;
                im += Math.sin(angle) / steps;
            }
            // 20 000 middles of a phase of up to 20 rad: (20/20 000)^2/24.
            assertThat(shape.re[i]).isCloseTo(re, within(1e-7));
            assertThat(shape.im[i]).isCloseTo(im, within(1e-7));
        }
    }

    @ParameterizedTest
    @CsvSource({"19, 0", "17.25, 0", "18.75001, 0", "19, 0.7", "20.3, -3"})
    void derivativesAreThoseOfTheValues(double place, double sweep) {
        double h = 1e-5;
        LineShape here = shape(place, sweep);
        LineShape below = shape(place - h, sweep);
        LineShape above = shape(place + h, sweep);
        for (int i = 0; i < POINTS; i++) {
            // Differences are right to h squared times a third derivative of some tens, and 1e-16/h of rounding.
            assertThat(here.placeRe[i]).isCloseTo((above.re[i] - below.re[i]) / (2 * h), within(1e-8));
            assertThat(here.placeIm[i]).isCloseTo((above.im[i] - below.im[i]) / (2 * h), within(1e-8));
            assertThat(here.imageSlope[i]).isCloseTo((above.image[i] - below.image[i]) / (2 * h), within(1e-8));
        }
        if (sweep != 0) {
            LineShape less = shape(place, sweep - h);
            LineShape more = shape(place, sweep + h);
            for (int i = 0; i < POINTS; i++) {
                assertThat(here.sweepRe[i]).isCloseTo((more.re[i] - less.re[i]) / (2 * h), within(1e-8));
                assertThat(here.sweepIm[i]).isCloseTo((more.im[i] - less.im[i]) / (2 * h), within(1e-8));
            }
        }
    }
}
