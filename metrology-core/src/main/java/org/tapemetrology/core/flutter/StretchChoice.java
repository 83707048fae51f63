/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.tapemetrology.core.standard.PublishedCarriers;

/** Which of the stretches of tone in a recording counts: one that can be the carrier before others, then the longest. */
final class StretchChoice {
    /** How many of the stretches that do not count are told one by one. */
    static final int LISTED = 20;

    private final OptionalDouble nominalHz;
    private final List<Summary> others = new ArrayList<>();
    private int otherCount;
    private @Nullable FoundStretch best;

    /** A stretch with its number, the second tone seen beside it, the step of its samples (0: too fine), whether its level is known. */
    record FoundStretch(int number, Stretch stretch, OptionalDouble secondHz, double step, boolean clipped) {
        private Summary summary() {
            return new Summary(stretch.startSeconds(), stretch.endSeconds(), stretch.meanHz());
        }
    }

    /** Where a stretch that does not count stands. */
    record Summary(double fromSeconds, double toSeconds, double frequencyHz) {}

    /** The stretches that do not count: the first of them, and how many there are in all. */
    record Others(List<Summary> listed, int count) {}

    StretchChoice(OptionalDouble nominalHz) {
        this.nominalHz = nominalHz;
    }

    /** Takes a stretch that has ended. */
    void ended(FoundStretch stretch) {
        FoundStretch sofar = best;
        if (sofar == null) {
            best = stretch;
        } else if (beats(stretch, sofar)) {
            leave(sofar);
            best = stretch;
        } else {
            leave(stretch);
        }
    }

    private void leave(FoundStretch stretch) {
        otherCount++;
        if (others.size() < LISTED) {
            others.add(stretch.summary());
        }
    }

    private boolean beats(FoundStretch a, FoundStretch b) {
        boolean carrierA = isCarrier(a.stretch().meanHz());
        return carrierA == isCarrier(b.stretch().meanHz())
                ? a.stretch().lengthSeconds() > b.stretch().lengthSeconds()
                : carrierA;
    }

    /** Whether a tone can be the carrier: one near the nominal frequency or, where that was not given, near a published one. */
    boolean isCarrier(double frequencyHz) {
        return nominalHz.isPresent()
                ? Math.abs(frequencyHz / nominalHz.getAsDouble() - 1) <= PublishedCarriers.WITHIN
                : PublishedCarriers.nearest(frequencyHz).isPresent();
    }

    /** The stretch that counts at this moment, with one that is still running or without. */
    Optional<FoundStretch> counting(Optional<FoundStretch> running) {
        FoundStretch sofar = best;
        if (sofar == null || (running.isPresent() && beats(running.get(), sofar))) {
            return running;
        }
        return Optional.of(sofar);
    }

    /** Those that do not count. */
    Others others(Optional<FoundStretch> running) {
        FoundStretch sofar = best;
        if (sofar == null || running.isEmpty()) {
            return new Others(List.copyOf(others), otherCount);
        }
        List<Summary> listed = new ArrayList<>(others);
        listed.add((beats(running.get(), sofar) ? sofar : running.get()).summary());
        return new Others(listed, otherCount + 1);
    }

    void reset() {
        best = null;
        others.clear();
        otherCount = 0;
    }
}
