/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.carrier.CarrierBand;
import org.tapemetrology.core.carrier.FoundTone;
import org.tapemetrology.core.carrier.ToneFinder;
import org.tapemetrology.core.carrier.ToneTracker;
import org.tapemetrology.core.quantity.Measurement;
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
 * bit-identical however the samples are cut into blocks; samples that do not fill a block of 20 ms wait for the next
 * ones. Nothing is allocated per block while a tone is followed. Thread-confined.
 */
public final class ToneMeter {
    /** Lowest sampling rate that is measured, in Hz. */
    public static final int LOWEST_SAMPLE_RATE_HZ = 8000;

    /** Highest sampling rate that is measured, in Hz. */
    public static final int HIGHEST_SAMPLE_RATE_HZ = 192_000;

    private static final double CHUNK_SECONDS = 0.02;
    /** How long a tone that was seen in a spectrum may take to become steady. */
    private static final double PATIENCE_SECONDS = 1.5;

    private static final double INSPECTION_SECONDS = 1;

    private final int sampleRateHz;
    private final OptionalDouble nominalHz;
    private final ToneFinder finder;
    private final double findFromHz;
    private final double findToHz;

    private final float[] chunk;
    private int chunkFilled;
    private SampleHistory history;
    private OverloadWatch overload;
    private long searchFrom;
    private long oldestForSearch;
    private long invalidSample = -1;

    private @Nullable Stretch current;
    private long currentFedFrom;
    private boolean inspected;
    private final List<StretchSummary> others = new ArrayList<>();
    private int otherCount;
    private @Nullable FoundStretch best;
    private OptionalDouble currentSecondHz = OptionalDouble.empty();
    private OptionalDouble rejectedSecondHz = OptionalDouble.empty();

    /** A stretch, the second tone seen beside it and whether its level is known. */
    record FoundStretch(Stretch stretch, OptionalDouble secondHz, boolean clipped) {}

    /** Where a stretch that does not count stands. */
    record StretchSummary(double fromSeconds, double toSeconds, double frequencyHz) {}

    /** Builds a meter. */
    public static final class Builder {
        private final int sampleRateHz;
        private OptionalDouble nominalHz = OptionalDouble.empty();

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
         * @param hz nominal frequency in Hz, from 200 to 0.43 times the sampling rate
         * @return this builder
         */
        public Builder nominalHz(double hz) {
            if (!(hz >= 200 && hz <= 0.43 * sampleRateHz)) {
                throw new IllegalArgumentException(
                        "nominalHz " + hz + " is not in 200 to " + 0.43 * sampleRateHz + " at " + sampleRateHz + " Hz");
            }
            nominalHz = OptionalDouble.of(hz);
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
        this.finder = new ToneFinder(sampleRateHz);
        double highest = (sampleRateHz - CarrierBand.LOWEST_TONE_HZ) / 2;
        this.findFromHz = nominalHz.isPresent()
                ? Math.max(CarrierBand.LOWEST_TONE_HZ, (1 - PublishedCarriers.WITHIN) * nominalHz.getAsDouble())
                : CarrierBand.LOWEST_TONE_HZ;
        this.findToHz = nominalHz.isPresent()
                ? Math.min(highest, (1 + PublishedCarriers.WITHIN) * nominalHz.getAsDouble())
                : highest;
        this.chunk = new float[(int) Math.round(CHUNK_SECONDS * sampleRateHz)];
        this.history = newHistory();
        this.overload = new OverloadWatch(sampleRateHz);
    }

    private SampleHistory newHistory() {
        double seconds = ToneTracker.LONGEST_GAP_SECONDS + 0.5;
        return new SampleHistory((int) (seconds * sampleRateHz) + 2 * finder.length());
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
            int part = Math.min(length - taken, chunk.length - chunkFilled);
            System.arraycopy(samples, offset + taken, chunk, chunkFilled, part);
            taken += part;
            filled(part);
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
            int part = Math.min(length - taken, chunk.length - chunkFilled);
            for (int i = 0; i < part; i++) {
                chunk[chunkFilled + i] = (float) samples[offset + taken + i];
            }
            taken += part;
            filled(part);
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
        int at = offset;
        for (int taken = 0; taken < frames; ) {
            int part = Math.min(frames - taken, chunk.length - chunkFilled);
            for (int i = 0; i < part; i++) {
                chunk[chunkFilled + i] = interleaved[at];
                at += stride;
            }
            taken += part;
            filled(part);
        }
    }

    private void filled(int part) {
        chunkFilled += part;
        if (chunkFilled == chunk.length) {
            chunkFilled = 0;
            if (invalidSample < 0) {
                processChunk();
            }
        }
    }

    private void processChunk() {
        long firstIndex = history.endIndex();
        overload.accept(chunk, 0, chunk.length, firstIndex);
        history.append(chunk, chunk.length);
        if (current != null) {
            follow(current, firstIndex);
        } else {
            lookForInvalid(firstIndex);
        }
        while (current == null && invalidSample < 0 && history.endIndex() - searchFrom >= finder.length()) {
            search();
        }
    }

    /** Looks for a sample that is no finite number, from an index on. */
    private void lookForInvalid(long fromIndex) {
        float[] samples = history.array();
        int from = history.position(fromIndex);
        int to = history.position(history.endIndex());
        for (int i = from; i < to; i++) {
            if (!(Math.abs(samples[i]) <= Float.MAX_VALUE)) {
                invalidSample = fromIndex + i - from;
                return;
            }
        }
    }

    private void search() {
        searchFrom = Math.max(searchFrom, history.startIndex());
        long lookedAt = searchFrom;
        Optional<FoundTone> found = finder.find(history.array(), history.position(searchFrom), findFromHz, findToHz);
        searchFrom += finder.length();
        if (found.isEmpty()) {
            return;
        }
        double frequency = found.get().frequencyHz();
        if (frequency < CarrierBand.LOWEST_TONE_HZ || sampleRateHz - 2 * frequency < CarrierBand.LOWEST_TONE_HZ) {
            return;
        }
        // The tone may have begun in the window before, too late in it to stand out.
        currentFedFrom = Math.max(Math.max(lookedAt - finder.length(), oldestForSearch), history.startIndex());
        Stretch stretch = new Stretch(CarrierBand.of(sampleRateHz, frequency), (double) currentFedFrom / sampleRateHz);
        currentSecondHz = found.get().secondHz();
        inspected = false;
        current = stretch;
        follow(stretch, currentFedFrom);
    }

    /** Gives the stretch every sample from an index on. */
    private void follow(Stretch stretch, long fromIndex) {
        boolean wasFound = stretch.found();
        int length = (int) (history.endIndex() - fromIndex);
        Stretch.Outcome outcome = stretch.accept(history.array(), history.position(fromIndex), length);
        if (!wasFound && stretch.found()) {
            overload.watchTone(stretch.band().toneHz());
        }
        if (outcome == Stretch.Outcome.NOT_FINITE) {
            lookForInvalid(history.startIndex());
        } else if (outcome == Stretch.Outcome.ENDED) {
            conclude(stretch);
        } else if (!stretch.found()) {
            double waited = (double) (history.endIndex() - currentFedFrom) / sampleRateHz;
            if (waited > PATIENCE_SECONDS + 2.0 * finder.length() / sampleRateHz) {
                if (rejectedSecondHz.isEmpty()) {
                    rejectedSecondHz = currentSecondHz;
                }
                current = null;
                searchFrom = history.endIndex();
                oldestForSearch = searchFrom;
            }
        } else if (!inspected && stretch.lengthSeconds() >= INSPECTION_SECONDS) {
            inspect();
        }
    }

    /** Looks once, with the tone well established, whether it is the only one. */
    private void inspect() {
        inspected = true;
        long from = history.endIndex() - finder.length();
        currentSecondHz = finder.find(history.array(), history.position(from), findFromHz, findToHz)
                .map(FoundTone::secondHz)
                .orElse(OptionalDouble.empty());
    }

    private void conclude(Stretch stretch) {
        FoundStretch ended = new FoundStretch(stretch, currentSecondHz, overload.clipped());
        if (best == null) {
            best = ended;
        } else if (beats(stretch, best.stretch())) {
            note(best.stretch());
            best = ended;
        } else {
            note(stretch);
        }
        current = null;
        searchFrom = Math.round(stretch.endSeconds() * sampleRateHz);
        oldestForSearch = searchFrom;
    }

    private void note(Stretch stretch) {
        otherCount++;
        if (others.size() < ToneReport.LISTED) {
            others.add(summary(stretch));
        }
    }

    /** Whether a stretch counts before another: a tone that can be the carrier does, then the longer one. */
    private boolean beats(Stretch a, Stretch b) {
        boolean carrierA = isCarrier(a.meanHz());
        return carrierA == isCarrier(b.meanHz()) ? a.lengthSeconds() > b.lengthSeconds() : carrierA;
    }

    private boolean isCarrier(double frequencyHz) {
        return nominalHz.isPresent() || PublishedCarriers.nearest(frequencyHz).isPresent();
    }

    /** The stretch that counts at this moment. */
    private Optional<FoundStretch> counting() {
        Stretch running = current;
        if (running != null && running.found() && (best == null || beats(running, best.stretch()))) {
            return Optional.of(new FoundStretch(running, currentSecondHz, overload.clipped()));
        }
        return Optional.ofNullable(best);
    }

    /**
     * Everything that can be said at this moment, without a channel.
     *
     * @return readings and warnings
     */
    public Measurement reading() {
        Optional<FoundStretch> counts = counting();
        List<StretchSummary> left = new ArrayList<>(others);
        int leftCount = otherCount;
        if (current != null && current.found() && best != null) {
            left.add(summary(beats(current, best.stretch()) ? best.stretch() : current));
            leftCount++;
        }
        OptionalDouble rejected = rejectedSecondHz;
        if (rejected.isEmpty() && current != null && !current.found()) {
            rejected = currentSecondHz;
        }
        return new ToneReport(nominalHz, counts, left, leftCount, rejected, overload, invalidSeconds()).measurement();
    }

    private static StretchSummary summary(Stretch stretch) {
        return new StretchSummary(stretch.startSeconds(), stretch.endSeconds(), stretch.meanHz());
    }

    private OptionalDouble invalidSeconds() {
        return invalidSample < 0 ? OptionalDouble.empty() : OptionalDouble.of((double) invalidSample / sampleRateHz);
    }

    /**
     * Strip chart of the stretch that counts.
     *
     * @return the chart, empty where no flutter is measured
     */
    public Optional<FlutterSeries> series() {
        return counting()
                .map(FoundStretch::stretch)
                .flatMap(stretch -> stretch.flutter()
                        .map(meter -> meter.chart()
                                .series(
                                        stretch.startSeconds() - meter.chartDelaySeconds(),
                                        stretch.band().toneHz(),
                                        stretch.meanHz())));
    }

    /**
     * Present indication of the running weighted quasi-peak meter.
     *
     * @return indication in %, empty while no tone is followed or its first second is not over
     */
    public OptionalDouble runningQuasiPeakPercent() {
        if (current == null || !current.found() || current.lengthSeconds() < 1) {
            return OptionalDouble.empty();
        }
        double toPercent = 100 / current.meanHz();
        return current.flutter()
                .map(meter -> OptionalDouble.of(meter.runningQuasiPeakHz() * toPercent))
                .orElse(OptionalDouble.empty());
    }

    /** Puts the meter to rest, as if new. */
    public void reset() {
        chunkFilled = 0;
        history = newHistory();
        overload = new OverloadWatch(sampleRateHz);
        searchFrom = 0;
        oldestForSearch = 0;
        invalidSample = -1;
        current = null;
        best = null;
        others.clear();
        otherCount = 0;
        inspected = false;
        currentSecondHz = OptionalDouble.empty();
        rejectedSecondHz = OptionalDouble.empty();
    }
}
