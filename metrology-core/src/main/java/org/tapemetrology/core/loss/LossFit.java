/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.loss;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.standard.ReplayEqualisation;

/**
 * Finds which loss explains a measured replay response that should be flat: spacing, gap, azimuth, thickness, a wrong
 * time constant, a plain offset, or two of them together.
 *
 * <p>Each candidate, {@code level = offset - sum of losses} in dB, is fitted by least squares (Levenberg-Marquardt). The
 * candidates are ranked by Akaike's information criterion for small samples, {@code AICc = n ln(RSS/n) + 2k + 2k(k+1)/(n
 * - k - 1)}; where the standard uncertainty u of the levels is known, {@code RSS/u^2} stands in place of the first term
 * (K. P. Burnham and D. R. Anderson, "Model Selection and Multimodel Inference", 2nd ed., 2.4, from memory). A candidate
 * whose sizes come out negative is no physical loss and is left out.
 *
 * <p>Gap and azimuth losses have the same shape over frequency, so the response of one channel alone never tells them
 * apart: both are ranked, equal, and never combined. The offset is always fitted, since the level at the reference
 * frequency has noise of its own. Fits are excess losses: a gap g beyond a made-up gap g0 shows as about {@code sqrt(g^2 -
 * g0^2)}. Levels that are not finite are refused. Immutable.
 *
 * <p>Levels are in dB, sizes in the units of {@link LossCause}. Cost: up to 15 small fits of some iterations each.
 *
 * <p>Not for a recording of the same machine: losses of recording are in its response too.
 */
public final class LossFit {
    private final double speedCmPerSecond;
    private final OptionalDouble trackWidthMillimetres;
    private final Optional<ReplayEqualisation> equalisation;
    private final OptionalDouble levelUncertaintyDb;

    private LossFit(
            double speedCmPerSecond,
            OptionalDouble trackWidthMillimetres,
            Optional<ReplayEqualisation> equalisation,
            OptionalDouble levelUncertaintyDb) {
        this.speedCmPerSecond = speedCmPerSecond;
        this.trackWidthMillimetres = trackWidthMillimetres;
        this.equalisation = equalisation;
        this.levelUncertaintyDb = levelUncertaintyDb;
    }

    /**
     * A fit at a tape speed. Azimuth takes part once the track width is known, the time constant once the equalisation is.
     *
     * @param speedCmPerSecond tape speed in cm/s, 0.5 to 400
     * @return the fit
     */
    public static LossFit atSpeed(double speedCmPerSecond) {
        return new LossFit(
                Require.inRange("speedCmPerSecond", speedCmPerSecond, 0.5, 400),
                OptionalDouble.empty(),
                Optional.empty(),
                OptionalDouble.empty());
    }

    /**
     * This fit with azimuth among the causes.
     *
     * @param millimetres track width in mm, 0.1 to 60
     * @return a new fit
     */
    public LossFit trackWidth(double millimetres) {
        return new LossFit(
                speedCmPerSecond,
                OptionalDouble.of(Require.inRange("trackWidthMillimetres", millimetres, 0.1, 60)),
                equalisation,
                levelUncertaintyDb);
    }

    /**
     * This fit with a wrong time constant among the causes.
     *
     * @param recorded the equalisation that the test tape is recorded to
     * @return a new fit
     */
    public LossFit equalisation(ReplayEqualisation recorded) {
        return new LossFit(speedCmPerSecond, trackWidthMillimetres, Optional.of(recorded), levelUncertaintyDb);
    }

    /**
     * This fit with the uncertainty of the levels known, so that it can say that nothing explains them.
     *
     * @param decibels standard uncertainty of each level in dB, 0.001 to 10
     * @return a new fit
     */
    public LossFit levelUncertainty(double decibels) {
        return new LossFit(
                speedCmPerSecond,
                trackWidthMillimetres,
                equalisation,
                OptionalDouble.of(Require.inRange("levelUncertaintyDb", decibels, 0.001, 10)));
    }

    /**
     * Fits a response reading by reading; those that are not valid are left out.
     *
     * @param response readings of {@link Quantity#RESPONSE} of one channel
     * @return what explains it
     */
    public LossFindings fit(List<Reading> response) {
        for (Reading reading : response) {
            if (reading.quantity() != Quantity.RESPONSE
                    || reading.atFrequencyHz().isEmpty()) {
                throw new IllegalArgumentException(reading.quantity().id() + " at " + reading.atFrequencyHz()
                        + " is no reading of a response at a frequency");
            }
        }
        List<Reading> valid = response.stream().filter(Reading::isValid).toList();
        return fit(
                valid.stream()
                        .mapToDouble(reading -> reading.atFrequencyHz().getAsDouble())
                        .toArray(),
                valid.stream()
                        .mapToDouble(reading -> reading.value().getAsDouble())
                        .toArray());
    }

    /**
     * Fits a response.
     *
     * @param frequenciesHz frequencies in Hz
     * @param levelsDb level at each of them, in dB
     * @return what explains it
     */
    public LossFindings fit(double[] frequenciesHz, double[] levelsDb) {
        if (frequenciesHz.length != levelsDb.length) {
            throw new IllegalArgumentException(
                    levelsDb.length + " levels do not go with " + frequenciesHz.length + " frequencies");
        }
        for (int i = 0; i < levelsDb.length; i++) {
            Require.positive("frequenciesHz[" + i + "]", frequenciesHz[i]);
            Require.inRange("levelsDb[" + i + "]", levelsDb[i], -300, 300);
        }
        LossModel model = new LossModel(speedCmPerSecond, trackWidthMillimetres, equalisation, frequenciesHz, levelsDb);
        Map<LossCause, Double> singles = new EnumMap<>(LossCause.class);
        List<LossExplanation> found = new ArrayList<>();
        for (Set<LossCause> causes : candidates()) {
            explain(model, List.copyOf(causes), singles).ifPresent(found::add);
        }
        // Rounded, so that causes of the same shape keep one order whatever the last bits of their fits say.
        found.sort(Comparator.comparingLong(explanation -> StrictMath.round(explanation.criterion() * 1e4)));
        if (found.isEmpty()) {
            return new LossFindings(Status.INSUFFICIENT_DATA, List.of(), OptionalDouble.empty());
        }
        double best = found.get(0).criterion();
        List<LossExplanation> ranked =
                found.stream().map(explanation -> explanation.relativeTo(best)).toList();
        Status status = LossFindings.asGood(ranked).isEmpty() ? Status.VALID : Status.AMBIGUOUS;
        return new LossFindings(status, ranked, goodness(ranked.get(0), levelsDb.length));
    }

    /** The empty set, every single cause, then every pair that can be told apart. */
    private List<Set<LossCause>> candidates() {
        List<LossCause> usable = new ArrayList<>(EnumSet.allOf(LossCause.class));
        if (trackWidthMillimetres.isEmpty()) {
            usable.remove(LossCause.AZIMUTH);
        }
        if (equalisation.isEmpty()) {
            usable.remove(LossCause.TIME_CONSTANT);
        }
        List<Set<LossCause>> candidates = new ArrayList<>();
        candidates.add(EnumSet.noneOf(LossCause.class));
        usable.forEach(cause -> candidates.add(EnumSet.of(cause)));
        for (int i = 0; i < usable.size(); i++) {
            for (int j = i + 1; j < usable.size(); j++) {
                Set<LossCause> pair = EnumSet.of(usable.get(i), usable.get(j));
                if (!pair.equals(EnumSet.of(LossCause.GAP, LossCause.AZIMUTH))) {
                    candidates.add(pair);
                }
            }
        }
        return candidates;
    }

    private Optional<LossExplanation> explain(LossModel model, List<LossCause> causes, Map<LossCause, Double> singles) {
        int n = model.size();
        int fitted = causes.size() + 1;
        int k = fitted + (levelUncertaintyDb.isPresent() ? 0 : 1); // the variance is estimated too
        if (n - k - 1 < 1) {
            return Optional.empty();
        }
        Optional<LossModel.Fit> fit = model.fit(causes, singles);
        if (fit.isEmpty()) {
            return Optional.empty();
        }
        double[] p = fit.get().parameters().toArray();
        double[] unitErrors = fit.get().standardErrors().toArray();
        if (causes.size() == 1) {
            singles.put(causes.get(0), p[1]);
        }
        double rss = Math.max(fit.get().sumOfSquares(), n * 1e-18); // an exact fit has no logarithm
        double residual = StrictMath.sqrt(rss / (n - fitted));
        double sigma = levelUncertaintyDb.orElse(residual);
        List<LossParameter> parameters = new ArrayList<>();
        for (int i = 0; i < causes.size(); i++) {
            LossCause cause = causes.get(i);
            if (cause != LossCause.TIME_CONSTANT && !(p[i + 1] > 0)) {
                return Optional.empty();
            }
            parameters.add(new LossParameter(
                    cause,
                    model.sizeOf(cause, p[i + 1]),
                    sigma * unitErrors[i + 1] * model.sizeSlope(cause, p[i + 1])));
        }
        double misfit = levelUncertaintyDb.isPresent() ? rss / (sigma * sigma) : n * StrictMath.log(rss / n);
        double criterion = misfit + 2.0 * k + 2.0 * k * (k + 1) / (n - k - 1);
        return Optional.of(new LossExplanation(parameters, p[0], sigma * unitErrors[0], residual, criterion, 0));
    }

    private OptionalDouble goodness(LossExplanation best, int n) {
        if (levelUncertaintyDb.isEmpty()) {
            return OptionalDouble.empty();
        }
        int freedom = n - 1 - best.parameters().size();
        double ratio = best.residualDb() / levelUncertaintyDb.getAsDouble();
        return OptionalDouble.of(
                1 - new ChiSquaredDistribution(null, freedom).cumulativeProbability(freedom * ratio * ratio));
    }
}
