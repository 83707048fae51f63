/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.table;

import java.util.List;
import java.util.Optional;
import org.tapemetrology.signals.table.FlutterPulseRow.Indication;

/**
 * The tables that this module holds. Each call reads the table from its resource; a table that is missing or damaged is
 * an {@link IllegalStateException} that names file and line.
 *
 * <p>Has no state: any number of threads may use it.
 */
public final class PublishedTables {
    private static final String CONFIDENCE = "confidence";
    private static final String TOLERANCE_CONFIDENCE = "tolerance_confidence";
    private static final List<String> WEIGHTING_COLUMNS =
            List.of("frequency_hz", "response_db", "minus_db", "plus_db", CONFIDENCE, TOLERANCE_CONFIDENCE);
    private static final List<String> NOISE_BURST_COLUMNS =
            List.of("burst_ms", "bursts_per_second", "nominal_percent", "lower_percent", "upper_percent", CONFIDENCE);
    private static final List<String> PROGRAMME_BURST_COLUMNS =
            List.of("burst_ms", "indication_db", "minus_db", "plus_db", CONFIDENCE, TOLERANCE_CONFIDENCE);

    private PublishedTables() {}

    /**
     * IEC 60386, Table I: weighting of speed deviations, re 4 Hz.
     *
     * @return the table
     */
    public static PublishedTable<WeightingRow> flutterWeighting() {
        return weighting("iec-60386-weighting.csv");
    }

    /**
     * IEC 60386, method 2: dynamics of the quasi-peak indicator.
     *
     * @return the table
     */
    public static PublishedTable<FlutterPulseRow> flutterPulses() {
        return TableReader.resource(
                "iec-60386-quasi-peak.csv",
                List.of(
                        "pulse_ms",
                        "indication",
                        "nominal_percent",
                        "lower_percent",
                        "upper_percent",
                        CONFIDENCE,
                        TOLERANCE_CONFIDENCE),
                row -> new FlutterPulseRow(
                        row.number("pulse_ms"),
                        row.word("indication", Indication.class),
                        row.number("nominal_percent"),
                        row.number("lower_percent"),
                        row.number("upper_percent"),
                        row.confidence(CONFIDENCE),
                        row.confidence(TOLERANCE_CONFIDENCE)));
    }

    /**
     * ITU-R BS.468-4, Table 1: weighting of noise, re 1 kHz.
     *
     * @return the table
     */
    public static PublishedTable<WeightingRow> noiseWeighting() {
        return weighting("itu-r-bs468-weighting.csv");
    }

    /**
     * ITU-R BS.468-4, Table 2: reading of single bursts.
     *
     * @return the table
     */
    public static PublishedTable<NoiseBurstRow> noiseSingleBursts() {
        return noiseBursts("itu-r-bs468-single-bursts.csv");
    }

    /**
     * ITU-R BS.468-4, Table 3: reading of repeated bursts.
     *
     * @return the table
     */
    public static PublishedTable<NoiseBurstRow> noiseRepeatedBursts() {
        return noiseBursts("itu-r-bs468-repeated-bursts.csv");
    }

    /**
     * IEC 61672-1, Table 3: A-weighting with the acceptance limits of class 1.
     *
     * @return the table
     */
    public static PublishedTable<WeightingRow> aWeighting() {
        return TableReader.resource(
                "iec-61672-1-a-weighting.csv",
                List.of("nominal_hz", "exact_hz", "response_db", "minus_db", "plus_db", CONFIDENCE),
                row -> new WeightingRow(
                        row.number("nominal_hz"),
                        row.number("exact_hz"),
                        row.number("response_db"),
                        Optional.of(row.tolerance("minus_db", "plus_db")),
                        row.confidence(CONFIDENCE),
                        row.confidence(CONFIDENCE)));
    }

    /**
     * IEC 60268-10: bursts on a peak programme meter of type I.
     *
     * @return the table
     */
    public static PublishedTable<ProgrammeBurstRow> programmeMeterTypeI() {
        return programmeBursts("iec-60268-10-type-i-bursts.csv");
    }

    /**
     * IEC 60268-10: bursts on a peak programme meter of type II.
     *
     * @return the table
     */
    public static PublishedTable<ProgrammeBurstRow> programmeMeterTypeII() {
        return programmeBursts("iec-60268-10-type-ii-bursts.csv");
    }

    /**
     * IEC 60268-10: return times of peak programme meters.
     *
     * @return the table
     */
    public static PublishedTable<ReturnRow> programmeMeterReturn() {
        return TableReader.resource(
                "iec-60268-10-return.csv",
                List.of("type", "fall_db", "seconds", "minus_s", "plus_s", CONFIDENCE, TOLERANCE_CONFIDENCE),
                row -> new ReturnRow(
                        row.text("type"),
                        row.number("fall_db"),
                        row.number("seconds"),
                        row.tolerance("minus_s", "plus_s"),
                        row.confidence(CONFIDENCE),
                        row.confidence(TOLERANCE_CONFIDENCE)));
    }

    /**
     * IEC 60268-17: the standard volume indicator.
     *
     * @return the table
     */
    public static PublishedTable<ParameterRow> volumeIndicator() {
        return TableReader.resource(
                "iec-60268-17-vu.csv",
                List.of("parameter", "unit", "value", "minus", "plus", CONFIDENCE, TOLERANCE_CONFIDENCE),
                row -> new ParameterRow(
                        row.text("parameter"),
                        row.text("unit"),
                        row.number("value"),
                        row.optionalTolerance("minus", "plus"),
                        row.confidence(CONFIDENCE),
                        row.confidence(TOLERANCE_CONFIDENCE)));
    }

    /**
     * IEC 60094-1, clause 15.1, and earlier standards: time constants of the recorded flux.
     *
     * @return the table
     */
    public static PublishedTable<TimeConstantRow> timeConstants() {
        return TableReader.resource(
                "iec-60094-1-time-constants.csv",
                List.of("speed_cm_per_s", "designation", "bass_us", "treble_us", CONFIDENCE),
                row -> new TimeConstantRow(
                        row.number("speed_cm_per_s"),
                        row.text("designation"),
                        row.optionalNumber("bass_us"),
                        row.number("treble_us"),
                        row.confidence(CONFIDENCE)));
    }

    /**
     * Published test frequencies for speed and flutter.
     *
     * @return the table
     */
    public static PublishedTable<CarrierRow> carriers() {
        return TableReader.resource(
                "carriers.csv",
                List.of("frequency_hz", "standard", CONFIDENCE),
                row -> new CarrierRow(row.number("frequency_hz"), row.text("standard"), row.confidence(CONFIDENCE)));
    }

    private static PublishedTable<WeightingRow> weighting(String name) {
        return TableReader.resource(
                name,
                WEIGHTING_COLUMNS,
                row -> new WeightingRow(
                        row.number("frequency_hz"),
                        row.number("frequency_hz"),
                        row.number("response_db"),
                        row.optionalTolerance("minus_db", "plus_db"),
                        row.confidence(CONFIDENCE),
                        row.confidence(TOLERANCE_CONFIDENCE)));
    }

    private static PublishedTable<NoiseBurstRow> noiseBursts(String name) {
        return TableReader.resource(
                name,
                NOISE_BURST_COLUMNS,
                row -> new NoiseBurstRow(
                        row.number("burst_ms"),
                        row.optionalNumber("bursts_per_second"),
                        row.number("nominal_percent"),
                        row.number("lower_percent"),
                        row.number("upper_percent"),
                        row.confidence(CONFIDENCE)));
    }

    private static PublishedTable<ProgrammeBurstRow> programmeBursts(String name) {
        return TableReader.resource(
                name,
                PROGRAMME_BURST_COLUMNS,
                row -> new ProgrammeBurstRow(
                        row.number("burst_ms"),
                        row.number("indication_db"),
                        row.tolerance("minus_db", "plus_db"),
                        row.confidence(CONFIDENCE),
                        row.confidence(TOLERANCE_CONFIDENCE)));
    }
}
