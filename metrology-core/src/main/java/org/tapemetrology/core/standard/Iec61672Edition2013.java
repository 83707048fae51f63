/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.standard;

import java.util.List;
import org.tapemetrology.core.filter.AnalogFilter;
import org.tapemetrology.core.filter.Root;

/**
 * IEC 61672-1:2013, sound level meters: the frequency weighting A.
 *
 * <p>Annex E gives the curve by four pole frequencies (formula from memory; it reproduces every row of table 3,
 * second-hand, within its rounding).
 *
 * <p>Not for the other weightings and the time constants of a sound level meter: noise on tape needs A alone.
 */
public final class Iec61672Edition2013 {
    /** Reference frequency fr of annex E, in Hz. */
    public static final double REFERENCE_HZ = 1000;

    private Iec61672Edition2013() {}

    /**
     * The A weighting, 0 dB at 1 kHz: four zeros at 0 Hz, double poles at f1 and f4, single ones at f2 and f3.
     *
     * <p>The poles follow exactly from annex E's fr = 1 kHz, fL = 10^1.5 Hz, fH = 10^3.9 Hz, fA = 10^2.45 Hz and
     * D^2 = 1/2: f1 = 20.598997 Hz, f2 = 107.65265 Hz, f3 = 737.86223 Hz, f4 = 12194.217 Hz (computed).
     *
     * @return the prototype
     */
    public static AnalogFilter aWeighting() {
        double fr2 = REFERENCE_HZ * REFERENCE_HZ;
        double fl2 = StrictMath.pow(10, 3.0); // fL squared
        double fh2 = StrictMath.pow(10, 7.8); // fH squared
        double d = StrictMath.sqrt(0.5);
        double b = (fr2 + fl2 * fh2 / fr2 - d * (fl2 + fh2)) / (1 - d);
        double root = StrictMath.sqrt(b * b - 4 * fl2 * fh2);
        double f1 = StrictMath.sqrt((-b - root) / 2);
        double f4 = StrictMath.sqrt((-b + root) / 2);
        double fa = StrictMath.pow(10, 2.45);
        double f2 = (3 - StrictMath.sqrt(5)) / 2 * fa;
        double f3 = (3 + StrictMath.sqrt(5)) / 2 * fa;
        Root zero = Root.real(0);
        return new AnalogFilter(
                REFERENCE_HZ,
                List.of(zero, zero, zero, zero),
                List.of(
                        Root.real(-f1),
                        Root.real(-f1),
                        Root.real(-f2),
                        Root.real(-f3),
                        Root.real(-f4),
                        Root.real(-f4)));
    }
}
