/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import org.tapemetrology.signals.internal.Require;

/**
 * How sensitivity and distortion of a tape follow the bias current b, relative to the recommended one. Common practice,
 * no source: the curve is one that looks like those of tape data sheets. The sensitivity is
 *
 * <p>S(b, &lambda;) ~ b^m &times; exp(-b (m/B + 2&pi;a/&lambda;)),
 *
 * <p>so it rises at low bias, has its peak at b = 1/(1/B + 2&pi;a/(m&lambda;)) and falls beyond, the sooner and the
 * steeper the shorter the wave, because the recording zone grows longer with bias. Third harmonic grows by exp(r (y - 1 -
 * ln y)), y = b/b3, which is least at b3 and steep at low bias. Immutable; may be shared between threads.
 *
 * @param sharpness exponent m, a plain number
 * @param longWavePeak B, where long waves have their peak, a ratio to the recommended bias
 * @param transitionMicrometres length a of the recording zone at the recommended bias, in um
 * @param harmonicMinimum b3, where the third harmonic is least, a ratio to the recommended bias
 * @param harmonicSharpness r, a plain number
 */
public record BiasLaw(
        double sharpness,
        double longWavePeak,
        double transitionMicrometres,
        double harmonicMinimum,
        double harmonicSharpness) {
    /**
     * Checks the values.
     *
     * @param sharpness 0.5 to 20
     * @param longWavePeak 0.5 to 2
     * @param transitionMicrometres 0 to 50
     * @param harmonicMinimum 0.5 to 2
     * @param harmonicSharpness 0 to 50
     * @throws IllegalArgumentException if a number is outside its range: m 0.5 to 20, B and b3 0.5 to 2, a 0 um to 50
     *     um, r 0 to 50; NaN is in none
     */
    public BiasLaw {
        Require.within("sharpness of the bias curve", sharpness, 0.5, 20);
        Require.within("bias at the peak of long waves", longWavePeak, 0.5, 2);
        Require.within("length of the recording zone in micrometres", transitionMicrometres, 0, 50);
        Require.within("bias at the least third harmonic", harmonicMinimum, 0.5, 2);
        Require.within("sharpness of the third harmonic", harmonicSharpness, 0, 50);
    }

    /**
     * Sensitivity at a bias re that at the recommended bias, for the same wavelength.
     *
     * @param bias bias current relative to the recommended one, above 0
     * @param wavelengthMicrometres wavelength on the tape, infinite for the steady state
     * @return the amplitude ratio
     */
    public double sensitivityRatio(double bias, double wavelengthMicrometres) {
        double fall = fall(wavelengthMicrometres);
        return StrictMath.exp(sharpness * StrictMath.log(bias) - fall * (bias - 1));
    }

    /**
     * Bias at which a wave is recorded most strongly.
     *
     * @param wavelengthMicrometres wavelength on the tape
     * @return the bias current relative to the recommended one
     */
    public double peakBias(double wavelengthMicrometres) {
        return sharpness / fall(wavelengthMicrometres);
    }

    /**
     * By how much the level at the recommended bias lies below the peak.
     *
     * @param wavelengthMicrometres wavelength on the tape
     * @return the over-bias drop in dB, 0 or above
     */
    public double overBiasDrop(double wavelengthMicrometres) {
        return 20 * StrictMath.log10(sensitivityRatio(peakBias(wavelengthMicrometres), wavelengthMicrometres));
    }

    /**
     * Third harmonic at a bias re that at the best bias.
     *
     * @param bias bias current relative to the recommended one, above 0
     * @return the factor, 1 or above
     */
    public double harmonicFactor(double bias) {
        double y = bias / harmonicMinimum;
        return StrictMath.exp(harmonicSharpness * (y - 1 - StrictMath.log(y)));
    }

    private double fall(double wavelengthMicrometres) {
        return sharpness / longWavePeak + 2 * Math.PI * transitionMicrometres / wavelengthMicrometres;
    }
}
