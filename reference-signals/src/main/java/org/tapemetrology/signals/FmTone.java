/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import java.util.ArrayList;
import java.util.List;
import org.tapemetrology.signals.internal.Require;

/**
 * The test tone as a machine with known speed faults reproduces it. The instantaneous frequency is
 *
 * <p>f(t) = nominal &times; (1 + speed error) &times; (1 + drift &times; t + sum of the deviations at t),
 *
 * <p>so the deviations are relative to the off-speed mean, as a transport makes them. The phase is the analytic integral
 * of that, reduced by whole cycles before rounding reaches it: within about 1e-12 rad after hours when the moment is
 * given in two parts. Harmonics follow the phase.
 *
 * <p>Immutable; may be shared between threads.
 *
 * <p>Parameters are checked where they are set: what is not finite or out of range is refused with an {@link
 * IllegalArgumentException}. At a moment that is not finite the tone is NaN.
 */
public final class FmTone implements ExactSignal {
    private final double nominalHz;
    private final double amplitude;
    private final double startPhase;
    private final double speedError;
    private final double driftPerSecond;
    private final List<Deviation> deviations;
    private final List<Harmonic> harmonics;
    private final double steadyHz;
    /** Half of steady frequency times drift, with what its rounding lost. */
    private final double halfDrift;

    private final double halfDriftRest;

    private FmTone(Builder builder) {
        nominalHz = builder.nominalHz;
        amplitude = builder.amplitude;
        startPhase = builder.startPhase;
        speedError = builder.speedError;
        driftPerSecond = builder.driftPerSecond;
        deviations = List.copyOf(builder.deviations);
        harmonics = List.copyOf(builder.harmonics);
        steadyHz = nominalHz * (1 + speedError);
        halfDrift = steadyHz * (driftPerSecond / 2);
        halfDriftRest = Math.fma(steadyHz, driftPerSecond / 2, -halfDrift);
    }

    /**
     * Starts a tone.
     *
     * @param nominalHz frequency at the nominal speed, Hz
     * @return a builder of a full-scale tone without any fault
     */
    public static Builder builder(double nominalHz) {
        return new Builder(nominalHz);
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        double angle = Cycles.TWO_PI * cyclesAt(wholeSeconds, fraction) + startPhase;
        double value = Math.sin(angle);
        // By number: an iterator for each sample would cost more than what it goes through.
        for (int i = 0; i < harmonics.size(); i++) {
            value += harmonics.get(i).at(angle);
        }
        return amplitude * value;
    }

    /**
     * The phase since time 0 without its whole cycles and without the start phase.
     *
     * @param wholeSeconds whole seconds from the start
     * @param fraction the rest, from 0 to below 1
     * @return cycles, -0.5 to 0.5
     */
    public double cyclesAt(long wholeSeconds, double fraction) {
        double cycles = Cycles.of(steadyHz, wholeSeconds, fraction);
        if (driftPerSecond != 0) {
            double square = (double) wholeSeconds * wholeSeconds;
            cycles += Cycles.product(halfDrift, square)
                    + Cycles.reduce(halfDriftRest * square)
                    + Cycles.reduce(halfDrift * (2.0 * wholeSeconds + fraction) * fraction);
        }
        for (int i = 0; i < deviations.size(); i++) {
            cycles += Cycles.reduce(steadyHz * deviations.get(i).integralTo(wholeSeconds, fraction));
        }
        return Cycles.reduce(cycles);
    }

    /**
     * Wow and flutter at a moment: the sum of the deviations, without speed error and drift.
     *
     * @param seconds time from the start
     * @return the deviation relative to the steady speed, a ratio
     */
    public double relativeDeviationAt(double seconds) {
        double sum = 0;
        for (Deviation deviation : deviations) {
            sum += deviation.at(seconds);
        }
        return sum;
    }

    /**
     * The instantaneous frequency.
     *
     * @param seconds time from the start
     * @return the frequency in Hz
     */
    public double instantaneousFrequencyAt(double seconds) {
        return steadyHz * (1 + driftPerSecond * seconds + relativeDeviationAt(seconds));
    }

    /**
     * The mean frequency over a span, analytically.
     *
     * @param fromSeconds beginning of the span
     * @param toSeconds end of the span, after its beginning
     * @return the frequency in Hz
     */
    public double meanFrequencyHz(double fromSeconds, double toSeconds) {
        Require.that(
                fromSeconds < toSeconds,
                "end of the span is " + toSeconds + " s, allowed: after its beginning, " + fromSeconds + " s");
        double integral = 0;
        for (Deviation deviation : deviations) {
            integral += deviation.integralTo(toSeconds) - deviation.integralTo(fromSeconds);
        }
        return steadyHz * (1 + driftPerSecond * (fromSeconds + toSeconds) / 2 + integral / (toSeconds - fromSeconds));
    }

    /**
     * Mean speed error over a span, by the mean frequency: (mean - nominal) / nominal.
     *
     * @param fromSeconds beginning of the span
     * @param toSeconds end of the span, after its beginning
     * @return the error, a ratio
     */
    public double meanSpeedError(double fromSeconds, double toSeconds) {
        return meanFrequencyHz(fromSeconds, toSeconds) / nominalHz - 1;
    }

    /**
     * Frequency at the nominal speed.
     *
     * @return the frequency in Hz
     */
    public double nominalHz() {
        return nominalHz;
    }

    /**
     * Frequency at the machine's steady speed: nominal &times; (1 + speed error).
     *
     * @return the frequency in Hz
     */
    public double steadyHz() {
        return steadyHz;
    }

    /**
     * Peak amplitude of the fundamental.
     *
     * @return the amplitude; full scale is 1
     */
    public double amplitude() {
        return amplitude;
    }

    /**
     * Phase of the fundamental at time 0.
     *
     * @return the phase in rad
     */
    public double startPhase() {
        return startPhase;
    }

    /**
     * Speed error at time 0.
     *
     * @return the error, a ratio
     */
    public double speedError() {
        return speedError;
    }

    /**
     * Drift relative to the steady speed.
     *
     * @return the drift per second
     */
    public double driftPerSecond() {
        return driftPerSecond;
    }

    /**
     * The wow and flutter of this tone.
     *
     * @return the deviations in the order in which they were added
     */
    public List<Deviation> deviations() {
        return deviations;
    }

    /**
     * The harmonics of this tone.
     *
     * @return the harmonics in the order in which they were added
     */
    public List<Harmonic> harmonics() {
        return harmonics;
    }

    /** Builds a tone. Thread-confined. */
    public static final class Builder {
        private final double nominalHz;
        private final List<Deviation> deviations = new ArrayList<>();
        private final List<Harmonic> harmonics = new ArrayList<>();
        private double amplitude = 1;
        private double startPhase;
        private double speedError;
        private double driftPerSecond;

        private Builder(double nominalHz) {
            this.nominalHz = Require.positive("nominal frequency in Hz", nominalHz);
        }

        /**
         * Peak amplitude of the fundamental; 1 without this call.
         *
         * @param value finite and not below 0; full scale is 1
         * @return this builder
         */
        public Builder amplitude(double value) {
            amplitude = Require.notNegative("amplitude", value);
            return this;
        }

        /**
         * Phase of the fundamental at time 0; 0 without this call.
         *
         * @param radians phase of the sine
         * @return this builder
         */
        public Builder startPhase(double radians) {
            startPhase = Require.finite("start phase in rad", radians);
            return this;
        }

        /**
         * Speed error; 0 without this call.
         *
         * @param ratio (v - v nominal) / v nominal, above -1
         * @return this builder
         */
        public Builder speedError(double ratio) {
            speedError = Require.within("speed error as a ratio", ratio, Math.nextUp(-1.0), 10);
            return this;
        }

        /**
         * Linear drift; 0 without this call.
         *
         * @param perSecond change of the speed per second relative to the steady speed
         * @return this builder
         */
        public Builder drift(double perSecond) {
            driftPerSecond = Require.within("drift per second as a ratio", perSecond, -1, 1);
            return this;
        }

        /**
         * Adds a sinusoidal deviation that passes zero upwards at time 0.
         *
         * @param rateHz rate of the deviation
         * @param peak peak relative deviation, a ratio
         * @return this builder
         */
        public Builder sine(double rateHz, double peak) {
            return sine(rateHz, peak, 0);
        }

        /**
         * Adds a sinusoidal deviation.
         *
         * @param rateHz rate of the deviation
         * @param peak peak relative deviation, a ratio
         * @param phase phase at time 0, rad
         * @return this builder
         */
        public Builder sine(double rateHz, double peak, double phase) {
            return deviation(new SinusoidalDeviation(rateHz, peak, phase));
        }

        /**
         * Adds rectangular deviation pulses.
         *
         * @param height relative deviation during a pulse, a ratio; negative for slower
         * @param widthSeconds duration of a pulse
         * @param periodSeconds time from one pulse to the next
         * @param startSeconds where the first pulse begins
         * @return this builder
         */
        public Builder pulses(double height, double widthSeconds, double periodSeconds, double startSeconds) {
            return deviation(new PulsedDeviation(height, widthSeconds, periodSeconds, startSeconds));
        }

        /**
         * Adds any deviation, for example a {@link RandomDeviation}.
         *
         * @param deviation the deviation
         * @return this builder
         */
        public Builder deviation(Deviation deviation) {
            deviations.add(deviation);
            return this;
        }

        /**
         * Adds a harmonic.
         *
         * @param order multiple of the fundamental frequency
         * @param relativeAmplitude amplitude as a ratio to that of the fundamental
         * @return this builder
         */
        public Builder harmonic(int order, double relativeAmplitude) {
            return harmonic(order, relativeAmplitude, 0);
        }

        /**
         * Adds a harmonic with a phase.
         *
         * @param order multiple of the fundamental frequency
         * @param relativeAmplitude amplitude as a ratio to that of the fundamental
         * @param phase phase against the fundamental, rad
         * @return this builder
         */
        public Builder harmonic(int order, double relativeAmplitude, double phase) {
            harmonics.add(new Harmonic(order, relativeAmplitude, phase));
            return this;
        }

        /**
         * Makes the tone.
         *
         * @return the tone
         */
        public FmTone build() {
            return new FmTone(this);
        }
    }
}
