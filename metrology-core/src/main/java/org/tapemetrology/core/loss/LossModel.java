/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.loss;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.math3.exception.ConvergenceException;
import org.apache.commons.math3.exception.TooManyEvaluationsException;
import org.apache.commons.math3.exception.TooManyIterationsException;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresBuilder;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresOptimizer.Optimum;
import org.apache.commons.math3.fitting.leastsquares.LevenbergMarquardtOptimizer;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.RealVector;
import org.apache.commons.math3.linear.SingularMatrixException;
import org.apache.commons.math3.util.Pair;
import org.tapemetrology.core.standard.ReplayEqualisation;

/**
 * The losses over frequency as functions of variables in which they are smooth through zero: the gap and the azimuth
 * enter squared, since their losses are even in them and a derivative of zero would stop the fit, and the time constant
 * by its logarithm.
 */
final class LossModel {
    private static final double STEP = 1e-6;

    /** Sizes of x in {@code sin(x)/x} at the shortest wavelength from which fits of gap and azimuth start. */
    private static final double[] SINC_STARTS = {0.3, 0.8, 1.4, 2.0, 2.6};

    private final double speedCmPerSecond;
    private final OptionalDouble trackWidthMillimetres;
    private final Optional<ReplayEqualisation> equalisation;
    private final double[] frequenciesHz;
    private final double[] levelsDb;
    private final double shortestMicrometres;

    /** A fit: offset and variables, their standard errors for levels of unit variance, and the sum of squares. */
    record Fit(RealVector parameters, RealVector standardErrors, double sumOfSquares) {}

    LossModel(
            double speedCmPerSecond,
            OptionalDouble trackWidthMillimetres,
            Optional<ReplayEqualisation> equalisation,
            double[] frequenciesHz,
            double[] levelsDb) {
        this.speedCmPerSecond = speedCmPerSecond;
        this.trackWidthMillimetres = trackWidthMillimetres;
        this.equalisation = equalisation;
        this.frequenciesHz = frequenciesHz.clone();
        this.levelsDb = levelsDb.clone();
        double highest = 1;
        for (double frequencyHz : frequenciesHz) {
            highest = Math.max(highest, frequencyHz);
        }
        this.shortestMicrometres = ReplayLoss.wavelengthMicrometres(highest, speedCmPerSecond);
    }

    int size() {
        return levelsDb.length;
    }

    /** Size of a cause, in its unit, from its variable. */
    double sizeOf(LossCause cause, double variable) {
        return switch (cause) {
            case SPACING, THICKNESS -> variable;
            case GAP -> StrictMath.sqrt(variable) / ReplayLoss.EFFECTIVE_GAP_RATIO;
            case AZIMUTH -> ReplayLoss.arcminutesOfTan(StrictMath.sqrt(variable) / widthMicrometres());
            case TIME_CONSTANT -> StrictMath.exp(variable);
        };
    }

    double sizeSlope(LossCause cause, double variable) {
        double step = STEP * Math.max(Math.abs(variable), STEP);
        return (sizeOf(cause, variable + step) - sizeOf(cause, variable - step)) / (2 * step);
    }

    private double widthMicrometres() {
        return trackWidthMillimetres.orElseThrow() * 1e3;
    }

    private double lossDb(LossCause cause, double variable, double frequencyHz) {
        double wavenumber = 2 * StrictMath.PI / ReplayLoss.wavelengthMicrometres(frequencyHz, speedCmPerSecond);
        return switch (cause) {
            case SPACING -> 20 * StrictMath.log10(StrictMath.E) * wavenumber * variable;
            case THICKNESS -> thicknessDb(wavenumber * variable);
            case GAP, AZIMUTH -> sincDb(wavenumber * wavenumber * variable / 4);
            case TIME_CONSTANT ->
                -equalisation
                        .orElseThrow()
                        .replayedByDb(
                                new ReplayEqualisation(equalisation.get().bassMicroseconds(), StrictMath.exp(variable)),
                                frequencyHz);
        };
    }

    private static double thicknessDb(double x) {
        return Math.abs(x) < 1e-9
                ? 10 * StrictMath.log10(StrictMath.E) * x
                : -20 * StrictMath.log10(-StrictMath.expm1(-x) / x);
    }

    /** Loss {@code sin(x)/x} over the square of x, carried on smoothly below zero. */
    private static double sincDb(double square) {
        double x = StrictMath.sqrt(Math.abs(square));
        if (x < 1e-4) {
            return -20 * StrictMath.log10(1 - square / 6);
        }
        return -20 * StrictMath.log10(Math.abs((square > 0 ? StrictMath.sin(x) : StrictMath.sinh(x)) / x));
    }

    Optional<Fit> fit(List<LossCause> causes, Map<LossCause, Double> singles) {
        double[] start = new double[causes.size() + 1];
        for (int i = 0; i < causes.size(); i++) {
            start[i + 1] = causes.size() == 1
                    ? bestStart(causes.get(i))
                    : halfOf(causes.get(i), singles.getOrDefault(causes.get(i), bestStart(causes.get(i))));
        }
        start[0] = meanResidual(causes, start);
        try {
            Optimum optimum = new LevenbergMarquardtOptimizer()
                    .optimize(new LeastSquaresBuilder()
                            .model(point -> {
                                double[] p = point.toArray();
                                return new Pair<>(
                                        new ArrayRealVector(levels(causes, p), false),
                                        new Array2DRowRealMatrix(slopes(causes, p), false));
                            })
                            .target(levelsDb)
                            .start(start)
                            .maxEvaluations(1000)
                            .maxIterations(500)
                            .build());
            return Optional.of(new Fit(
                    optimum.getPoint(),
                    optimum.getSigma(1e-12),
                    optimum.getResiduals().dotProduct(optimum.getResiduals())));
        } catch (ConvergenceException
                | TooManyEvaluationsException
                | TooManyIterationsException
                | SingularMatrixException e) {
            return Optional.empty(); // these levels do not determine these causes: no explanation
        }
    }

    private double halfOf(LossCause cause, double single) {
        return cause == LossCause.TIME_CONSTANT ? (single + nominalLogarithm()) / 2 : single / 2;
    }

    private double nominalLogarithm() {
        return StrictMath.log(equalisation.orElseThrow().trebleMicroseconds());
    }

    /** The best of a few variables, since the loss of a gap or an azimuth error has nulls between which a fit can stick. */
    private double bestStart(LossCause cause) {
        double[] starts = switch (cause) {
            case SPACING, THICKNESS -> new double[] {0.02 * shortestMicrometres, 0.2 * shortestMicrometres};
            case GAP, AZIMUTH -> {
                double[] squares = new double[SINC_STARTS.length];
                for (int i = 0; i < squares.length; i++) {
                    double length = SINC_STARTS[i] * shortestMicrometres / StrictMath.PI;
                    squares[i] = length * length;
                }
                yield squares;
            }
            case TIME_CONSTANT -> new double[] {nominalLogarithm() - 0.4, nominalLogarithm() + 0.4};
        };
        double best = starts[0];
        double least = Double.POSITIVE_INFINITY;
        for (double candidate : starts) {
            double[] p = {0, candidate};
            p[0] = meanResidual(List.of(cause), p);
            double[] fitted = levels(List.of(cause), p);
            double sum = 0;
            for (int i = 0; i < fitted.length; i++) {
                sum += (levelsDb[i] - fitted[i]) * (levelsDb[i] - fitted[i]);
            }
            if (sum < least) {
                least = sum;
                best = candidate;
            }
        }
        return best;
    }

    private double meanResidual(List<LossCause> causes, double[] parameters) {
        double[] p = parameters.clone();
        p[0] = 0;
        double[] fitted = levels(causes, p);
        double sum = 0;
        for (int i = 0; i < fitted.length; i++) {
            sum += levelsDb[i] - fitted[i];
        }
        return sum / Math.max(1, fitted.length);
    }

    private double[] levels(List<LossCause> causes, double[] p) {
        double[] levels = new double[frequenciesHz.length];
        for (int row = 0; row < levels.length; row++) {
            levels[row] = p[0];
            for (int i = 0; i < causes.size(); i++) {
                levels[row] -= lossDb(causes.get(i), p[i + 1], frequenciesHz[row]);
            }
        }
        return levels;
    }

    private double[][] slopes(List<LossCause> causes, double[] p) {
        double[][] slopes = new double[frequenciesHz.length][causes.size() + 1];
        for (int row = 0; row < slopes.length; row++) {
            slopes[row][0] = 1;
            for (int i = 0; i < causes.size(); i++) {
                LossCause cause = causes.get(i);
                double step = STEP * Math.max(Math.abs(p[i + 1]), 0.01);
                slopes[row][i + 1] = -(lossDb(cause, p[i + 1] + step, frequenciesHz[row])
                                - lossDb(cause, p[i + 1] - step, frequenciesHz[row]))
                        / (2 * step);
            }
        }
        return slopes;
    }
}
