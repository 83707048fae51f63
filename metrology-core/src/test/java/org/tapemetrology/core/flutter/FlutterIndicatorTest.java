/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.flutter.FlutterIndicator.Shown;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.signals.FmTone;
import org.tapemetrology.signals.SampledSignal;

/** What instruments show of a flutter of 4 Hz, where the weighting of IEC 60386 is 1. */
class FlutterIndicatorTest {
    private static final int RATE = 12_000;
    private static final int LOOK = RATE / 10;

    private final ToneMeter meter = ToneMeter.builder(RATE).nominalHz(3150).build();
    private final Map<Quantity, FlutterIndicator> indicators = new LinkedHashMap<>();

    /** Feeds a tone and looks every 0.1 s; returns what the indicator of a figure showed after each look. */
    private List<Shown> feed(double amplitude, double seconds, Quantity watched) {
        SampledSignal samples = SampledSignal.of(
                FmTone.builder(3150).amplitude(0.3).sine(4, amplitude, 0).build(), RATE);
        float[] block = new float[LOOK];
        List<Shown> all = new ArrayList<>();
        for (int i = 0; i < seconds * 10; i++) {
            samples.fill((long) i * LOOK, block, 0, LOOK);
            meter.accept(block, 0, LOOK);
            indicators.values().forEach(each -> each.look(meter));
            if (i % 10 == 0) {
                all.add(Objects.requireNonNull(indicators.get(watched)).shown(meter.reading()));
            }
        }
        return all;
    }

    /** What an indicator saw before a reset, here five times as much, is nothing that it shows. */
    @Test
    void afterAResetItShowsWhatANewOneShows() {
        Quantity figure = Quantity.FLUTTER_WEIGHTED_QUASI_PEAK;
        FlutterIndicator used = new FlutterIndicator(figure);
        indicators.put(figure, used);
        feed(1e-2, 12, figure);
        meter.reset();
        used.reset();
        List<Shown> ofUsed = feed(2e-3, 12, figure);
        meter.reset();
        indicators.put(figure, new FlutterIndicator(figure));
        assertThat(ofUsed).isEqualTo(feed(2e-3, 12, figure));
    }

    /** What it saw of one stretch of tone is nothing of the next: here ten times as much, and more than a second of silence. */
    @Test
    void anotherToneBeginsAnew() {
        FlutterIndicator indicator = new FlutterIndicator(Quantity.FLUTTER_WEIGHTED_RMS);
        indicators.put(Quantity.FLUTTER_WEIGHTED_RMS, indicator);
        feed(1e-2, 9, Quantity.FLUTTER_WEIGHTED_RMS);
        for (int i = 0; i < 13; i++) {
            meter.accept(new float[LOOK], 0, LOOK);
            indicator.look(meter);
        }
        feed(1e-3, 9, Quantity.FLUTTER_WEIGHTED_RMS);
        Shown shown = indicator.shown(meter.followedReading());
        // 0.1 % peak.
        assertThat(shown.worstPercent().orElseThrow()).isCloseTo(0.0707, within(0.002));
    }

    /**
     * A sine of 0.2 %: as peak 0.2 %, as RMS and as average scaled to RMS 0.2/sqrt(2), exceeded 5 % of the time
     * 0.2 sin(0.95 pi/2). To 2 %: flatness of the filters, and windows that cut periods. A quasi-peak detector falls between crests
     * that are 125 ms apart, by some per cent of its indication: 5 %.
     */
    @Test
    void everyFigureIsShownNowAtWorstAndInTheMean() {
        FlutterIndicator.FIGURES.forEach(figure -> indicators.put(figure, new FlutterIndicator(figure)));
        feed(2e-3, 45, Quantity.WOW_RMS);
        Measurement reading = meter.reading();
        double rms = 0.2 / Math.sqrt(2);
        Map<Quantity, Double> expected = Map.of(
                Quantity.FLUTTER_WEIGHTED_QUASI_PEAK, 0.2,
                Quantity.FLUTTER_WEIGHTED_TWO_SIGMA, 0.2 * Math.sin(0.95 * Math.PI / 2),
                Quantity.FLUTTER_WEIGHTED_RMS, rms,
                Quantity.FLUTTER_WEIGHTED_AVERAGE, rms,
                Quantity.FLUTTER_UNWEIGHTED_PEAK, 0.2,
                Quantity.FLUTTER_UNWEIGHTED_RMS, rms,
                Quantity.FLUTTER_UNWEIGHTED_AVERAGE, rms,
                Quantity.WOW_RMS, rms);
        expected.forEach((figure, percent) -> {
            double tolerance = percent * (figure.id().endsWith("peak") ? 0.05 : 0.02);
            Shown shown = Objects.requireNonNull(indicators.get(figure)).shown(reading);
            assertThat(shown.figure()).isEqualTo(figure);
            assertThat(shown.status()).as(figure.id()).isEqualTo(Status.VALID);
            assertThat(shown.nowPercent().orElseThrow())
                    .as("now " + figure.id())
                    .isCloseTo(percent, within(tolerance));
            assertThat(shown.meanPercent().orElseThrow())
                    .as("mean " + figure.id())
                    .isCloseTo(percent, within(tolerance));
            assertThat(shown.worstPercent().orElseThrow())
                    .as("worst " + figure.id())
                    .isBetween(0.999 * shown.nowPercent().orElseThrow(), 1.05 * percent);
        });
    }

    /** The last five seconds: nothing before, then the figure; no new samples, no other figure. */
    @Test
    void anRmsIsShownOnceFiveSecondsWereLookedAt() {
        FlutterIndicator indicator = new FlutterIndicator(Quantity.FLUTTER_UNWEIGHTED_RMS);
        indicators.put(Quantity.FLUTTER_UNWEIGHTED_RMS, indicator);
        List<Shown> shown = feed(2e-3, 30, Quantity.FLUTTER_UNWEIGHTED_RMS);
        assertThat(shown.subList(0, 5))
                .allSatisfy(each -> assertThat(each.nowPercent()).isEmpty());
        assertThat(shown.get(29).nowPercent().orElseThrow()).isCloseTo(0.1414, within(0.003));
        Shown before = indicator.shown(meter.reading());
        for (int i = 0; i < 100; i++) {
            indicator.look(meter);
        }
        assertThat(indicator.shown(meter.reading())).isEqualTo(before);
        indicator.reset();
        Shown nothing = indicator.shown(meter.reading());
        assertThat(nothing.nowPercent()).isEmpty();
        assertThat(nothing.worstPercent()).isEmpty();
        assertThat(nothing.meanPercent()).isEmpty();
        // Looked at anew, it again takes five seconds of looks.
        indicator.look(meter);
        assertThat(indicator.shown(meter.reading()).nowPercent()).isEmpty();
    }

    @Test
    void beforeAToneNothingIsShown() {
        FlutterIndicator indicator = new FlutterIndicator(Quantity.WOW_RMS);
        meter.accept(new float[LOOK], 0, LOOK);
        indicator.look(meter);
        Shown shown = indicator.shown(meter.reading());
        assertThat(shown.status()).isNotEqualTo(Status.VALID);
        assertThat(shown.nowPercent()).isEmpty();
        assertThatThrownBy(() -> new FlutterIndicator(Quantity.LEVEL))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageStartingWith("figure level is none of flutter.weighted.quasi-peak, ");
    }

    /** Three values at the start, two after a gap; what is bridged is left out whole. */
    @Test
    void theStartAndWhatFollowsAGapAreLeftOut() {
        Settling settling = new Settling(3, 2, 1);
        assertThat(settling.leaveOut(2, false)).isEqualTo(2);
        assertThat(settling.leaveOut(2, false)).isEqualTo(1);
        assertThat(settling.leaveOut(5, false)).isZero();
        assertThat(settling.leaveOut(4, true)).isEqualTo(4);
        assertThat(settling.leaveOut(5, false)).isEqualTo(2);
        Settling early = new Settling(10, 2, 1);
        assertThat(early.leaveOut(3, true)).isEqualTo(3);
        assertThat(early.leaveOut(20, false)).isEqualTo(7);
    }
}
