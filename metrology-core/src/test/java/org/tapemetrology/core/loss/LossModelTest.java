/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.loss;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.standard.ReplayEqualisation;

/** Each loss alone, fitted to its own formula in {@link ReplayLoss}, which stands against printed tables in its test. */
class LossModelTest {
    private static final double SPEED = 4.76;
    private static final double WIDTH = 0.6;
    private static final ReplayEqualisation EQUALISATION = new ReplayEqualisation(OptionalDouble.of(3180), 120);
    private static final double[] HERTZ = {250, 500, 1000, 2000, 3150, 4000, 6300, 8000, 10_000, 12_500, 14_000, 16_000
    };

    private static LossModel model(DoubleUnaryOperator levelDb) {
        double[] levels = new double[HERTZ.length];
        for (int i = 0; i < levels.length; i++) {
            levels[i] = levelDb.applyAsDouble(HERTZ[i]);
        }
        return new LossModel(SPEED, OptionalDouble.of(WIDTH), Optional.of(EQUALISATION), HERTZ, levels);
    }

    private static double wavelength(double hertz) {
        return ReplayLoss.wavelengthMicrometres(hertz, SPEED);
    }

    /** Exact levels: what is found is the size, to the steps of the slopes and of the search, 1e-6 of it. */
    private static void assertFound(LossCause cause, double size, DoubleUnaryOperator lossDb) {
        LossModel model = model(hertz -> 0.7 - lossDb.applyAsDouble(hertz));
        LossModel.Fit fit =
                model.fit(List.of(cause), new EnumMap<>(LossCause.class)).orElseThrow();
        assertThat(fit.parameters().getEntry(0)).as("offset with %s", cause).isCloseTo(0.7, within(1e-5));
        double found = model.sizeOf(cause, fit.parameters().getEntry(1));
        assertThat(found).as("%s", cause).isCloseTo(size, within(1e-5 * size));
        assertThat(fit.sumOfSquares()).isLessThan(1e-9);
        assertThat(fit.standardErrors().getEntry(1)).isPositive();
    }

    @Test
    void everyCauseIsFoundInItsOwnFormula() {
        for (double size : new double[] {0.1, 0.5, 2}) {
            assertFound(LossCause.SPACING, size, f -> ReplayLoss.spacingDb(size, wavelength(f)));
        }
        for (double size : new double[] {0.3, 2, 5}) {
            assertFound(LossCause.THICKNESS, size, f -> ReplayLoss.thicknessDb(size, wavelength(f)));
        }
        // The first null of 16 kHz is at 2.7 um.
        for (double size : new double[] {0.5, 1.2, 2.2}) {
            assertFound(LossCause.GAP, size, f -> ReplayLoss.effectiveGapDb(size, wavelength(f)));
        }
        for (double size : new double[] {2, 6, 12}) {
            assertFound(LossCause.AZIMUTH, size, f -> ReplayLoss.azimuthDb(size, WIDTH, wavelength(f)));
        }
        for (double size : new double[] {70, 100, 150}) {
            assertFound(
                    LossCause.TIME_CONSTANT,
                    size,
                    f -> -EQUALISATION.replayedByDb(new ReplayEqualisation(EQUALISATION.bassMicroseconds(), size), f));
        }
    }

    @Test
    void twoCausesAreFoundTogether() {
        LossModel model = model(
                f -> -1 - ReplayLoss.spacingDb(0.4, wavelength(f)) - ReplayLoss.effectiveGapDb(1.5, wavelength(f)));
        Map<LossCause, Double> singles = new EnumMap<>(LossCause.class);
        List<LossCause> causes = List.of(LossCause.SPACING, LossCause.GAP);
        for (LossCause cause : causes) {
            singles.put(
                    cause,
                    model.fit(List.of(cause), singles)
                            .orElseThrow()
                            .parameters()
                            .getEntry(1));
        }
        LossModel.Fit fit = model.fit(causes, singles).orElseThrow();
        assertThat(fit.parameters().getEntry(0)).isCloseTo(-1, within(1e-4));
        assertThat(model.sizeOf(LossCause.SPACING, fit.parameters().getEntry(1)))
                .isCloseTo(0.4, within(1e-4));
        assertThat(model.sizeOf(LossCause.GAP, fit.parameters().getEntry(2))).isCloseTo(1.5, within(1e-4));
    }

    /** Levels that rise have a negative spacing, and a gap whose square is negative: smoothly through zero. */
    @Test
    void lossesGoOnBelowZero() {
        LossModel model = model(f -> ReplayLoss.spacingDb(0.3, wavelength(f)));
        assertThat(model.fit(List.of(LossCause.SPACING), Map.of())
                        .orElseThrow()
                        .parameters()
                        .getEntry(1))
                .isCloseTo(-0.3, within(1e-6));
        assertThat(model.fit(List.of(LossCause.GAP), Map.of())
                        .orElseThrow()
                        .parameters()
                        .getEntry(1))
                .isNegative();
        assertThat(model.fit(List.of(LossCause.THICKNESS), Map.of())
                        .orElseThrow()
                        .parameters()
                        .getEntry(1))
                .isNegative();
        LossModel flat = model(f -> 0.25);
        for (LossCause cause : List.of(LossCause.SPACING, LossCause.GAP, LossCause.AZIMUTH, LossCause.THICKNESS)) {
            LossModel.Fit fit = flat.fit(List.of(cause), Map.of()).orElseThrow();
            assertThat(fit.parameters().getEntry(0)).isCloseTo(0.25, within(1e-6));
            assertThat(fit.sumOfSquares()).isLessThan(1e-12);
        }
        assertThat(flat.fit(List.of(), Map.of()).orElseThrow().parameters().getEntry(0))
                .isCloseTo(0.25, within(1e-9));
    }

    /** Of a straight line a/(unit variance): the standard error of a mean of 12 is 1/sqrt(12). */
    @Test
    void standardErrorsAreThoseOfLevelsOfUnitVariance() {
        LossModel model = model(f -> 3);
        assertThat(model.size()).isEqualTo(12);
        assertThat(model.fit(List.of(), Map.of()).orElseThrow().standardErrors().getEntry(0))
                .isCloseTo(1 / Math.sqrt(12), within(1e-9));
    }

    /** Variables: gap and azimuth squared, the time constant by its logarithm. */
    @Test
    void sizesFollowFromTheirVariables() {
        LossModel model = model(f -> 0);
        assertThat(model.sizeOf(LossCause.SPACING, 0.4)).isEqualTo(0.4);
        assertThat(model.sizeOf(LossCause.GAP, Math.pow(1.11 * 2, 2))).isCloseTo(2, within(1e-12));
        assertThat(model.sizeOf(LossCause.TIME_CONSTANT, Math.log(70))).isCloseTo(70, within(1e-12));
        double shift = 600 * Math.tan(Math.toRadians(5 / 60.0));
        assertThat(model.sizeOf(LossCause.AZIMUTH, shift * shift)).isCloseTo(5, within(1e-9));
        // Slopes by differences, known to some 1e-9.
        assertThat(model.sizeSlope(LossCause.SPACING, 0.4)).isCloseTo(1, within(1e-6));
        assertThat(model.sizeSlope(LossCause.TIME_CONSTANT, Math.log(70))).isCloseTo(70, within(1e-4));
        assertThat(model.sizeSlope(LossCause.GAP, 4)).isCloseTo(1 / (2 * 1.11 * 2), within(1e-6));
    }

    @Test
    void causesHaveNamesAndUnits() {
        assertThat(List.of(LossCause.values()).stream().map(c -> c.label() + " " + c.unit()))
                .containsExactly("spacing um", "gap um", "azimuth arcmin", "thickness um", "time constant us");
    }
}
