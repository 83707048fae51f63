/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.quantity;

/** The closed set of units in which readings are given. */
public enum Unit {
    /** Hertz. */
    HERTZ("Hz"),
    /** Per cent. */
    PERCENT("%"),
    /** Per cent per minute. */
    PERCENT_PER_MINUTE("%/min"),
    /** Decibels re a full-scale sine: the RMS scale of AES17, on which a full-scale sine is 0 dBFS. */
    DBFS("dBFS"),
    /** Decibels: a ratio of two levels. */
    DECIBEL("dB"),
    /** Decibels re {@code sqrt(0.6)} V. */
    DBU("dBu"),
    /** Decibels re 1 V. */
    DBV("dBV"),
    /** Volts, RMS. */
    VOLT("V"),
    /** Nanowebers per metre of track width, RMS. */
    NANOWEBER_PER_METRE("nWb/m"),
    /** Microseconds. */
    MICROSECOND("us"),
    /** Seconds. */
    SECOND("s"),
    /** Minutes of arc. */
    ARCMINUTE("arcmin"),
    /** Degrees of phase. */
    DEGREE("deg"),
    /** A plain number. */
    ONE("1");

    private final String symbol;

    Unit(String symbol) {
        this.symbol = symbol;
    }

    /**
     * The symbol that stands behind a value, as in the machine-readable output.
     *
     * @return the symbol, ASCII only
     */
    public String symbol() {
        return symbol;
    }
}
