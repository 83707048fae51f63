/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.conformity;

import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Confidence;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Unit;

/**
 * What a quantity may be: a tolerance limit on one side or on both (JCGM 106:2012, 3.3.4). The limits themselves are
 * allowed.
 *
 * @param quantity what is limited
 * @param unit unit of the bounds: that of the quantity, or decibels where a level is limited re a reference
 * @param lower least allowed value in the unit, empty where there is none
 * @param upper greatest allowed value in the unit, empty where there is none
 * @param atFrequencyHz frequency in Hz of the reading that is limited, empty for a quantity that is no table over
 *     frequency
 * @param range frequencies of the readings that are limited: one part of a tolerance field; empty where there is none
 * @param name what a report calls it
 * @param source standard and edition, or maker's document, that sets it
 * @param confidence how well that is known
 */
public record Limit(
        Quantity quantity,
        Unit unit,
        OptionalDouble lower,
        OptionalDouble upper,
        OptionalDouble atFrequencyHz,
        Optional<Range> range,
        String name,
        String source,
        Confidence confidence) {

    /**
     * A range of frequencies, its ends included.
     *
     * @param fromHz lowest frequency in Hz
     * @param toHz highest frequency in Hz
     */
    public record Range(double fromHz, double toHz) {
        /**
         * A range, checked.
         *
         * @param fromHz lowest frequency, above 0
         * @param toHz highest frequency, at least the lowest
         * @throws IllegalArgumentException if the frequencies are not finite, above 0 and in order
         */
        public Range {
            Require.positive("fromHz", fromHz);
            if (!(toHz >= fromHz && toHz < Double.POSITIVE_INFINITY)) {
                throw new IllegalArgumentException("toHz " + toHz + " is not in [" + fromHz + ", infinity)");
            }
        }

        private boolean holds(double frequencyHz) {
            return frequencyHz >= (1 - SAME_FREQUENCY) * fromHz && frequencyHz <= (1 + SAME_FREQUENCY) * toHz;
        }
    }

    /** Frequencies of a table are set in three or more digits. */
    private static final double SAME_FREQUENCY = 0.005;

    /**
     * A limit, checked.
     *
     * @param quantity what is limited
     * @param unit unit of the bounds
     * @param lower least allowed value
     * @param upper greatest allowed value
     * @param atFrequencyHz frequency of the reading
     * @param range frequencies of the readings; not together with a frequency
     * @param name what a report calls it
     * @param source what sets it
     * @param confidence how well that is known
     * @throws IllegalArgumentException if there is neither bound, a bound is not finite, the lower one is not below
     *     the upper one, a frequency stands beside a range or is not finite and above 0, or the unit is none of the
     *     quantity
     */
    public Limit {
        if (atFrequencyHz.isPresent() && range.isPresent()) {
            throw new IllegalArgumentException(name + ": a limit is for one frequency or for a range, not for both");
        }
        if (lower.isEmpty() && upper.isEmpty()) {
            throw new IllegalArgumentException(name + ": a limit needs a lower or an upper bound");
        }
        requireFinite(name + ": lower bound", lower);
        requireFinite(name + ": upper bound", upper);
        if (lower.isPresent() && upper.isPresent() && !(lower.getAsDouble() < upper.getAsDouble())) {
            throw new IllegalArgumentException(name + ": lower bound " + lower.getAsDouble()
                    + " is not below the upper bound " + upper.getAsDouble());
        }
        if (atFrequencyHz.isPresent()) {
            Require.positive(name + ": atFrequencyHz", atFrequencyHz.getAsDouble());
        }
        if (unit != quantity.unit() && !(quantity.unit() == Unit.DBFS && unit == Unit.DECIBEL)) {
            throw new IllegalArgumentException(name + ": " + quantity.id() + " is not given in " + unit.symbol());
        }
    }

    private static void requireFinite(String name, OptionalDouble bound) {
        if (bound.isPresent() && !Double.isFinite(bound.getAsDouble())) {
            throw new IllegalArgumentException(name + " " + bound.getAsDouble() + " is not finite");
        }
    }

    /**
     * A greatest allowed value, in the unit of the quantity.
     *
     * @param quantity what is limited
     * @param upper the greatest allowed value
     * @param name what a report calls it
     * @param source what sets it
     * @param confidence how well that is known
     * @return the limit
     */
    public static Limit atMost(Quantity quantity, double upper, String name, String source, Confidence confidence) {
        return of(quantity, OptionalDouble.empty(), OptionalDouble.of(upper), name, source, confidence);
    }

    /**
     * A least allowed value, in the unit of the quantity.
     *
     * @param quantity what is limited
     * @param lower the least allowed value
     * @param name what a report calls it
     * @param source what sets it
     * @param confidence how well that is known
     * @return the limit
     */
    public static Limit atLeast(Quantity quantity, double lower, String name, String source, Confidence confidence) {
        return of(quantity, OptionalDouble.of(lower), OptionalDouble.empty(), name, source, confidence);
    }

    /**
     * Two bounds, in the unit of the quantity.
     *
     * @param quantity what is limited
     * @param lower the least allowed value
     * @param upper the greatest allowed value
     * @param name what a report calls it
     * @param source what sets it
     * @param confidence how well that is known
     * @return the limit
     */
    public static Limit between(
            Quantity quantity, double lower, double upper, String name, String source, Confidence confidence) {
        return of(quantity, OptionalDouble.of(lower), OptionalDouble.of(upper), name, source, confidence);
    }

    private static Limit of(
            Quantity quantity,
            OptionalDouble lower,
            OptionalDouble upper,
            String name,
            String source,
            Confidence confidence) {
        return new Limit(
                quantity,
                quantity.unit(),
                lower,
                upper,
                OptionalDouble.empty(),
                Optional.empty(),
                name,
                source,
                confidence);
    }

    /**
     * This limit for the reading at one frequency of a table.
     *
     * @param frequencyHz the frequency in Hz
     * @return the same limit there
     */
    public Limit atFrequency(double frequencyHz) {
        return new Limit(
                quantity,
                unit,
                lower,
                upper,
                OptionalDouble.of(frequencyHz),
                Optional.empty(),
                name,
                source,
                confidence);
    }

    /**
     * This limit for the readings of a range of a table: a part of a tolerance field.
     *
     * @param fromHz lowest frequency in Hz
     * @param toHz highest frequency in Hz
     * @return the same limit there
     */
    public Limit within(double fromHz, double toHz) {
        return new Limit(
                quantity,
                unit,
                lower,
                upper,
                OptionalDouble.empty(),
                Optional.of(new Range(fromHz, toHz)),
                name,
                source,
                confidence);
    }

    /**
     * This limit of a level as one in decibels re the reference.
     *
     * @return the same bounds in dB
     */
    public Limit reReference() {
        return new Limit(quantity, Unit.DECIBEL, lower, upper, atFrequencyHz, range, name, source, confidence);
    }

    /**
     * Whether this limit speaks of a reading: the quantity, and the frequency within 0.5 %, are the same, or the frequency
     * lies in the range.
     *
     * @param reading the reading
     * @return true where it does
     */
    public boolean appliesTo(Reading reading) {
        if (reading.quantity() != quantity) {
            return false;
        }
        if (range.isPresent()) {
            return reading.atFrequencyHz().isPresent()
                    && range.get().holds(reading.atFrequencyHz().getAsDouble());
        }
        if (atFrequencyHz.isEmpty()) {
            return true;
        }
        double frequency = atFrequencyHz.getAsDouble();
        return Math.abs(reading.atFrequencyHz().orElse(0) - frequency) <= SAME_FREQUENCY * frequency;
    }

    /**
     * Whether a value keeps the limit.
     *
     * @param value the value
     * @return true where it does
     */
    public boolean holds(double value) {
        return margin(value) >= 0;
    }

    /**
     * How far inside the limit a value lies.
     *
     * @param value the value
     * @return distance to the nearer bound in the unit of the limit, negative outside
     */
    public double margin(double value) {
        return Math.min(value - lowest(), highest() - value);
    }

    double lowest() {
        return lower.orElse(Double.NEGATIVE_INFINITY);
    }

    double highest() {
        return upper.orElse(Double.POSITIVE_INFINITY);
    }
}
