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
    private static final int MOST_CALIBRATION_SECONDS = 10;
    private static final double SETTLED = 1e-12;

    private final QuasiPeakConstants constants;
    private final double sampleRateHz;
    private final double holdAttack;
    private final double holdKeep;
    private final double smoothAttack;
    private final double smoothKeep;
    private final double meter;
    private final double meterKeep;
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
        this.meterKeep = StrictMath.exp(-step / constants.meterSeconds());
        this.scale = scale;
        this.constants = constants;
        this.sampleRateHz = sampleRateHz;
    }

    /** The highest indication of a sine, taken until another second of it makes no more. */
    private static double highestOfCalibrationSine(QuasiPeakDetector detector) {
        double step = 2 * StrictMath.PI * CALIBRATION_HZ / detector.sampleRateHz;
        // The sine by its own recurrence, whose rounding stays below 1e-12 of it over the time.
        double cosine = StrictMath.cos(step);
        double sine = StrictMath.sin(step);
        double re = 1;
        double im = 0;
        double highest = 0;
        double before = -1;
        for (int second = 0; second < MOST_CALIBRATION_SECONDS && highest > before * (1 + SETTLED); second++) {
            before = highest;
            for (int i = 0; i < (int) detector.sampleRateHz; i++) {
                highest = Math.max(highest, detector.next(im));
                double turned = re * cosine - im * sine;
                im = re * sine + im * cosine;
                re = turned;
            }
        }
        return highest;
    }

    /**
     * Another detector of this kind, without finding the scale anew.
     *
     * @return a detector at rest
     */
    public QuasiPeakDetector another() {
        return new QuasiPeakDetector(constants, sampleRateHz, scale);
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
        indicator = meterKeep * indicator + meter * smooth;
        return scale * indicator;
    }

    /**
     * Takes a block, as {@link #next} sample by sample.
     *
     * @param in the samples
     * @param inOffset first of them
     * @param out where the indications go; it may be the input at the same offset
     * @param outOffset first of them
     * @param length number of samples
     */
    public void process(double[] in, int inOffset, double[] out, int outOffset, int length) {
        double upper = upperHold;
        double lower = lowerHold;
        double smoothed = smooth;
        double shown = indicator;
        for (int i = 0; i < length; i++) {
            double x = in[inOffset + i];
            upper = x > upper ? upper + holdAttack * (x - upper) : upper * holdKeep;
            lower = -x > lower ? lower + holdAttack * (-x - lower) : lower * holdKeep;
            double above = x + lower;
            double below = upper - x;
            double y = 0.5 * (above > below ? above : below);
            smoothed = y > smoothed ? smoothed + smoothAttack * (y - smoothed) : smoothed * smoothKeep;
            shown = meterKeep * shown + meter * smoothed;
            out[outOffset + i] = scale * shown;
        }
        upperHold = upper;
        lowerHold = lower;
        smooth = smoothed;
        indicator = shown;
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
