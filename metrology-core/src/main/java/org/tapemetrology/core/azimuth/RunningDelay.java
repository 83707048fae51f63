/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

/**
 * The delay of each frame as it is now: near that of the frames of about the last second, so that it follows a head that
 * is being turned, and is summed up for whoever takes means.
 */
final class RunningDelay {
    private static final double MEMORY_SECONDS = 1;
    private static final int FRAMES_PER_LOOK = 6;

    private final CrossSpectrum recent;
    private final DelaySearch search;
    private final DelayTrack track;
    private long frames;
    private boolean found;
    private double sum;
    private long count;

    RunningDelay(CrossTransform transform, double hopSeconds, double expectedSeconds) {
        recent = new CrossSpectrum(transform, StrictMath.exp(-hopSeconds / MEMORY_SECONDS));
        search = new DelaySearch(expectedSeconds, transform.bins());
        track = new DelayTrack(transform.bins());
    }

    void add(CrossFrame frame) {
        if (!recent.add(frame)) {
            forget(); // what comes after silence may be another signal
            return;
        }
        frames++;
        if (frames % FRAMES_PER_LOOK == 0) {
            boolean before = found;
            found = search.find(recent);
            if (found && before) {
                track.follow(search);
            } else if (found) {
                track.start(search);
            }
        }
        if (found && track.add(recent, frame)) {
            sum += track.latestDelay();
            count++;
        }
    }

    /** Whether there is a delay at all. */
    boolean isFound() {
        return found;
    }

    /** Sum of the delays in s of the frames that had one. */
    double sum() {
        return sum;
    }

    /** How many they are, since the start. */
    long count() {
        return count;
    }

    /** Forgets the signal, but not the sums. */
    private void forget() {
        recent.reset();
        frames = 0;
        found = false;
    }

    void reset() {
        forget();
        sum = 0;
        count = 0;
    }
}
