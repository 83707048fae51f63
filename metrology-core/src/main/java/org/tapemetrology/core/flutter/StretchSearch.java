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

    private final int sampleRateHz;
    private final ToneFinder finder;
    private final double findFromHz;
    private final double findToHz;
    private final StretchChoice choice;
    private final boolean recorded;

    private SampleHistory history;
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
        this.history = newHistory();
        this.overload = new OverloadWatch(sampleRateHz);
    }

    private SampleHistory newHistory() {
        double seconds = ToneTracker.LONGEST_GAP_SECONDS + 0.5;
        return new SampleHistory((int) (seconds * sampleRateHz) + 2 * finder.length());
    }

    /** Takes a block of samples; the blocks must always be of the same length. */
    void accept(float[] block) {
        if (invalidSample >= 0) {
            return;
        }
        long firstIndex = history.endIndex();
        overload.accept(block, 0, block.length, firstIndex);
        history.append(block, block.length);
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
        if (frequency < CarrierBand.LOWEST_TONE_HZ || sampleRateHz - 2 * frequency < CarrierBand.LOWEST_FOUND_HZ) {
            return;
        }
        // The tone may have begun in the window before, too late in it to stand out.
        currentFedFrom = Math.max(Math.max(lookedAt - finder.length(), oldestForSearch), history.startIndex());
        Stretch stretch =
                new Stretch(CarrierBand.of(sampleRateHz, frequency), (double) currentFedFrom / sampleRateHz, recorded);
        currentSecondHz = found.get().secondHz();
        currentStep = 0;
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
            foundCount++;
            overload.watchTone(stretch.band().toneHz());
        }
        if (outcome == Stretch.Outcome.NOT_FINITE) {
            lookForInvalid(history.startIndex());
        } else if (outcome == Stretch.Outcome.ENDED) {
            conclude(stretch);
        } else if (!stretch.found()) {
            double waited = (double) (history.endIndex() - currentFedFrom) / sampleRateHz;
            if (waited > patienceSeconds(stretch.band()) + 2.0 * finder.length() / sampleRateHz) {
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

    /** Looks once, with the tone well established, whether it is the only one, and how fine its samples are. */
    private void inspect() {
        inspected = true;
        long from = history.endIndex() - finder.length();
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

    /** When the first sample came that is no finite number. */
    OptionalDouble invalidSeconds() {
        return invalidSample < 0 ? OptionalDouble.empty() : OptionalDouble.of((double) invalidSample / sampleRateHz);
    }

    void reset() {
        history = newHistory();
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
    }
}
