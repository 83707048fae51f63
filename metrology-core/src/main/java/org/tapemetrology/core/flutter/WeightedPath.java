/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import org.tapemetrology.core.filter.MagnitudeCorrection;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.filter.SevenTapFilter;
import org.tapemetrology.core.standard.Iec60386Edition1972;

/**
 * The IEC 60386 weighting as the deviation really meets it: the sections of the bilinear transform and, before them, a
 * short filter that takes the warping of that transform out, up to {@value #BAND_HZ} Hz.
 */
final class WeightedPath {
    /** Where the path ends at every sampling rate. */
    static final double BAND_HZ = 470;

    private static final int CORRECTION_HALF_LENGTH = 3;

    private final SecondOrderSections sections;
    private final SevenTapFilter correction;

    WeightedPath(double rateHz) {
        var curve = Iec60386Edition1972.weighting();
        this.sections = curve.bilinear(rateHz);
        this.correction = new SevenTapFilter(MagnitudeCorrection.design(
                CORRECTION_HALF_LENGTH, BAND_HZ, rateHz, f -> curve.magnitude(f) / sections.magnitude(f)));
    }

    void presetTo(double constant) {
        correction.presetTo(constant);
        sections.presetTo(constant);
    }

    /** Weights a block; as many values come out as go in. */
    void process(double[] in, int inOffset, int length, double[] out) {
        correction.process(in, inOffset, length, out, 0);
        sections.process(out, 0, out, 0, length);
    }
}
