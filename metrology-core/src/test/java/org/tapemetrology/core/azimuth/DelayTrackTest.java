/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.azimuth;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.tapemetrology.core.azimuth.MadeFrames.band;
import static org.tapemetrology.core.azimuth.MadeFrames.inverted;
import static org.tapemetrology.core.azimuth.MadeFrames.sum;
import static org.tapemetrology.core.azimuth.MadeFrames.tones;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Frames whose delays are written down, about 20 us. */
class DelayTrackTest {
    private static final double CENTRE = 20e-6;

    private final DelaySearch search = new DelaySearch(0, MadeFrames.TRANSFORM.bins());
    private final DelayTrack track = new DelayTrack(MadeFrames.TRANSFORM.bins());
    private final CrossSpectrum spectrum = sum(band(3, 245, CENTRE), 20);

    @BeforeEach
    void start() {
        assertThat(search.find(spectrum)).isTrue();
        track.start(search);
    }

    @Test
    void framesInTurnsHaveTheirMeanAndTheirRange() {
        assertThat(track.isEmpty()).isTrue();
        for (int i = 0; i < 40; i++) {
            double delay = CENTRE + (i % 2 == 0 ? 3e-6 : -1e-6);
            assertThat(track.add(spectrum, band(3, 245, delay))).isTrue();
            assertThat(track.latestDelay()).isCloseTo(delay, within(1e-12));
        }
        assertThat(track.isEmpty()).isFalse();
        assertThat(track.meanDelay()).isCloseTo(CENTRE + 1e-6, within(1e-12));
        assertThat(track.framesOfRange()).isCloseTo(40, within(1e-6));
        // From the lowest bin of 0.01 us that has any to the highest: 4 us.
        assertThat(track.wander()).isCloseTo(4e-6, within(0.0101e-6));
        // Of 40 values of 2 us either way: t of 39 degrees, 2.023 (tables, from memory), times 2 us/sqrt(39); pairs
        // scatter by nothing.
        assertThat(track.halfWidth()).isCloseTo(2.023 * 2e-6 / Math.sqrt(39), within(1e-9));
        track.start(search);
        assertThat(track.isEmpty()).isTrue();
        track.add(spectrum, band(3, 245, CENTRE + 2e-6));
        assertThat(track.meanDelay()).isCloseTo(CENTRE + 2e-6, within(1e-12));
    }

    /** Where the sum has other phases than the frame, the noise of those is taken off the range. */
    @Test
    void scatterWithinTheFramesIsTakenOff() {
        // Every phase 0.1 rad off either way: scatter by its definition, of weights that are all alike.
        CrossFrame early = scattered(CENTRE - 2e-6);
        CrossFrame late = scattered(CENTRE + 2e-6);
        for (int i = 0; i < 40; i++) {
            track.add(spectrum, i % 2 == 0 ? early : late);
        }
        double squares = 0;
        for (int bin = 3; bin <= 245; bin++) {
            squares += Math.pow(MadeFrames.omega(bin), 2);
        }
        double scatter = Math.pow(Math.tan(0.1), 2) / squares * CrossSpectrum.BINS_PER_INDEPENDENT;
        double whole = 4e-6;
        // 3.92 standard deviations are the range of noise; alternate signs move the delay itself by some hundredths.
        double left = Math.sqrt(whole * whole - 3.92 * 3.92 * scatter);
        assertThat(left).isLessThan(3.8e-6);
        assertThat(track.wander()).isCloseTo(left, within(0.02e-6));
    }

    private static CrossFrame scattered(double delay) {
        CrossFrame frame = band(3, 245, delay);
        for (int i = 0; i < frame.re.length; i++) {
            double off = i % 2 == 0 ? 0.1 : -0.1;
            double re = frame.re[i];
            double im = frame.im[i];
            frame.re[i] = re * Math.cos(off) - im * Math.sin(off);
            frame.im[i] = re * Math.sin(off) + im * Math.cos(off);
        }
        return frame;
    }

    /** Of frames of two powers, the strong ones steady: by information they are less uncertain, and are taken. */
    @Test
    void theMeanIsByInformationWhereThatTellsMore() {
        for (int i = 0; i < 64; i++) {
            boolean weak = i % 4 == 0;
            CrossFrame frame = band(3, 245, CENTRE + (weak ? 4e-6 : 1e-6));
            if (weak) {
                for (int k = 0; k < frame.re.length; k++) {
                    frame.re[k] *= 0.01;
                    frame.im[k] *= 0.01;
                }
            }
            track.add(spectrum, frame);
        }
        // Weights 0.01 and 1; with equal ones it would be 1.75 us.
        double expected = (0.01 * 4 + 3 * 1) / 3.01;
        assertThat(track.meanDelay()).isCloseTo(CENTRE + expected * 1e-6, within(1e-11));
        assertThat(track.halfWidth()).isLessThan(0.03e-6);
        // The range counts every frame alike, unless noise widens it.
        assertThat(track.framesOfRange()).isCloseTo(64, within(1e-6));
        assertThat(track.wander()).isCloseTo(3e-6, within(0.0101e-6));
    }

    /** Where what the coherence predicts of weak frames is more than the range has, the range too is by information. */
    @Test
    void theRangeIsByInformationWhereNoiseWidensIt() {
        CrossFrame frame = MadeFrames.frame();
        for (int bin = 3; bin <= 245; bin++) {
            MadeFrames.put(frame, bin, 1, 0.9, CENTRE);
        }
        CrossSpectrum noisy = sum(frame, 20);
        assertThat(search.find(noisy)).isTrue();
        track.start(search);
        for (int i = 0; i < 64; i++) {
            double delay = CENTRE + (i % 4 == 0 ? 4e-7 : i % 4 == 1 ? 1e-7 : -1e-7);
            CrossFrame each = band(3, 245, delay);
            for (int k = 0; k < each.re.length && i % 4 == 0; k++) {
                each.re[k] *= 0.001;
                each.im[k] *= 0.001;
            }
            track.add(noisy, each);
        }
        // The weak quarter weighs a thousandth: of 48 frames that count, those are what is left.
        assertThat(track.framesOfRange()).isCloseTo(48, within(0.1));
        assertThat(track.wander()).isCloseTo(2e-7, within(0.0101e-6));
    }

    /** Of 2 kHz a cycle takes 500 us: the peak within half of it is taken. */
    @Test
    void aFrameIsReadWithinHalfACycle() {
        CrossSpectrum tone = sum(tones(CENTRE, 128), 20);
        assertThat(search.find(tone)).isTrue();
        track.start(search);
        assertThat(track.add(tone, tones(CENTRE + 240e-6, 128))).isTrue();
        assertThat(track.latestDelay()).isCloseTo(CENTRE + 240e-6, within(1e-12));
        assertThat(track.add(tone, tones(CENTRE + 260e-6, 128))).isTrue();
        assertThat(track.latestDelay()).isCloseTo(CENTRE - 240e-6, within(1e-12));
        assertThat(track.add(tone, tones(CENTRE - 240e-6, 128))).isTrue();
        assertThat(track.latestDelay()).isCloseTo(CENTRE - 240e-6, within(1e-12));
    }

    @Test
    void aFrameThatDoesNotFitIsLeftOut() {
        assertThat(track.add(spectrum, MadeFrames.frame())).isFalse();
        assertThat(track.isEmpty()).isTrue();
        // Phases 65 degrees off either way: 0.42 of the peak. At 55 degrees it is 0.57.
        for (double degrees : new double[] {65, 55}) {
            CrossFrame frame = band(3, 245, 0);
            for (int i = 0; i < frame.re.length; i++) {
                double phase = -MadeFrames.omega(3 + i) * CENTRE + Math.toRadians(i % 2 == 0 ? degrees : -degrees);
                frame.re[i] = Math.cos(phase);
                frame.im[i] = Math.sin(phase);
            }
            assertThat(track.add(spectrum, frame)).isEqualTo(degrees < 60);
        }
    }

    @Test
    void anInvertedChannelIsFollowedToo() {
        CrossSpectrum other = sum(inverted(band(3, 245, CENTRE)), 20);
        assertThat(search.find(other)).isTrue();
        assertThat(track.isElsewhere(search)).as("another polarity").isTrue();
        track.start(search);
        assertThat(track.isElsewhere(search)).isFalse();
        assertThat(track.add(other, inverted(band(3, 245, CENTRE + 1e-6)))).isTrue();
        assertThat(track.latestDelay()).isCloseTo(CENTRE + 1e-6, within(1e-12));
        // Against the polarity a frame fits nowhere near.
        assertThat(track.add(other, band(3, 245, CENTRE))).isFalse();
    }

    /** A quarter of the band's period, 450 us, is another cycle. */
    @Test
    void aDelayMayBeElsewhere() {
        double period = search.period();
        assertThat(period).isCloseTo(450e-6, within(2e-6));
        for (double sign : new double[] {-1, 1}) {
            search.find(sum(band(3, 245, CENTRE + sign * 0.24 * period), 20));
            assertThat(track.isElsewhere(search)).isFalse();
            search.find(sum(band(3, 245, CENTRE + sign * 0.26 * period), 20));
            assertThat(track.isElsewhere(search)).isTrue();
        }
        track.follow(search);
        assertThat(track.isElsewhere(search)).isFalse();
    }
}
