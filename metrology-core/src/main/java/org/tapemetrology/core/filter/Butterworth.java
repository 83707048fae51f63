/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

import java.util.ArrayList;
import java.util.List;

/**
 * Butterworth filters, {@code |H|^2 = 1 / (1 + (f/fe)^2n)} for a low-pass of order n with the edge fe, by the bilinear
 * transform with the edge prewarped: the digital filter is at -3.01 dB exactly at its edge.
 *
 * <p>The response is that of S. Butterworth, Experimental Wireless 7 (1930) p. 536 (from memory). Edges are in Hz.
 * Cost: of the order of n squared, once. An edge that is NaN or not below half the sampling rate is refused; the
 * sampling rate itself is to be finite. It has no state: any number of threads may use it.
 *
 * <p>Not for an edge close to half the sampling rate, where the bilinear transform presses the curve together: that
 * is {@link #analogLowPass} with a {@link MatchedFilter}.
 */
public final class Butterworth {
    private Butterworth() {}

    /**
     * A low-pass filter.
     *
     * @param order order, 1 to 12
     * @param edgeHz edge in Hz, above 0 and below half the sampling rate
     * @param sampleRateHz sampling rate in Hz
     * @return a filter at rest
     */
    public static SecondOrderSections lowPass(int order, double edgeHz, double sampleRateHz) {
        List<Root> poles = poles(order, edgeHz, sampleRateHz);
        List<Root> zeros = repeated(order, -1);
        return SecondOrderSections.ofRoots(zeros, poles, sampleRateHz, 0);
    }

    /**
     * A low-pass filter on the analogue axis, for a {@link MatchedFilter} whose edge lies close to half the sampling rate.
     *
     * @param order an even order, 2 to 12
     * @param edgeHz edge in Hz
     * @return the prototype, 1 at 0 Hz
     */
    public static AnalogFilter analogLowPass(int order, double edgeHz) {
        if (order < 2 || order > 12 || order % 2 != 0) {
            throw new IllegalArgumentException("order " + order + " is not an even one in 2 to 12");
        }
        List<Root> poles = new ArrayList<>();
        for (int k = 0; k < order / 2; k++) {
            double angle = StrictMath.PI * (2 * k + 1) / (2 * order) + StrictMath.PI / 2;
            poles.add(Root.pair(edgeHz * StrictMath.cos(angle), edgeHz * StrictMath.sin(angle)));
        }
        return new AnalogFilter(0, List.of(), poles);
    }

    /**
     * A high-pass filter.
     *
     * @param order order, 1 to 12
     * @param edgeHz edge in Hz, above 0 and below half the sampling rate
     * @param sampleRateHz sampling rate in Hz
     * @return a filter at rest
     */
    public static SecondOrderSections highPass(int order, double edgeHz, double sampleRateHz) {
        List<Root> poles = poles(order, edgeHz, sampleRateHz);
        List<Root> zeros = repeated(order, 1);
        return SecondOrderSections.ofRoots(zeros, poles, sampleRateHz, sampleRateHz / 2);
    }

    /**
     * A high-pass and a low-pass filter of the same order in a row.
     *
     * @param order order of each edge, 1 to 12
     * @param lowerHz lower edge in Hz
     * @param upperHz upper edge in Hz, above the lower one
     * @param sampleRateHz sampling rate in Hz
     * @return a filter at rest
     */
    public static SecondOrderSections band(int order, double lowerHz, double upperHz, double sampleRateHz) {
        if (!(lowerHz < upperHz)) {
            throw new IllegalArgumentException("lowerHz " + lowerHz + " is not below upperHz " + upperHz);
        }
        return highPass(order, lowerHz, sampleRateHz).then(lowPass(order, upperHz, sampleRateHz));
    }

    /**
     * A band-pass filter by the low-pass to band-pass transform, at -3.01 dB at both edges; it has twice the order's
     * number of poles.
     *
     * @param order order of the low-pass prototype, 1 to 12
     * @param lowerHz lower edge in Hz, above 0
     * @param upperHz upper edge in Hz, above the lower one and below half the sampling rate
     * @param sampleRateHz sampling rate in Hz
     * @return a filter at rest
     */
    public static SecondOrderSections bandPass(int order, double lowerHz, double upperHz, double sampleRateHz) {
        if (!(lowerHz > 0 && lowerHz < upperHz && upperHz < sampleRateHz / 2)) {
            throw new IllegalArgumentException("edges " + lowerHz + " Hz and " + upperHz
                    + " Hz are not in order between 0 and half the sampling rate, " + sampleRateHz / 2 + " Hz");
        }
        if (order < 1 || order > 12) {
            throw new IllegalArgumentException("order " + order + " is not in 1 to 12");
        }
        double lower = 2 * sampleRateHz * StrictMath.tan(StrictMath.PI * lowerHz / sampleRateHz);
        double upper = 2 * sampleRateHz * StrictMath.tan(StrictMath.PI * upperHz / sampleRateHz);
        List<Root> poles = new ArrayList<>();
        for (int k = 0; k < (order + 1) / 2; k++) {
            double angle = StrictMath.PI * (2 * k + 1) / (2 * order) + StrictMath.PI / 2;
            boolean real = 2 * k + 1 == order;
            double re = (upper - lower) / 2 * StrictMath.cos(angle);
            double im = real ? 0 : (upper - lower) / 2 * StrictMath.sin(angle);
            addBandPassPoles(re, im, lower * upper, poles, sampleRateHz);
        }
        List<Root> zeros = repeated(order, 1);
        zeros.addAll(repeated(order, -1));
        double centreHz =
                sampleRateHz / StrictMath.PI * StrictMath.atan(StrictMath.sqrt(lower * upper) / (2 * sampleRateHz));
        return SecondOrderSections.ofRoots(zeros, poles, sampleRateHz, centreHz);
    }

    /** The roots of {@code s^2 - 2 q s + w2} for q = re + j im, half the prototype's pole times the bandwidth. */
    private static void addBandPassPoles(double re, double im, double w2, List<Root> poles, double sampleRateHz) {
        double dr = re * re - im * im - w2;
        double di = 2 * re * im;
        double modulus = StrictMath.hypot(dr, di);
        double rootRe = StrictMath.sqrt((modulus + dr) / 2);
        double rootIm = Math.copySign(StrictMath.sqrt((modulus - dr) / 2), di);
        if (im == 0) { // a real pole of the prototype: its two roots are conjugates, or two real poles of a wide band
            if (rootIm != 0) {
                poles.add(new Root(re, Math.abs(rootIm)).bilinear(sampleRateHz));
            } else {
                poles.add(Root.real(re + rootRe).bilinear(sampleRateHz));
                poles.add(Root.real(re - rootRe).bilinear(sampleRateHz));
            }
        } else {
            poles.add(new Root(re + rootRe, im + rootIm).bilinear(sampleRateHz));
            poles.add(new Root(re - rootRe, im - rootIm).bilinear(sampleRateHz));
        }
    }

    private static List<Root> repeated(int count, double place) {
        List<Root> roots = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            roots.add(Root.real(place));
        }
        return roots;
    }

    private static List<Root> poles(int order, double edgeHz, double sampleRateHz) {
        if (order < 1 || order > 12) {
            throw new IllegalArgumentException("order " + order + " is not in 1 to 12");
        }
        if (!(edgeHz > 0 && edgeHz < sampleRateHz / 2)) {
            throw new IllegalArgumentException(
                    "edge " + edgeHz + " Hz is not between 0 and half the sampling rate, " + sampleRateHz / 2 + " Hz");
        }
        double warped = 2 * sampleRateHz * StrictMath.tan(StrictMath.PI * edgeHz / sampleRateHz);
        List<Root> poles = new ArrayList<>();
        for (int k = 0; k < order / 2; k++) {
            // Low-pass to high-pass turns w e^(j phi) into w e^(-j phi): the same conjugate pair serves both.
            double angle = StrictMath.PI * (2 * k + 1) / (2 * order) + StrictMath.PI / 2;
            poles.add(new Root(warped * StrictMath.cos(angle), warped * StrictMath.sin(angle)).bilinear(sampleRateHz));
        }
        if (order % 2 == 1) {
            poles.add(new Root(-warped, 0).bilinear(sampleRateHz));
        }
        return poles;
    }
}
