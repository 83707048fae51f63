/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.List;

/**
 * The suites, one for each document and edition. Each call makes a new one.
 *
 * <p>Has no state: any number of threads may use it.
 */
public final class Suites {
    private Suites() {}

    /**
     * IEC 60386:1972, method 2 after its amendment (the same: AES6, DIN 45507): weighted quasi-peak flutter.
     *
     * @return the suite
     */
    public static Suite<FlutterMeterUnderTest> iec60386QuasiPeak() {
        return FlutterCases.quasiPeak();
    }

    /**
     * IEC 60386:1972 with Amendment 1:1988, method 1 (the same: AES6-2008): weighted two-sigma flutter.
     *
     * @return the suite
     */
    public static Suite<FlutterMeterUnderTest> iec60386TwoSigma() {
        return FlutterCases.twoSigma();
    }

    /**
     * NAB, April 1965: average-responding flutter, weighted and flat. Everything from memory.
     *
     * @return the suite
     */
    public static Suite<FlutterMeterUnderTest> nab1965() {
        return FlutterCases.nab();
    }

    /**
     * JIS C 5551: weighted RMS flutter. Everything from memory.
     *
     * @return the suite
     */
    public static Suite<FlutterMeterUnderTest> jisC5551() {
        return FlutterCases.jis();
    }

    /**
     * DIN 45500 sheet 4: mean speed error over 30 s.
     *
     * @return the suite
     */
    public static Suite<SpeedMeterUnderTest> din45500Speed() {
        return SpeedCases.din45500();
    }

    /**
     * ITU-R BS.468-4: weighted quasi-peak noise.
     *
     * @return the suite
     */
    public static Suite<NoiseMeterUnderTest> ituRBs468() {
        return NoiseCases.ituRBs468();
    }

    /**
     * IEC 61672-1:2013, class 1: A-weighted RMS.
     *
     * @return the suite
     */
    public static Suite<NoiseMeterUnderTest> iec61672AWeighting() {
        return NoiseCases.iec61672();
    }

    /**
     * IEC 60268-17:1990: standard volume indicator.
     *
     * @return the suite
     */
    public static Suite<ProgrammeMeterUnderTest> iec60268Part17() {
        return ProgrammeCases.volumeIndicator();
    }

    /**
     * IEC 60268-10:1991, type I: peak programme meter.
     *
     * @return the suite
     */
    public static Suite<ProgrammeMeterUnderTest> iec60268Part10TypeOne() {
        return ProgrammeCases.typeOne();
    }

    /**
     * IEC 60268-10:1991, type II: peak programme meter.
     *
     * @return the suite
     */
    public static Suite<ProgrammeMeterUnderTest> iec60268Part10TypeTwo() {
        return ProgrammeCases.typeTwo();
    }

    /**
     * IEC 60094-1:1981, clause 15: replay equalisation.
     *
     * @return the suite
     */
    public static Suite<EqualisationUnderTest> iec60094Equalisation() {
        return EqualisationCases.iec60094();
    }

    /**
     * Every suite.
     *
     * @return all of them, in the order of this class
     */
    public static List<Suite<?>> all() {
        return List.of(
                iec60386QuasiPeak(),
                iec60386TwoSigma(),
                nab1965(),
                jisC5551(),
                din45500Speed(),
                ituRBs468(),
                iec61672AWeighting(),
                iec60268Part17(),
                iec60268Part10TypeOne(),
                iec60268Part10TypeTwo(),
                iec60094Equalisation());
    }
}
