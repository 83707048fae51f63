/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.detector;

/**
 * Peak-to-peak quasi-peak detector, blind to polarity, read as zero to peak: a 4 Hz sine of amplitude A indicates A.
 *
 * <p>For an input x, with the constants of {@link QuasiPeakConstants}:
 *
 * <ol>
 *   <li>E+ follows x with the hold attack while x is above it and otherwise falls towards zero with the hold decay; E-
 *       does the same for -x;
 *   <li>y, the running half of the peak-to-peak value, is the larger of (x + E-)/2 and (E+ - x)/2;
 *   <li>s follows y with the smoothing attack while y is above it and otherwise falls with the smoothing decay;
 *   <li>the indication is s through one pole of the meter constant, times a scale.
 * </ol>
 *
 * <p>The published standard gives readings for pulses, not constants: whatever constants are used are a realisation.
 * The scale is found once, for the sampling rate, by indicating a 4 Hz sine. A non-finite sample stays in the state
 * until {@link #reset()}. Thread-confined.
 */
public final class QuasiPeakDetector {
    private static final double CALIBRATION_HZ = 4;
    private static final int CALIBRATION_SECONDS = 10;

    private final double sampleRateHz;
    private final double holdAttack;
    private final double holdKeep;
    private final double smoothAttack;
    private final double smoothKeep;
    private final double meter;
    private final double scale;

    private double upperHold;
    private double lowerHold;
    private double smooth;
    private double indicator;

    /**
     * A detector at rest.
     *
     * @param constants its time constants
     * @param sampleRateHz rate of the samples that it will take, at least 100 Hz
     */
    public QuasiPeakDetector(QuasiPeakConstants constants, double sampleRateHz) {
        this(constants, sampleRateHz, 1 / highestOfCalibrationSine(new QuasiPeakDetector(constants, sampleRateHz, 1)));
    }

    private QuasiPeakDetector(QuasiPeakConstants constants, double sampleRateHz, double scale) {
        if (!(sampleRateHz >= 100)) {
            throw new IllegalArgumentException("sampleRateHz " + sampleRateHz + " is below 100");
        }
        double step = 1 / sampleRateHz;
        this.holdAttack = -StrictMath.expm1(-step / constants.holdAttackSeconds());
        this.holdKeep = StrictMath.exp(-step / constants.holdDecaySeconds());
        this.smoothAttack = -StrictMath.expm1(-step / constants.smoothAttackSeconds());
        this.smoothKeep = StrictMath.exp(-step / constants.smoothDecaySeconds());
        this.meter = -StrictMath.expm1(-step / constants.meterSeconds());
        this.scale = scale;
        this.sampleRateHz = sampleRateHz;
    }

    private static double highestOfCalibrationSine(QuasiPeakDetector detector) {
        double highest = 0;
        double step = 2 * StrictMath.PI * CALIBRATION_HZ / detector.sampleRateHz;
        int samples = (int) (CALIBRATION_SECONDS * detector.sampleRateHz);
        for (int i = 0; i < samples; i++) {
            highest = Math.max(highest, detector.next(StrictMath.sin(step * i)));
        }
        return highest;
    }

    /**
     * Takes one sample.
     *
     * @param x the sample
     * @return the indication after it, in the unit of the sample
     */
    public double next(double x) {
        if (x > upperHold) {
            upperHold += holdAttack * (x - upperHold);
        } else {
            upperHold *= holdKeep;
        }
        if (-x > lowerHold) {
            lowerHold += holdAttack * (-x - lowerHold);
        } else {
            lowerHold *= holdKeep;
        }
        double above = x + lowerHold;
        double below = upperHold - x;
        double y = 0.5 * (above > below ? above : below);
        if (y > smooth) {
            smooth += smoothAttack * (y - smooth);
        } else {
            smooth *= smoothKeep;
        }
        indicator += meter * (smooth - indicator);
        return scale * indicator;
    }

    /**
     * The present indication.
     *
     * @return indication in the unit of the samples
     */
    public double indication() {
        return scale * indicator;
    }

    /** Puts the detector to rest. */
    public void reset() {
        upperHold = 0;
        lowerHold = 0;
        smooth = 0;
        indicator = 0;
    }
}
