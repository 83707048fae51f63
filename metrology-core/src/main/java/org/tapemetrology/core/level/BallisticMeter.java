/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.level;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.DoubleFunction;
import org.tapemetrology.core.detector.Detector;
import org.tapemetrology.core.detector.RectifiedMeans;
import org.tapemetrology.core.detector.Statistics;
import org.tapemetrology.core.filter.Oversampler;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.standard.Iec60268Part10;
import org.tapemetrology.core.standard.Iec60268Part17;

/**
 * A level meter for one channel with the ballistics of a standard: its indication now and the highest since the start.
 *
 * <p>Levels are in dBFS; a steady sine reads its level. The signal is oversampled to at least 160 kHz before it is
 * rectified; the slow movement of the volume indicator then takes {@link RectifiedMeans}. Readings are {@code settling} for the first 300 ms, {@code insufficient-data} at digital silence, which has
 * no level, and {@code invalid-input} from the first non-finite sample until {@link #reset()}. Thread-confined.
 *
 * <p>Settling and cost: the first 300 ms. Memory does not grow. Constants are those of IEC 60268-10 and IEC 60268-17
 * in {@link org.tapemetrology.core.standard}.
 *
 * <p>Not for finding overload: peaks that are short against the attack do not show.
 */
public final class BallisticMeter {
    private static final double SETTLING_SECONDS = 0.3;
    private static final int CHUNK = 512;

    private final Quantity quantity;
    private final Quantity maximumQuantity;
    private final String method;
    private final Oversampler oversampler;
    private final Optional<RectifiedMeans> means;
    private final Detector detector;
    private final double indicationRateHz;
    private final Statistics statistics = new Statistics();
    private final double[] input = new double[CHUNK];
    private final double[] oversampled;
    private final double[] indication;
    private double latest;
    private boolean invalid;

    private BallisticMeter(
            double sampleRateHz,
            Optional<RectifiedMeans> means,
            DoubleFunction<Detector> detectorForRate,
            Quantity quantity,
            Quantity maximumQuantity,
            String method) {
        if (!(sampleRateHz >= 8000 && sampleRateHz <= 192_000)) {
            throw new IllegalArgumentException("sampleRateHz " + sampleRateHz + " is not in 8000 to 192000");
        }
        this.quantity = quantity;
        this.maximumQuantity = maximumQuantity;
        this.method = method;
        this.oversampler = Oversampler.beforeRectifier(sampleRateHz);
        this.means = means;
        this.indicationRateHz = oversampler.outputRateHz() / (means.isPresent() ? RectifiedMeans.GROUP : 1);
        this.detector = detectorForRate.apply(indicationRateHz);
        this.oversampled = new double[CHUNK * oversampler.factor()];
        this.indication = means.isPresent() ? new double[oversampled.length / RectifiedMeans.GROUP + 1] : oversampled;
    }

    /**
     * A standard volume indicator by IEC 60268-17.
     *
     * @param sampleRateHz sampling rate in Hz, 8000 to 192000
     * @return a meter at rest
     */
    public static BallisticMeter volumeIndicator(double sampleRateHz) {
        return new BallisticMeter(
                sampleRateHz,
                Optional.of(new RectifiedMeans()),
                Iec60268Part17::detector,
                Quantity.LEVEL_VOLUME,
                Quantity.LEVEL_VOLUME_MAXIMUM,
                "IEC 60268-17");
    }

    /**
     * A peak programme meter by IEC 60268-10, type I.
     *
     * @param sampleRateHz sampling rate in Hz, 8000 to 192000
     * @return a meter at rest
     */
    public static BallisticMeter programmePeakTypeOne(double sampleRateHz) {
        return programmePeak(sampleRateHz, Iec60268Part10::typeOneDetector, "IEC 60268-10 type I");
    }

    /**
     * A peak programme meter by IEC 60268-10, type II.
     *
     * @param sampleRateHz sampling rate in Hz, 8000 to 192000
     * @return a meter at rest
     */
    public static BallisticMeter programmePeakTypeTwo(double sampleRateHz) {
        return programmePeak(sampleRateHz, Iec60268Part10::typeTwoDetector, "IEC 60268-10 type II");
    }

    private static BallisticMeter programmePeak(
            double sampleRateHz, DoubleFunction<Detector> detectorForRate, String method) {
        return new BallisticMeter(
                sampleRateHz,
                Optional.empty(), // it is to see every peak
                detectorForRate,
                Quantity.LEVEL_PROGRAMME_PEAK,
                Quantity.LEVEL_PROGRAMME_PEAK_MAXIMUM,
                method);
    }

    /**
     * Takes a block.
     *
     * @param samples samples, full scale is 1
     * @param offset first sample
     * @param length number of samples
     */
    public void accept(double[] samples, int offset, int length) {
        for (int done = 0; done < length; ) {
            int part = Math.min(CHUNK, length - done);
            System.arraycopy(samples, offset + done, input, 0, part);
            take(part);
            done += part;
        }
    }

    /**
     * Takes a block.
     *
     * @param samples samples, full scale is 1
     * @param offset first sample
     * @param length number of samples
     */
    public void accept(float[] samples, int offset, int length) {
        for (int done = 0; done < length; ) {
            int part = Math.min(CHUNK, length - done);
            for (int i = 0; i < part; i++) {
                input[i] = samples[offset + done + i];
            }
            take(part);
            done += part;
        }
    }

    private void take(int length) {
        for (int i = 0; i < length; i++) {
            invalid |= !Double.isFinite(input[i]);
        }
        if (invalid) {
            return;
        }
        int count = oversampler.process(input, 0, length, oversampled, 0);
        if (means.isPresent()) {
            count = means.get().process(oversampled, 0, count, indication, 0);
        }
        detector.process(indication, 0, indication, 0, count);
        statistics.process(indication, 0, count);
        if (count > 0) {
            latest = indication[count - 1];
        }
    }

    /**
     * The indication now and the highest indication since the start, in this order.
     *
     * @return the readings in dBFS
     */
    public List<Reading> readings() {
        Reading highest = reading(maximumQuantity, statistics.maximum());
        return List.of(
                reading(quantity, latest),
                highest.isValid() ? highest.atTime(statistics.maximumAt() / indicationRateHz) : highest);
    }

    private Reading reading(Quantity which, double rms) {
        if (invalid) {
            return Reading.without(which, Status.INVALID_INPUT, method);
        }
        if (statistics.count() < SETTLING_SECONDS * indicationRateHz) {
            return Reading.without(which, Status.SETTLING, method);
        }
        OptionalDouble dbfs = DigitalLevel.dbfsAboveSilence(rms);
        return dbfs.isPresent()
                ? Reading.valid(which, dbfs.getAsDouble(), method)
                : Reading.without(which, Status.INSUFFICIENT_DATA, method);
    }

    /** Puts the meter to rest. */
    public void reset() {
        oversampler.reset();
        if (means.isPresent()) {
            means.get().reset();
        }
        detector.reset();
        statistics.reset();
        latest = 0;
        invalid = false;
    }
}
