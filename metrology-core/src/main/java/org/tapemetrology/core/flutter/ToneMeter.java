/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.carrier.CarrierBand;
import org.tapemetrology.core.flutter.StretchChoice.FoundStretch;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.spectrum.ScrapeSpectrum;
import org.tapemetrology.core.standard.PublishedCarriers;

/**
 * Measures the test tone of one channel: frequency, speed error, drift and range, wow and flutter by every method of
 * {@link org.tapemetrology.core.standard}, level and its fluctuation.
 *
 * <p>The tone is looked for, demodulated from its first to its last second, and each figure is given in per cent of the
 * mean frequency of that span, or with the status that says why there is none. If the tone comes back after more than a
 * second, the longest stretch counts. Samples are taken in single precision, full scale 1; a 24-bit sample keeps every
 * bit. Figures need, from where the tone begins: frequency and speed error 1 s, drift 30 s, range 20 s, weighted, NAB-way,
 * flutter and scrape figures 8 s, wow and the flat figures 35 s.
 *
 * <p>A sample that is no finite number makes every reading {@code invalid-input} until {@link #reset()}. Readings are
 * bit-identical however the samples are cut into blocks; samples that do not fill a block of 40 ms wait for the next
 * ones. Nothing is allocated per block while a tone is followed. Thread-confined.
 *
 * <p>Settling and cost: filters are preset to the mean of the first 0.5 s of tone; weighted, NAB-way, flutter and
 * scrape figures leave out the first 3 s, wow and the flat figures the first 15 s. Memory does not grow unless the
 * deviation is kept.
 *
 * <p>Not for two tones at once, nor for programme: without one steady tone the status is {@code no-carrier} or {@code
 * ambiguous}.
 */
public final class ToneMeter {
    /** Lowest sampling rate that is measured, in Hz. */
    public static final int LOWEST_SAMPLE_RATE_HZ = 8000;

    /** Highest sampling rate that is measured, in Hz. */
    public static final int HIGHEST_SAMPLE_RATE_HZ = 192_000;

    /** Lowest nominal frequency of a tone, in Hz. */
    public static final double LOWEST_NOMINAL_HZ = 20;

    private static final double HIGHEST_NOMINAL = 0.43;

    private final int sampleRateHz;
    private final OptionalDouble nominalHz;
    private final StretchChoice choice;
    private final StretchSearch search;

    /** Builds a meter. */
    public static final class Builder {
        private final int sampleRateHz;
        private OptionalDouble nominalHz = OptionalDouble.empty();
        private boolean recorded;

        private Builder(int sampleRateHz) {
            if (sampleRateHz < LOWEST_SAMPLE_RATE_HZ || sampleRateHz > HIGHEST_SAMPLE_RATE_HZ) {
                throw new IllegalArgumentException("sampleRateHz " + sampleRateHz + " is not in "
                        + LOWEST_SAMPLE_RATE_HZ + " to " + HIGHEST_SAMPLE_RATE_HZ);
            }
            this.sampleRateHz = sampleRateHz;
        }

        /**
         * Sets the frequency that the tone has at the right speed. Without it the nearest published carrier is assumed.
         *
         * @param hz nominal frequency in Hz, from 20 to 0.43 times the sampling rate
         * @return this builder
         */
        public Builder nominalHz(double hz) {
            nominalHz = OptionalDouble.of(
                    Require.inRange("nominalHz", hz, LOWEST_NOMINAL_HZ, HIGHEST_NOMINAL * sampleRateHz));
            return this;
        }

        /**
         * Keeps the deviation of the whole tone, and the spectrum of its scrape flutter: some 4 kB a second, so memory grows with the recording.
         *
         * @return this builder
         */
        public Builder keepDeviation() {
            recorded = true;
            return this;
        }

        /**
         * Builds the meter.
         *
         * @return a meter at rest
         */
        public ToneMeter build() {
            return new ToneMeter(this);
        }
    }

    /**
     * Begins to build a meter.
     *
     * @param sampleRateHz sampling rate in Hz, 8000 to 192000
     * @return a builder
     */
    public static Builder builder(int sampleRateHz) {
        return new Builder(sampleRateHz);
    }

    private ToneMeter(Builder builder) {
        this.sampleRateHz = builder.sampleRateHz;
        this.nominalHz = builder.nominalHz;
        this.choice = new StretchChoice(nominalHz);
        double from = CarrierBand.LOWEST_FOUND_HZ;
        double to = (sampleRateHz - CarrierBand.LOWEST_FOUND_HZ) / 2;
        if (nominalHz.isPresent()) {
            from = Math.max(CarrierBand.LOWEST_TONE_HZ, (1 - PublishedCarriers.WITHIN) * nominalHz.getAsDouble());
            to = Math.min(to, (1 + PublishedCarriers.WITHIN) * nominalHz.getAsDouble());
        }
        this.search = new StretchSearch(sampleRateHz, from, to, choice, builder.recorded);
    }

    /**
     * Takes samples.
     *
     * @param samples samples, full scale 1
     * @param offset first of them
     * @param length number of them
     */
    public void accept(float[] samples, int offset, int length) {
        Objects.checkFromIndexSize(offset, length, samples.length);
        for (int taken = 0; taken < length; ) {
            int part = Math.min(length - taken, search.room());
            search.history().append(samples, offset + taken, part);
            taken += part;
            search.appended();
        }
    }

    /**
     * Takes samples.
     *
     * @param samples samples, full scale 1; they are rounded to single precision
     * @param offset first of them
     * @param length number of them
     */
    public void accept(double[] samples, int offset, int length) {
        Objects.checkFromIndexSize(offset, length, samples.length);
        for (int taken = 0; taken < length; ) {
            int part = Math.min(length - taken, search.room());
            search.history().append(samples, offset + taken, part);
            taken += part;
            search.appended();
        }
    }

    /**
     * Takes one channel out of interleaved samples.
     *
     * @param interleaved samples of all channels in turn, full scale 1
     * @param offset first sample of the channel
     * @param stride number of channels
     * @param frames number of samples of the channel
     */
    public void accept(float[] interleaved, int offset, int stride, int frames) {
        if (stride == 1) {
            accept(interleaved, offset, frames);
            return;
        }
        for (int taken = 0; taken < frames; ) {
            int part = Math.min(frames - taken, search.room());
            search.history().append(interleaved, offset + taken * stride, stride, part);
            taken += part;
            search.appended();
        }
    }

    /**
     * Everything that can be said at this moment, without a channel.
     *
     * @return readings and warnings
     */
    public Measurement reading() {
        Optional<FoundStretch> running = search.running();
        return new ToneReport(nominalHz, choice, running, search).measurement();
    }

    /**
     * The stretch of tone that is followed at this moment.
     *
     * @return its number, counted from 1 in the order in which stretches begin; 0 while no tone is followed
     */
    public int followedStretch() {
        return search.followedStretch();
    }

    /**
     * Whether the tone that is followed at this moment has been looked at, after its first second, and is the only one.
     *
     * @return false while no tone is followed, too
     */
    public boolean isOneTone() {
        return search.isOneTone();
    }

    /**
     * Frequency of the tone that is followed at this moment.
     *
     * @return its mean so far in Hz
     */
    public OptionalDouble followedHz() {
        return search.running()
                .map(found -> OptionalDouble.of(found.stretch().meanHz()))
                .orElse(OptionalDouble.empty());
    }

    /**
     * Power of the tone that is followed at this moment.
     *
     * @return its mean so far, where a full-scale sine has 1; 0 while no tone is followed
     */
    public double followedPower() {
        return search.followedPower();
    }

    /**
     * Sum of the powers of the windows of 0.1 s of the tone that is followed at this moment.
     *
     * @return the sum, where a full-scale sine has a power of 1; 0 where none is followed
     */
    public double followedPowerSum() {
        return search.followedPowerSum();
    }

    /**
     * How many windows {@link #followedPowerSum()} has.
     *
     * @return their number, which begins anew with every stretch
     */
    public long followedWindows() {
        return search.followedWindows();
    }

    /**
     * Sum of the frequencies of the tone that is followed at this moment, one for each moment that its mean is taken over.
     *
     * @return the sum in Hz; 0 where none is followed
     */
    public double followedHzSum() {
        Stretch followed = search.followed();
        return followed == null
                ? 0
                : followed.speed().sumOfDeviations()
                        + followed.band().toneHz() * followed.speed().admitted();
    }

    /**
     * How many frequencies {@link #followedHzSum()} has.
     *
     * @return their number, which begins anew with every stretch
     */
    public long followedHzCount() {
        Stretch followed = search.followed();
        return followed == null ? 0 : followed.speed().admitted();
    }

    /** The stretch that is followed at this moment, null for none. */
    @Nullable
    Stretch followed() {
        return search.followed();
    }

    /**
     * What can be said of the tone that is followed at this moment, whichever stretch of tone counts in the end.
     *
     * @return readings and warnings as of a recording that began with this tone
     */
    public Measurement followedReading() {
        return new ToneReport(nominalHz, new StretchChoice(nominalHz), search.running(), search).measurement();
    }

    /**
     * The stretch that the readings are taken from at this moment.
     *
     * @return its number as in {@link #followedStretch()}; 0 where no tone was found
     */
    public int countingStretch() {
        return choice.counting(search.running()).map(FoundStretch::number).orElse(0);
    }

    /**
     * Strip chart of the stretch that counts.
     *
     * @return the chart, empty where no flutter is measured
     */
    public Optional<FlutterSeries> series() {
        return choice.counting(search.running())
                .map(FoundStretch::stretch)
                .flatMap(stretch -> stretch.flutter()
                        .map(meter -> meter.bands()
                                .chart()
                                .series(
                                        stretch.startSeconds() - meter.bands().chartDelaySeconds(),
                                        stretch.band().toneHz(),
                                        stretch.meanHz())));
    }

    /**
     * The deviation of the whole stretch that counts.
     *
     * @return the series, empty where it is not kept or no flutter is measured
     */
    public Optional<DeviationSeries> deviation() {
        return choice.counting(search.running())
                .flatMap(found -> found.stretch().deviation());
    }

    /**
     * Spectrum of the scrape flutter of the stretch that counts.
     *
     * @return the spectrum, empty where the deviation is not kept or the scrape band does not fit
     */
    public Optional<ScrapeSpectrum> scrape() {
        return choice.counting(search.running())
                .flatMap(found -> found.stretch().scrape());
    }

    /**
     * Present indication of the running weighted quasi-peak meter.
     *
     * @return indication in %, empty while no tone is followed or its first second is not over
     */
    public OptionalDouble runningQuasiPeakPercent() {
        return search.running()
                .map(FoundStretch::stretch)
                .filter(stretch -> stretch.lengthSeconds() >= 1)
                .flatMap(stretch -> stretch.flutter()
                        .map(meter -> OptionalDouble.of(meter.bands().runningQuasiPeakHz() * 100 / stretch.meanHz())))
                .orElse(OptionalDouble.empty());
    }

    /** Puts the meter to rest, as if new. */
    public void reset() {
        search.reset();
        choice.reset();
    }
}
