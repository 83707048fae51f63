/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.quantity;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * One figure: what was read, on which channel, its value or the reason why it has none, how well it is known and by
 * which method.
 *
 * <p>A value is present exactly where the status is {@link Status#VALID}, and it is always finite: no NaN, zero or other
 * magic number ever stands for "unknown".
 *
 * @param quantity what was read; it fixes the unit
 * @param channel 1-based channel, empty for a figure between channels
 * @param value the value in the unit
 * @param unit {@link Quantity#unit()}, or {@link Unit#DECIBEL} where a level in dBFS was turned into one re a reference
 * @param status whether there is a value, and why not
 * @param uncertainty expanded uncertainty: that of the whole budget where the facade or a budget gave it, else that of
 *     {@code typeA} alone; empty where nothing is known
 * @param typeA what the scatter of the recording itself tells of the uncertainty, of type A (JCGM 100:2008, 4.2); empty where
 *     it is too short for that
 * @param noiseReach by how much, in the unit, the value would be lower at most were there no noise in the recording,
 *     0 where that is nothing or not known
 * @param method standard and edition, or the definition, by which it was read
 * @param atFrequencyHz frequency in Hz that the reading belongs to, for a table over frequency
 * @param atSeconds moment of the recording in s that the reading belongs to, for a maximum
 */
public record Reading(
        Quantity quantity,
        OptionalInt channel,
        OptionalDouble value,
        Unit unit,
        Status status,
        Optional<ExpandedUncertainty> uncertainty,
        Optional<StandardUncertainty> typeA,
        double noiseReach,
        String method,
        OptionalDouble atFrequencyHz,
        OptionalDouble atSeconds) {

    /**
     * A reading, checked: a value is there exactly where the status says so.
     *
     * @param quantity what was read
     * @param channel 1-based channel
     * @param value the value
     * @param unit its unit
     * @param status whether there is a value
     * @param uncertainty expanded uncertainty
     * @param typeA uncertainty of type A
     * @param noiseReach share of noise in the value
     * @param method standard and edition, or the definition
     * @param atFrequencyHz frequency that it belongs to
     * @param atSeconds moment that it belongs to
     * @throws IllegalArgumentException if a value stands where the status has none or the other way round, the value
     *     is not finite, the unit is none of the quantity, {@code noiseReach} is not finite or below 0, the channel is
     *     below 1, or {@code atFrequencyHz} or {@code atSeconds} is not finite
     */
    public Reading {
        if (value.isPresent() != (status == Status.VALID)) {
            throw new IllegalArgumentException(
                    quantity.id() + ": status " + status.id() + " does not go with value " + value);
        }
        if (value.isPresent() && !Double.isFinite(value.getAsDouble())) {
            throw new IllegalArgumentException(quantity.id() + ": value " + value.getAsDouble() + " is not finite");
        }
        if (unit != quantity.unit() && !(quantity.unit() == Unit.DBFS && unit == Unit.DECIBEL)) {
            throw new IllegalArgumentException(quantity.id() + " is not given in " + unit.symbol());
        }
        if (!(noiseReach >= 0 && noiseReach < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    quantity.id() + ": noiseReach " + noiseReach + " is not in [0, infinity)");
        }
        if (channel.isPresent() && channel.getAsInt() < 1) {
            throw new IllegalArgumentException(
                    quantity.id() + ": channel " + channel.getAsInt() + " is below 1, the first channel");
        }
        requireFinite(quantity, "atFrequencyHz", atFrequencyHz);
        requireFinite(quantity, "atSeconds", atSeconds);
    }

    private static void requireFinite(Quantity quantity, String name, OptionalDouble place) {
        if (place.isPresent() && !Double.isFinite(place.getAsDouble())) {
            throw new IllegalArgumentException(
                    quantity.id() + ": " + name + " " + place.getAsDouble() + " is not finite");
        }
    }

    /**
     * A valid reading.
     *
     * @param quantity what was read
     * @param value its value, finite
     * @param method standard and edition, or the definition
     * @return the reading, belonging to no channel yet
     */
    public static Reading valid(Quantity quantity, double value, String method) {
        return of(quantity, OptionalDouble.of(value), Status.VALID, method);
    }

    /**
     * A reading that has no value.
     *
     * @param quantity what was to be read
     * @param status why there is no value
     * @param method standard and edition, or the definition
     * @return the reading, belonging to no channel yet
     */
    public static Reading without(Quantity quantity, Status status, String method) {
        return of(quantity, OptionalDouble.empty(), status, method);
    }

    private static Reading of(Quantity quantity, OptionalDouble value, Status status, String method) {
        return new Reading(
                quantity,
                OptionalInt.empty(),
                value,
                quantity.unit(),
                status,
                Optional.empty(),
                Optional.empty(),
                0,
                method,
                OptionalDouble.empty(),
                OptionalDouble.empty());
    }

    /**
     * This reading as that of a channel.
     *
     * @param number 1-based channel
     * @return the same reading on that channel
     */
    public Reading onChannel(int number) {
        Change change = new Change(this);
        change.channel = OptionalInt.of(number);
        return change.made();
    }

    /**
     * This reading as one of a table over frequency.
     *
     * @param frequencyHz the frequency in Hz
     * @return the same reading at that frequency
     */
    public Reading atFrequency(double frequencyHz) {
        Change change = new Change(this);
        change.atFrequencyHz = OptionalDouble.of(frequencyHz);
        return change.made();
    }

    /**
     * This reading as that of a moment.
     *
     * @param seconds time from the start of the recording
     * @return the same reading at that moment
     */
    public Reading atTime(double seconds) {
        Change change = new Change(this);
        change.atSeconds = OptionalDouble.of(seconds);
        return change.made();
    }

    /**
     * This reading with its uncertainty.
     *
     * @param known expanded uncertainty in the unit of the reading
     * @return the same reading with that uncertainty
     */
    public Reading withUncertainty(ExpandedUncertainty known) {
        Change change = new Change(this);
        change.uncertainty = Optional.of(known);
        return change.made();
    }

    /**
     * This reading with what its own scatter tells, and the interval that follows from it alone.
     *
     * @param scatter standard uncertainty in the unit of the reading
     * @return the same reading with that uncertainty of type A
     */
    public Reading withTypeA(StandardUncertainty scatter) {
        Change change = new Change(this);
        change.uncertainty = Optional.of(scatter.expanded());
        change.typeA = Optional.of(scatter);
        return change.made();
    }

    /**
     * This reading with the share that noise of the recording has in it.
     *
     * @param reach by how much the value would be lower at most without the noise, 0 or more
     * @return the same reading with that share
     */
    public Reading withNoiseReach(double reach) {
        Change change = new Change(this);
        change.noiseReach = reach;
        return change.made();
    }

    /**
     * This reading with another value.
     *
     * @param corrected the value, finite
     * @return the same reading with that value; one without a value stays as it is
     */
    public Reading withValue(double corrected) {
        Change change = new Change(this);
        change.value = isValid() ? OptionalDouble.of(corrected) : value;
        return change.made();
    }

    /**
     * This level re another one.
     *
     * @param referenceDbfs the reference in dBFS
     * @return the same reading in dB re the reference; one that is not in dBFS stays as it is
     */
    public Reading re(double referenceDbfs) {
        if (unit != Unit.DBFS) {
            return this;
        }
        Change change = new Change(this);
        change.unit = Unit.DECIBEL;
        change.value = value.isPresent() ? OptionalDouble.of(value.getAsDouble() - referenceDbfs) : value;
        return change.made();
    }

    /**
     * Whether there is a value.
     *
     * @return true where the status is {@link Status#VALID}
     */
    public boolean isValid() {
        return status == Status.VALID;
    }

    /** A reading that is being made out of another one. */
    private static final class Change {
        private final Quantity quantity;
        private OptionalInt channel;
        private OptionalDouble value;
        private Unit unit;
        private final Status status;
        private Optional<ExpandedUncertainty> uncertainty;
        private Optional<StandardUncertainty> typeA;
        private double noiseReach;
        private final String method;
        private OptionalDouble atFrequencyHz;
        private OptionalDouble atSeconds;

        Change(Reading from) {
            quantity = from.quantity;
            channel = from.channel;
            value = from.value;
            unit = from.unit;
            status = from.status;
            uncertainty = from.uncertainty;
            typeA = from.typeA;
            noiseReach = from.noiseReach;
            method = from.method;
            atFrequencyHz = from.atFrequencyHz;
            atSeconds = from.atSeconds;
        }

        Reading made() {
            return new Reading(
                    quantity,
                    channel,
                    value,
                    unit,
                    status,
                    uncertainty,
                    typeA,
                    noiseReach,
                    method,
                    atFrequencyHz,
                    atSeconds);
        }
    }
}
