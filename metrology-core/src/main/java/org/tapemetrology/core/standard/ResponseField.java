/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import java.util.ArrayList;
import java.util.List;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Confidence;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/**
 * A tolerance field of a response: in each band the level, in dB, may lie at most the band's width below the highest
 * level within the whole field. Where two bands meet, the narrower one holds. Only valid readings take part: one that is
 * not valid leaves its frequency unmeasured. Immutable.
 *
 * @param bands bands, rising and adjoining
 * @param source where the field is published
 * @param confidence how well it is known
 */
public record ResponseField(List<Band> bands, String source, Confidence confidence) {
    /** A nominal third-octave frequency may differ from the band's edge by its own rounding. */
    private static final double EDGE_TOLERANCE = 1.01;

    /** An octave and a half: the usual test frequencies lie an octave apart at most. */
    private static final double WIDEST_STEP = 2.83;

    /**
     * A field, checked.
     *
     * @param bands bands, rising and adjoining, at least one
     * @param source where the field is published
     * @param confidence how well it is known
     * @throws IllegalArgumentException if there is no band, or one does not begin where the one below ends
     */
    public ResponseField {
        if (bands.isEmpty()) {
            throw new IllegalArgumentException("bands: at least one is needed");
        }
        for (int i = 1; i < bands.size(); i++) {
            if (bands.get(i).fromHz() != bands.get(i - 1).toHz()) {
                throw new IllegalArgumentException(
                        "band " + i + " begins at " + bands.get(i).fromHz() + " Hz, not at "
                                + bands.get(i - 1).toHz() + " Hz, where the one below ends");
            }
        }
        bands = List.copyOf(bands);
    }

    /**
     * One band of a field.
     *
     * @param fromHz lower edge in Hz
     * @param toHz upper edge in Hz
     * @param widthDb width in dB
     */
    public record Band(double fromHz, double toHz, double widthDb) {
        /**
         * A band, checked.
         *
         * @param fromHz lower edge in Hz, above 0
         * @param toHz upper edge in Hz, above the lower one
         * @param widthDb width in dB, above 0
         * @throws IllegalArgumentException if a number is not finite and above 0, or the edges are not in order
         */
        public Band {
            Require.positive("fromHz", fromHz);
            Require.positive("widthDb", widthDb);
            if (!(toHz > fromHz && toHz < Double.POSITIVE_INFINITY)) {
                throw new IllegalArgumentException("toHz " + toHz + " is not in (" + fromHz + ", infinity)");
            }
        }

        private boolean holds(double frequencyHz) {
            return frequencyHz >= fromHz / EDGE_TOLERANCE && frequencyHz <= toHz * EDGE_TOLERANCE;
        }
    }

    /**
     * One frequency of a check.
     *
     * <p>Its numbers are not checked.
     *
     * @param frequencyHz frequency in Hz
     * @param belowHighestDb how far the level lies below the highest one, in dB
     * @param widthDb how far it may lie below, in dB
     */
    public record Point(double frequencyHz, double belowHighestDb, double widthDb) {
        /**
         * What is left up to the limit.
         *
         * @return margin in dB, negative outside the field
         */
        public double marginDb() {
            return widthDb - belowHighestDb;
        }
    }

    /**
     * The outcome of a check.
     *
     * @param status {@link Status#VALID} where readings reach from the lower to the upper end of the field and lie less
     *     than an octave and a half apart; else {@link Status#INSUFFICIENT_DATA}
     * @param points every frequency that took part
     */
    public record Check(Status status, List<Point> points) {
        /**
         * An outcome.
         *
         * @param status whether the readings cover the field
         * @param points every frequency that took part
         */
        public Check {
            points = List.copyOf(points);
        }

        /**
         * The frequencies that lie outside the field.
         *
         * @return points of negative margin
         */
        public List<Point> outside() {
            return points.stream().filter(point -> point.marginDb() < 0).toList();
        }

        /**
         * Whether the whole field was measured and every point lies inside.
         *
         * @return true where the response is inside
         */
        public boolean isInside() {
            return status == Status.VALID && outside().isEmpty();
        }
    }

    /**
     * Checks a response against this field.
     *
     * @param response readings of {@link Quantity#RESPONSE} of one channel; those outside the field are left out
     * @return the outcome
     */
    public Check check(List<Reading> response) {
        List<Reading> measured = new ArrayList<>();
        for (Reading reading : response) {
            if (reading.quantity() != Quantity.RESPONSE
                    || reading.atFrequencyHz().isEmpty()) {
                throw new IllegalArgumentException(reading.quantity().id() + " at " + reading.atFrequencyHz()
                        + " is no reading of a response at a frequency");
            }
            if (!reading.channel().equals(response.get(0).channel())) {
                throw new IllegalArgumentException(
                        "channels " + response.get(0).channel() + " and " + reading.channel() + " are mixed");
            }
            if (reading.isValid() && holds(reading.atFrequencyHz().getAsDouble())) {
                measured.add(reading);
            }
        }
        double highest = measured.stream()
                .mapToDouble(reading -> reading.value().getAsDouble())
                .max()
                .orElse(0);
        List<Point> points = measured.stream()
                .map(reading -> {
                    double frequencyHz = reading.atFrequencyHz().getAsDouble();
                    return new Point(frequencyHz, highest - reading.value().getAsDouble(), widthDb(frequencyHz));
                })
                .toList();
        return new Check(covers(points) ? Status.VALID : Status.INSUFFICIENT_DATA, points);
    }

    private boolean holds(double frequencyHz) {
        return bands.stream().anyMatch(band -> band.holds(frequencyHz));
    }

    private double widthDb(double frequencyHz) {
        return bands.stream()
                .filter(band -> band.holds(frequencyHz))
                .mapToDouble(Band::widthDb)
                .min()
                .orElseThrow();
    }

    private boolean covers(List<Point> points) {
        double reached = bands.get(0).fromHz();
        double widestStep = EDGE_TOLERANCE;
        for (double frequencyHz :
                points.stream().mapToDouble(Point::frequencyHz).sorted().toArray()) {
            if (frequencyHz > reached * widestStep) {
                return false;
            }
            reached = frequencyHz;
            widestStep = WIDEST_STEP;
        }
        return reached * EDGE_TOLERANCE >= bands.get(bands.size() - 1).toHz();
    }
}
