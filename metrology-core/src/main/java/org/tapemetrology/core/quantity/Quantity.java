/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.quantity;

import static org.tapemetrology.core.quantity.Unit.ARCMINUTE;
import static org.tapemetrology.core.quantity.Unit.DBFS;
import static org.tapemetrology.core.quantity.Unit.DBU;
import static org.tapemetrology.core.quantity.Unit.DECIBEL;
import static org.tapemetrology.core.quantity.Unit.HERTZ;
import static org.tapemetrology.core.quantity.Unit.MICROSECOND;
import static org.tapemetrology.core.quantity.Unit.ONE;
import static org.tapemetrology.core.quantity.Unit.PERCENT;
import static org.tapemetrology.core.quantity.Unit.PERCENT_PER_MINUTE;
import static org.tapemetrology.core.quantity.Unit.SECOND;

import java.util.Arrays;
import java.util.Optional;

/**
 * Every quantity that this library reads, with its identifier in the machine-readable output, its unit and its
 * definition. This is the one public list of identifiers.
 */
public enum Quantity {
    /** Mean carrier frequency over the measured span. */
    TONE_FREQUENCY("tone.frequency", HERTZ, "mean carrier frequency over the measured span"),
    /** Power of the test tone over that of the noise beside it, within the band that the demodulator passes. */
    TONE_SIGNAL_TO_NOISE("tone.signal-to-noise", DECIBEL, "tone over the noise beside it in the demodulated band"),

    /** Mean frequency minus nominal, over nominal. */
    SPEED_ERROR("speed.error", PERCENT, "(mean frequency - nominal)/nominal"),
    /** Least-squares slope of the relative speed. */
    SPEED_DRIFT("speed.drift", PERCENT_PER_MINUTE, "least-squares slope of the relative speed"),
    /** Largest minus smallest mean over consecutive 10 s. */
    SPEED_RANGE("speed.range", PERCENT, "largest minus smallest mean over consecutive 10 s"),

    /** Weighted quasi-peak, zero to peak: mean of the highest indications of consecutive 30 s. */
    FLUTTER_WEIGHTED_QUASI_PEAK(
            "flutter.weighted.quasi-peak", PERCENT, "weighted peak: mean of the highest indications of each 30 s"),
    /** The highest indication of the weighted quasi-peak meter. */
    FLUTTER_WEIGHTED_QUASI_PEAK_MAXIMUM(
            "flutter.weighted.quasi-peak.maximum", PERCENT, "weighted peak: highest indication"),
    /** The mean indication of the weighted quasi-peak meter. */
    FLUTTER_WEIGHTED_QUASI_PEAK_MEAN("flutter.weighted.quasi-peak.mean", PERCENT, "weighted peak: mean indication"),
    /** Level of the weighted magnitude exceeded for 5 % of the time. */
    FLUTTER_WEIGHTED_TWO_SIGMA(
            "flutter.weighted.two-sigma", PERCENT, "weighted magnitude exceeded for 5 % of the time"),
    /** The highest two-sigma value of consecutive 5 s. */
    FLUTTER_WEIGHTED_TWO_SIGMA_MAXIMUM(
            "flutter.weighted.two-sigma.maximum", PERCENT, "highest two-sigma value of consecutive 5 s"),
    /** Weighted true RMS (the JIS way). */
    FLUTTER_WEIGHTED_RMS("flutter.weighted.rms", PERCENT, "weighted, true RMS (the JIS way)"),
    /** Weighted, average-responding, scaled to the RMS of a sine (the NAB way). */
    FLUTTER_WEIGHTED_AVERAGE("flutter.weighted.average", PERCENT, "weighted, average-responding (the NAB way)"),
    /** Quasi-peak of the flat deviation, 0.1 Hz to 200 Hz. */
    FLUTTER_UNWEIGHTED_PEAK("flutter.unweighted.peak", PERCENT, "flat 0.1 Hz to 200 Hz, quasi-peak"),
    /** RMS of the flat deviation, 0.1 Hz to 200 Hz. */
    FLUTTER_UNWEIGHTED_RMS("flutter.unweighted.rms", PERCENT, "flat 0.1 Hz to 200 Hz, true RMS"),
    /** Average-responding flat deviation, 0.5 Hz to 200 Hz (the NAB way). */
    FLUTTER_UNWEIGHTED_AVERAGE(
            "flutter.unweighted.average", PERCENT, "flat 0.5 Hz to 200 Hz, average-responding (the NAB way)"),
    /** RMS deviation from 0.1 Hz to 10 Hz. */
    WOW_RMS("wow.rms", PERCENT, "0.1 Hz to 10 Hz, true RMS"),
    /** RMS deviation from 10 Hz to 200 Hz. */
    FLUTTER_RMS("flutter.rms", PERCENT, "10 Hz to 200 Hz, true RMS"),
    /** Scrape flutter: RMS deviation from 200 Hz up. */
    FLUTTER_SCRAPE_RMS("flutter.scrape.rms", PERCENT, "scrape flutter, from 200 Hz up, true RMS"),

    /** RMS level re a full-scale sine. */
    LEVEL("level", DBFS, "RMS, full-scale sine = 0 dBFS"),
    /** 95 % range of the level over 100 ms windows. */
    LEVEL_FLUCTUATION("level.fluctuation", DECIBEL, "95 % range of the level over 100 ms windows"),
    /** Indication of a standard volume indicator (IEC 60268-17) on the scale of {@link #LEVEL}. */
    LEVEL_VOLUME("level.volume", DBFS, "standard volume indicator, a steady sine reads its level"),
    /** The highest indication of the volume indicator. */
    LEVEL_VOLUME_MAXIMUM("level.volume.maximum", DBFS, "standard volume indicator, highest indication"),
    /** Indication of a peak programme meter (IEC 60268-10) on the scale of {@link #LEVEL}. */
    LEVEL_PROGRAMME_PEAK("level.programme-peak", DBFS, "peak programme meter, a steady sine reads its level"),
    /** The highest indication of the peak programme meter. */
    LEVEL_PROGRAMME_PEAK_MAXIMUM("level.programme-peak.maximum", DBFS, "peak programme meter, highest indication"),
    /** Median of the level over 100 ms windows, which a dropout does not move. */
    LEVEL_MEDIAN("level.median", DBFS, "median over 100 ms windows"),
    /** How long to measure until the mean level is known within 0.1 dB with a confidence of 95 %. */
    LEVEL_TIME_NEEDED("level.time-needed", SECOND, "until the level is known within 0.1 dB at 95 %"),
    /** The level re the reference level of the machine. */
    LEVEL_RE_REFERENCE("level.re-reference", DECIBEL, "level re the reference level"),
    /** The level at the input of the converter. */
    LEVEL_VOLTAGE("level.voltage", DBU, "level at the converter, re 0.775 V"),
    /** Maximum output level. */
    LEVEL_MAXIMUM_OUTPUT("level.maximum-output", DBFS, "level whose third harmonic is 3 % of it"),
    /** Channel 2 minus channel 1. */
    CHANNEL_BALANCE("channel.balance", DECIBEL, "channel 2 minus channel 1"),
    /** The channel that carries the stronger tone. */
    CHANNEL_IDENTITY("channel.identity", ONE, "number of the channel that carries the tone"),
    /** Whether the channels have the same polarity, 1, or opposite ones, -1. */
    CHANNEL_POLARITY("channel.polarity", ONE, "1 where the channels agree, -1 where one is inverted"),

    /** Delay between the channels, positive when channel 2 lags channel 1. */
    AZIMUTH_DELAY("azimuth.delay", MICROSECOND, "positive when channel 2 lags channel 1"),
    /** Azimuth angle from the delay, the track spacing and the speed. */
    AZIMUTH_ANGLE("azimuth.angle", ARCMINUTE, "from the delay, the track spacing and the speed"),
    /** 95 % range of the delay between the channels as the tape wanders. */
    AZIMUTH_WANDER("azimuth.wander", MICROSECOND, "95 % range of the delay"),
    /** Level that the azimuth error costs on each track at a frequency. */
    AZIMUTH_LEVEL_LOSS("azimuth.level-loss", DECIBEL, "level that the azimuth error costs at a frequency"),
    /** Level of a short wavelength below the highest that was reached, for the azimuth of a single channel. */
    AZIMUTH_LEVEL_DROP("azimuth.level-drop", DECIBEL, "level of a short wavelength below the highest that was reached"),

    /** Third harmonic re the fundamental. */
    DISTORTION_THIRD_HARMONIC("distortion.third-harmonic", PERCENT, "third harmonic re the fundamental"),
    /** Harmonics 2 to 10 below 20 kHz, root sum square, re the fundamental. */
    DISTORTION_THD("distortion.thd", PERCENT, "harmonics 2 to 10 below 20 kHz re the fundamental"),
    /** Everything but the fundamental, re the fundamental. */
    DISTORTION_THD_PLUS_NOISE("distortion.thd-plus-noise", PERCENT, "all but the fundamental, re the fundamental"),
    /** Two-tone difference-frequency distortion. */
    DISTORTION_DIFFERENCE_FREQUENCY(
            "distortion.difference-frequency", PERCENT, "two-tone difference-frequency distortion"),
    /** Two-tone modulation distortion. */
    DISTORTION_MODULATION("distortion.modulation", PERCENT, "two-tone modulation distortion"),

    /** A-weighted RMS. */
    NOISE_A_WEIGHTED("noise.a-weighted", DBFS, "A-weighted RMS"),
    /** RMS from 22.4 Hz to 22.4 kHz. */
    NOISE_UNWEIGHTED("noise.unweighted", DBFS, "22.4 Hz to 22.4 kHz, true RMS"),
    /** Weighted quasi-peak by ITU-R BS.468. */
    NOISE_QUASI_PEAK("noise.quasi-peak", DBFS, "ITU-R BS.468 weighted quasi-peak, mean indication"),
    /** The highest indication of the ITU-R BS.468 meter. */
    NOISE_QUASI_PEAK_MAXIMUM("noise.quasi-peak.maximum", DBFS, "ITU-R BS.468 weighted quasi-peak, highest"),
    /** Weighted like the quasi-peak but with 0 dB at 2 kHz, average-responding, scaled to the RMS of a sine. */
    NOISE_AVERAGE("noise.average", DBFS, "ITU-R BS.468 weighting re 2 kHz, average-responding"),
    /** RMS in one-third-octave bands. */
    NOISE_THIRD_OCTAVE("noise.third-octave", DBFS, "true RMS in one-third-octave bands"),
    /** Mains fundamental and harmonics. */
    HUM("hum", DBFS, "mains fundamental and harmonics 2 to 10"),

    /** Selective residue in the silent channel re the recorded tone. */
    SEPARATION("separation", DECIBEL, "recorded tone over its residue in the silent channel"),
    /** Selective residue after erasure re the recorded tone. */
    ERASURE("erasure", DECIBEL, "recorded tone over its residue after erasure"),
    /** Print-through from the layer that follows: the recorded tone over its echo before it. */
    PRINT_THROUGH_BEFORE("print-through.before", DECIBEL, "recorded tone over its echo before it"),
    /** Print-through from the layer that went before: the recorded tone over its echo after it. */
    PRINT_THROUGH_AFTER("print-through.after", DECIBEL, "recorded tone over its echo after it"),
    /** How far the level of a short wavelength has fallen from its peak over the bias. */
    BIAS_DROP("bias.drop", DECIBEL, "level of a short wavelength below its peak over the bias"),
    /** What a companding noise reduction adds to a level, encoded and decoded. */
    COMPANDING_TRACKING("companding.tracking", DECIBEL, "level with the companding noise reduction less that without"),
    /** Level at a frequency re the level at the reference frequency. */
    RESPONSE("response", DECIBEL, "level at a frequency re the reference frequency");

    private final String id;
    private final Unit unit;
    private final String definition;

    Quantity(String id, Unit unit, String definition) {
        this.id = id;
        this.unit = unit;
        this.definition = definition;
    }

    /**
     * The identifier in the machine-readable output.
     *
     * @return the identifier, for example {@code flutter.weighted.two-sigma}
     */
    public String id() {
        return id;
    }

    /**
     * The unit in which every reading of this quantity is given.
     *
     * @return the unit
     */
    public Unit unit() {
        return unit;
    }

    /**
     * What the quantity is, in a few words for a table.
     *
     * @return the definition
     */
    public String definition() {
        return definition;
    }

    /**
     * The quantity with an identifier.
     *
     * @param id the identifier
     * @return the quantity, or empty where none has that identifier
     */
    public static Optional<Quantity> ofId(String id) {
        return Arrays.stream(values()).filter(q -> q.id.equals(id)).findFirst();
    }
}
