/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.carrier.CarrierBand;
import org.tapemetrology.core.carrier.FoundTone;
import org.tapemetrology.core.carrier.ToneFinder;
import org.tapemetrology.core.carrier.ToneTracker;
import org.tapemetrology.core.flutter.StretchChoice.FoundStretch;

/** Looks for tones in a stream of samples, follows each from its beginning to its end, and tells which was the best. */
final class StretchSearch {
    /** How long a tone that was seen in a spectrum may take to become steady. */
    private static final double PATIENCE_SECONDS = 1.5;

    private static final double PATIENCE_WINDOWS = 24;
    private static final double INSPECTION_SECONDS = 1;
    /** Samples are looked at, and stretches found and ended, in blocks of this length. */
    private static final double BLOCK_SECONDS = 0.04;

    /** The demodulator takes least time for many samples at once: so many blocks where they are there already. */
    private static final int MOST_BLOCKS_AT_ONCE = 2;

    /** Lower tones may be mains hum, in a recording of noise. */
    private static final double LOWEST_OUTSIDE_HZ = 200;
    /** Of the windows without the tone that is looked for one in so many is asked for any other. */
    private static final int LOOK_OUTSIDE_EVERY = 4;
    /** Noise makes no tone in any of them. */
    private static final double SHARE_OUTSIDE = 0.1;

    private final int sampleRateHz;
    private final ToneFinder finder;
    private final double findFromHz;
    private final double findToHz;
    private final StretchChoice choice;
    private final boolean recorded;

    private final int blockLength;
    private SampleHistory history;
    /** How far blocks have been looked at: the samples after it have not been heard of yet. */
    private long now;

    private OverloadWatch overload;
    private long searchFrom;
    private long oldestForSearch;
    private long invalidSample = -1;

    private @Nullable Stretch current;
    private long currentFedFrom;
    private int foundCount;
    private boolean inspected;
    private OptionalDouble currentSecondHz = OptionalDouble.empty();
    private double currentStep;
    private OptionalDouble rejectedSecondHz = OptionalDouble.empty();
    private long windowsWithoutTone;
    private int looksOutside;
    private int tonesOutside;
    private double outsideHz;

    /**
     * A search at rest.
     *
     * @param fromHz lowest frequency of a tone
     * @param toHz highest frequency of a tone
     * @param choice where stretches go that have ended
     * @param recorded whether each stretch keeps its deviation
     */
    StretchSearch(int sampleRateHz, double fromHz, double toHz, StretchChoice choice, boolean recorded) {
        this.recorded = recorded;
        this.sampleRateHz = sampleRateHz;
        boolean low = fromHz < CarrierBand.LOWEST_FOUND_HZ;
        this.finder =
                new ToneFinder(sampleRateHz, low ? ToneFinder.LOW_TONE_WINDOW_SECONDS : ToneFinder.WINDOW_SECONDS);
        this.findFromHz = fromHz;
        this.findToHz = toHz;
        this.choice = choice;
        this.blockLength = (int) Math.round(BLOCK_SECONDS * sampleRateHz);
        this.history = newHistory();
        this.overload = new OverloadWatch(sampleRateHz);
    }

    /** How many samples before those that were looked at may be needed again. */
    private int kept() {
        double seconds = ToneTracker.LONGEST_GAP_SECONDS + 0.5;
        return (int) (seconds * sampleRateHz) + 2 * finder.length();
    }

    private SampleHistory newHistory() {
        return new SampleHistory(kept() + MOST_BLOCKS_AT_ONCE * blockLength);
    }

    /** Where samples are to be appended, no more at once than {@link #room()}. */
    SampleHistory history() {
        return history;
    }

    /** How many samples may be appended before {@link #appended()} is to be called. */
    int room() {
        return (int) (now + (long) MOST_BLOCKS_AT_ONCE * blockLength - history.endIndex());
    }

    /** Looks at every block that is complete. */
    void appended() {
        int blocks = (int) (history.endIndex() - now) / blockLength;
        if (blocks > 1 && current != null && invalidSample < 0) {
            current.demodulate(history.array(), history.position(now), blocks * blockLength);
        }
        for (int i = 0; i < blocks; i++) {
            lookAtBlock();
        }
    }

    private void lookAtBlock() {
        long from = now;
        now += blockLength;
        if (invalidSample >= 0) {
            return;
        }
        overload.accept(history.array(), history.position(from), blockLength, from);
        if (current != null) {
            follow(current, from);
        } else {
            invalidSample = firstInvalid(from, now);
        }
        while (current == null && invalidSample < 0 && now - searchFrom >= finder.length()) {
            search();
        }
    }

    /** Index of the oldest sample that may be looked at again. */
    private long oldest() {
        return Math.max(0, now - kept());
    }

    /** Index of the first sample that is no finite number; -1 where all are. */
    private long firstInvalid(long fromIndex, long toIndex) {
        float[] samples = history.array();
        int from = history.position(fromIndex);
        int to = history.position(toIndex);
        for (int i = from; i < to; i++) {
            if (!(Math.abs(samples[i]) <= Float.MAX_VALUE)) {
                return fromIndex + i - from;
            }
        }
        return -1;
    }

    private void search() {
        searchFrom = Math.max(searchFrom, oldest());
        long lookedAt = searchFrom;
        Optional<FoundTone> found = finder.find(history.array(), history.position(searchFrom), findFromHz, findToHz);
        searchFrom += finder.length();
        if (found.isEmpty()) {
            lookOutside(history.position(lookedAt));
            return;
        }
        double frequency = found.get().frequencyHz();
        if (frequency < CarrierBand.LOWEST_TONE_HZ || sampleRateHz - 2 * frequency < CarrierBand.LOWEST_FOUND_HZ) {
            return;
        }
        // The tone may have begun in the window before, too late in it to stand out.
        currentFedFrom = Math.max(Math.max(lookedAt - finder.length(), oldestForSearch), oldest());
        Stretch stretch =
                new Stretch(CarrierBand.of(sampleRateHz, frequency), (double) currentFedFrom / sampleRateHz, recorded);
        currentSecondHz = found.get().secondHz();
        currentStep = 0;
        inspected = false;
        current = stretch;
        follow(stretch, currentFedFrom);
    }

    /** Whether there is another tone where that which is looked for is not: what is no carrier need not be noise. */
    private void lookOutside(int position) {
        if (windowsWithoutTone++ % LOOK_OUTSIDE_EVERY == 0) {
            looksOutside++;
            finder.find(history.array(), position, LOWEST_OUTSIDE_HZ, (sampleRateHz - CarrierBand.LOWEST_FOUND_HZ) / 2)
                    .ifPresent(tone -> {
                        tonesOutside++;
                        outsideHz = tone.frequencyHz();
                    });
        }
    }

    /** A tone that stands outside the range in which one is looked for, time and again. */
    OptionalDouble outsideHz() {
        return tonesOutside > Math.max(1, SHARE_OUTSIDE * looksOutside)
                ? OptionalDouble.of(outsideHz)
                : OptionalDouble.empty();
    }

    /** Gives the stretch every sample from an index on. */
    private void follow(Stretch stretch, long fromIndex) {
        boolean wasFound = stretch.found();
        int length = (int) (now - fromIndex);
        Stretch.Outcome outcome = stretch.accept(history.array(), history.position(fromIndex), length);
        if (!wasFound && stretch.found()) {
            foundCount++;
            overload.watchTone(stretch.band().toneHz());
        }
        if (outcome == Stretch.Outcome.NOT_FINITE) {
            invalidSample = firstInvalid(oldest(), now);
        } else if (outcome == Stretch.Outcome.ENDED) {
            conclude(stretch);
        } else if (!stretch.found()) {
            double waited = (double) (now - currentFedFrom) / sampleRateHz;
            if (waited > patienceSeconds(stretch.band()) + 2.0 * finder.length() / sampleRateHz) {
                if (rejectedSecondHz.isEmpty()) {
                    rejectedSecondHz = currentSecondHz;
                }
                current = null;
                searchFrom = now;
                oldestForSearch = searchFrom;
            }
        } else if (!inspected && stretch.lengthSeconds() >= INSPECTION_SECONDS) {
            inspect();
        }
    }

    /** Looks once, with the tone well established, whether it is the only one, and how fine its samples are. */
    private void inspect() {
        inspected = true;
        long from = now - finder.length();
        currentSecondHz = finder.find(history.array(), history.position(from), findFromHz, findToHz)
                .map(FoundTone::secondHz)
                .orElse(OptionalDouble.empty());
        currentStep = SampleStep.of(history.array(), history.position(from), finder.length());
    }

    private static double patienceSeconds(CarrierBand band) {
        return Math.max(PATIENCE_SECONDS, PATIENCE_WINDOWS * band.windowSeconds());
    }

    private void conclude(Stretch stretch) {
        choice.ended(new FoundStretch(foundCount, stretch, currentSecondHz, currentStep, overload.clipped()));
        current = null;
        searchFrom = Math.round(stretch.endSeconds() * sampleRateHz);
        oldestForSearch = searchFrom;
    }

    /** The stretch that is followed at this moment. */
    Optional<FoundStretch> running() {
        Stretch running = current;
        return running != null && running.found()
                ? Optional.of(new FoundStretch(foundCount, running, currentSecondHz, currentStep, overload.clipped()))
                : Optional.empty();
    }

    /** The second of two tones of which neither could be followed. */
    OptionalDouble rejectedSecondHz() {
        boolean waiting = current != null && !current.found();
        return rejectedSecondHz.isEmpty() && waiting ? currentSecondHz : rejectedSecondHz;
    }

    /** The stretch that is followed, null for none. */
    @Nullable
    Stretch followed() {
        Stretch running = current;
        return running != null && running.found() ? running : null;
    }

    /** Number of the stretch that is followed, 0 for none. */
    int followedStretch() {
        Stretch running = current;
        return running != null && running.found() ? foundCount : 0;
    }

    /** Power of the tone that is followed, 0 for none. */
    double followedPower() {
        Stretch running = current;
        return running == null || !running.found() ? 0 : running.meanPower();
    }

    /** Sum of the powers of the windows of the tone that is followed, 0 for none. */
    double followedPowerSum() {
        Stretch running = current;
        return running == null || !running.found() ? 0 : running.levelWindows().sumOfWindows();
    }

    /** How many windows that sum has, 0 for none. */
    long followedWindows() {
        Stretch running = current;
        return running == null || !running.found() ? 0 : running.levelWindows().windows();
    }

    /** Whether the tone that is followed was looked at and is the only one. */
    boolean isOneTone() {
        return followedStretch() > 0 && inspected && currentSecondHz.isEmpty();
    }

    OverloadWatch overload() {
        return overload;
    }

    /** When the first sample came that is no finite number. What the demodulator still holds has not shown in it. */
    OptionalDouble invalidSeconds() {
        long invalid = invalidSample;
        if (invalid < 0) {
            invalid = firstInvalid(Math.max(oldest(), now - blockLength), history.endIndex());
        }
        return invalid < 0 ? OptionalDouble.empty() : OptionalDouble.of((double) invalid / sampleRateHz);
    }

    void reset() {
        history = newHistory();
        now = 0;
        overload = new OverloadWatch(sampleRateHz);
        searchFrom = 0;
        oldestForSearch = 0;
        invalidSample = -1;
        current = null;
        foundCount = 0;
        inspected = false;
        currentSecondHz = OptionalDouble.empty();
        currentStep = 0;
        rejectedSecondHz = OptionalDouble.empty();
        windowsWithoutTone = 0;
        looksOutside = 0;
        tonesOutside = 0;
    }
}
