/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import java.util.List;
import org.tapemetrology.signals.internal.Require;

/**
 * Sections one after the other, as on a test tape. Each begins at its own time 0; before the first and after the last is
 * silence.
 *
 * <p>Immutable; may be shared between threads. A moment of NaN lies in no section: silence.
 */
public final class Sequence implements ExactSignal {
    private final List<Section> sections;
    private final double[] starts;

    /**
     * A sequence of sections.
     *
     * @param sections the sections in order of time
     */
    public Sequence(List<Section> sections) {
        this.sections = List.copyOf(sections);
        starts = new double[sections.size() + 1];
        for (int i = 0; i < sections.size(); i++) {
            starts[i + 1] = starts[i] + sections.get(i).seconds();
        }
    }

    /**
     * A sequence of sections.
     *
     * @param sections the sections in order of time
     * @return the sequence
     */
    public static Sequence of(Section... sections) {
        return new Sequence(List.of(sections));
    }

    /**
     * The sections.
     *
     * @return the sections in order of time
     */
    public List<Section> sections() {
        return sections;
    }

    /**
     * Where a section begins.
     *
     * @param section number of the section from 0; the number of sections itself gives the end of the last
     * @return the time in seconds
     */
    public double startSeconds(int section) {
        return starts[section];
    }

    /**
     * Duration of all sections.
     *
     * @return the duration in seconds
     */
    public double seconds() {
        return starts[starts.length - 1];
    }

    @Override
    public double at(long wholeSeconds, double fraction) {
        double seconds = wholeSeconds + fraction;
        if (seconds < 0) {
            return 0;
        }
        for (int i = 0; i < sections.size(); i++) {
            if (seconds < starts[i + 1]) {
                return Delayed.shifted(sections.get(i).signal(), starts[i], wholeSeconds, fraction);
            }
        }
        return 0;
    }

    /**
     * One section.
     *
     * @param signal what it holds
     * @param seconds its duration in s
     */
    public record Section(Signal signal, double seconds) {
        /**
         * Checks the duration.
         *
         * @param signal what it holds
         * @param seconds finite and above 0
         * @throws IllegalArgumentException if the duration is not finite and above 0
         */
        public Section {
            Require.positive("duration of the section in s", seconds);
        }

        /**
         * A silent section.
         *
         * @param seconds its duration
         * @return the section
         */
        public static Section silence(double seconds) {
            return new Section(Constant.SILENCE, seconds);
        }
    }
}
