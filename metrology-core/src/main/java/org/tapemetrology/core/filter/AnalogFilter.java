/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.filter;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * An analogue prototype by its zeros and poles, {@code H(f) = k prod(jf - z) / prod(jf - p)} with f, z and p in Hz
 * (by definition), scaled so that its magnitude is 1 at a reference frequency. Immutable.
 *
 * <p>Cost: of the order of its roots for each frequency. Roots that are NaN are refused; the magnitude at NaN
 * is NaN.
 *
 * <p>Not for samples: {@link #bilinear} or a {@link MatchedFilter} makes the filter that runs.
 */
public final class AnalogFilter {
    private final List<Root> zerosHz;
    private final List<Root> polesHz;
    private final double referenceHz;
    private final double gain;

    /**
     * A filter of magnitude 1 at a reference frequency.
     *
     * @param referenceHz reference frequency in Hz, at least 0; 0 only where no zero lies at 0
     * @param zerosHz zeros in Hz
     * @param polesHz poles in Hz, every one in the left half plane, at least as many as zeros
     */
    public AnalogFilter(double referenceHz, List<Root> zerosHz, List<Root> polesHz) {
        if (!(referenceHz >= 0 && referenceHz < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("referenceHz " + referenceHz + " is not in [0, infinity)");
        }
        for (Root pole : polesHz) {
            if (!(pole.re() < 0)) {
                throw new IllegalArgumentException(pole + " is a pole outside the left half plane: re must be below 0");
            }
        }
        if (count(zerosHz) > count(polesHz)) {
            throw new IllegalArgumentException(
                    count(zerosHz) + " zeros are more than the " + count(polesHz) + " poles");
        }
        this.zerosHz = List.copyOf(zerosHz);
        this.polesHz = List.copyOf(polesHz);
        this.referenceHz = referenceHz;
        this.gain = 1 / unscaledMagnitude(referenceHz);
        if (!Double.isFinite(gain)) {
            throw new IllegalArgumentException("referenceHz " + referenceHz + " is a zero of the filter");
        }
    }

    static int count(List<Root> roots) {
        return roots.stream().mapToInt(Root::count).sum();
    }

    private double unscaledMagnitude(double frequencyHz) {
        double magnitude = 1;
        for (Root zero : zerosHz) {
            magnitude *= zero.distanceFromImaginaryAxisPoint(frequencyHz);
        }
        for (Root pole : polesHz) {
            magnitude /= pole.distanceFromImaginaryAxisPoint(frequencyHz);
        }
        return magnitude;
    }

    /**
     * Magnitude of the response.
     *
     * @param frequencyHz frequency in Hz
     * @return magnitude, 1 at the reference frequency
     */
    public double magnitude(double frequencyHz) {
        return gain * unscaledMagnitude(frequencyHz);
    }

    /**
     * The bilinear transform of this filter, scaled to magnitude 1 at the reference frequency. Its response is that of
     * the prototype at {@code (fs/pi) tan(pi f/fs)}; {@link MagnitudeCorrection} removes that warping where it matters.
     *
     * @param sampleRateHz sampling rate in Hz, more than twice the reference frequency
     * @return a filter of its own, at rest
     */
    public SecondOrderSections bilinear(double sampleRateHz) {
        if (!(sampleRateHz > 2 * referenceHz)) {
            throw new IllegalArgumentException("sampleRateHz " + sampleRateHz
                    + " is not above twice the reference frequency " + referenceHz + " Hz");
        }
        List<Root> zeros = inZPlane(zerosHz, sampleRateHz);
        List<Root> poles = inZPlane(polesHz, sampleRateHz);
        for (int excess = count(polesHz) - count(zerosHz); excess > 0; excess--) {
            zeros.add(Root.real(-1)); // the bilinear transform moves a zero at infinity to half the sampling rate
        }
        return SecondOrderSections.ofRoots(zeros, poles, sampleRateHz, referenceHz);
    }

    /**
     * The sections of the matched z transform: every root p, in rad/s, goes to {@code exp(p / fs)}, and no zero is put
     * at half the sampling rate. The magnitude is that of the prototype but for a smooth factor near half the sampling
     * rate, which the zeros and poles of a correction take out.
     */
    SecondOrderSections matchedSections(double sampleRateHz, @Nullable RationalCorrection correction) {
        if (!(sampleRateHz > 2 * referenceHz)) {
            throw new IllegalArgumentException("sampleRateHz " + sampleRateHz
                    + " is not above twice the reference frequency " + referenceHz + " Hz");
        }
        List<Root> zeros = new ArrayList<>();
        List<Root> poles = new ArrayList<>();
        zerosHz.forEach(root -> zeros.add(root.matched(sampleRateHz)));
        polesHz.forEach(root -> poles.add(root.matched(sampleRateHz)));
        if (correction != null) {
            zeros.addAll(correction.zeros());
            poles.addAll(correction.poles());
        }
        return SecondOrderSections.ofRoots(zeros, poles, sampleRateHz, referenceHz);
    }

    private static List<Root> inZPlane(List<Root> roots, double sampleRateHz) {
        List<Root> moved = new ArrayList<>();
        for (Root root : roots) {
            moved.add(new Root(2 * StrictMath.PI * root.re(), 2 * StrictMath.PI * root.im()).bilinear(sampleRateHz));
        }
        return moved;
    }
}
