/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.loss;

/** What can bend a replay response at short wavelengths. */
public enum LossCause {
    /** Distance between head and tape, in um. */
    SPACING("spacing", "um"),
    /** Optical gap length beyond the one that the equaliser makes up for, in um. */
    GAP("gap", "um"),
    /** Azimuth error, in minutes of arc; its sign cannot be told from one channel's response. */
    AZIMUTH("azimuth", "arcmin"),
    /** Thickness of the recorded layer beyond the one that the equaliser makes up for, in um. */
    THICKNESS("thickness", "um"),
    /** Treble time constant that the replay chain acts as having, in us. */
    TIME_CONSTANT("time constant", "us");

    private final String label;
    private final String unit;

    LossCause(String label, String unit) {
        this.label = label;
        this.unit = unit;
    }

    /**
     * The word for this cause.
     *
     * @return the word
     */
    public String label() {
        return label;
    }

    /**
     * The unit of its size.
     *
     * @return the symbol
     */
    public String unit() {
        return unit;
    }
}
