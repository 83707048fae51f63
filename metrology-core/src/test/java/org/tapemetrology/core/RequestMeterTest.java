/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.alignment.Request;
import org.tapemetrology.core.alignment.SentTone;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.alignment.Take;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.TestTape;
import org.tapemetrology.signals.Decibels;
import org.tapemetrology.signals.Mix;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Signal;
import org.tapemetrology.signals.Sine;

/** Against sines in closed form: their levels are known to rounding, and the meters hold them to 0.01 dB and better. */
class RequestMeterTest {
    private static final int RATE = 48_000;
    private static final double REFERENCE_DBFS = -12;

    private static Request request(Request.Source source, List<Take> takes) {
        return new Request(ServiceStep.REPLAY_RESPONSE, source, List.of(), List.of(), takes, "play");
    }

    private static RequestMeter meter(Request request) {
        return new RequestMeter(request, 315, RATE, 2, TestTape.assumed(), Converter.assumed());
    }

    private static void play(RequestMeter meter, double seconds, int block, Signal first, Signal second) {
        int frames = (int) (seconds * RATE);
        float[] one = new float[frames];
        float[] other = new float[frames];
        SampledSignal.of(first, RATE).fill(0, one, 0, frames);
        SampledSignal.of(second, RATE).fill(0, other, 0, frames);
        float[] interleaved = new float[2 * frames];
        for (int i = 0; i < frames; i++) {
            interleaved[2 * i] = one[i];
            interleaved[2 * i + 1] = other[i];
        }
        for (int done = 0; done < frames; done += block) {
            meter.accept(interleaved, 2 * done, Math.min(block, frames - done));
        }
        meter.endTake();
    }

    private static Signal sine(double hz, double dbfs) {
        return new Sine(hz, Decibels.toRatio(dbfs));
    }

    private static double at(Measurement measured, Quantity quantity, int channel, double hz) {
        return measured.readings().stream()
                .filter(r -> r.quantity() == quantity
                        && r.channel().orElse(0) == channel
                        && Math.abs(r.atFrequencyHz().orElse(0) - hz) < 1e-9)
                .findFirst()
                .orElseThrow()
                .value()
                .orElseThrow();
    }

    @Test
    void tonesOneAfterTheOtherGiveTheirResponse() {
        List<Take> takes = List.of(Take.tone(315, -20, 3), Take.tone(1000, -20, 3), Take.tone(8000, -10, 3));
        RequestMeter meter = meter(request(Request.Source.TEST_TAPE, takes));
        play(meter, 3, 4096, sine(315, -32), sine(315, -33));
        play(meter, 3, 4096, sine(1000, -31), sine(1000, -33));
        play(meter, 3, 4096, sine(8000, -24), sine(8000, -23.5));
        List<Measurement> measured = meter.measurements();
        assertThat(at(measured.get(0), Quantity.RESPONSE, 1, 315)).isEqualTo(0);
        assertThat(at(measured.get(1), Quantity.RESPONSE, 1, 1000)).isCloseTo(1, within(0.01));
        assertThat(at(measured.get(2), Quantity.RESPONSE, 1, 8000)).isCloseTo(-2, within(0.01));
        assertThat(at(measured.get(2), Quantity.RESPONSE, 2, 8000)).isCloseTo(-0.5, within(0.01));
    }

    @Test
    void tonesAtOnceGiveResponseAndLevelOfEach() {
        List<Take> takes = List.of(Take.tones(List.of(315.0, 6300.0, 10_000.0), -20, 5));
        RequestMeter meter = meter(request(Request.Source.OWN_RECORDING, takes));
        Signal first = new Mix(List.of(sine(315, -32), sine(6300, -30), sine(10_000, -36)));
        Signal second = new Mix(List.of(sine(315, -35), sine(6300, -35), sine(10_000, -35)));
        play(meter, 5, 4096, first, second);
        Measurement measured = meter.measurements().get(0);
        assertThat(at(measured, Quantity.RESPONSE, 1, 6300)).isCloseTo(2, within(0.01));
        assertThat(at(measured, Quantity.RESPONSE, 1, 10_000)).isCloseTo(-4, within(0.01));
        assertThat(at(measured, Quantity.LEVEL, 1, 6300)).isCloseTo(-30, within(0.01));
        assertThat(at(measured, Quantity.LEVEL, 2, 10_000)).isCloseTo(-35, within(0.01));
    }

    @Test
    void aLevelToneHasTheUncertaintyOfTheTestTapeOnlyWhereItComesFromOne() {
        List<Take> takes = List.of(Take.tone(315, 0, 3));
        List<OptionalDouble> halfWidths = new ArrayList<>();
        for (Request.Source source : List.of(Request.Source.TEST_TAPE, Request.Source.OWN_RECORDING)) {
            RequestMeter meter = meter(request(source, takes));
            play(meter, 3, 4096, sine(315, REFERENCE_DBFS), sine(315, REFERENCE_DBFS));
            halfWidths.add(meter.measurements().get(0).find(Quantity.LEVEL, 1).orElseThrow().uncertainty().stream()
                    .mapToDouble(u -> u.halfWidth())
                    .findFirst());
        }
        assertThat(halfWidths.get(0).orElseThrow())
                .isGreaterThan(halfWidths.get(1).orElseThrow());
    }

    @Test
    void blocksDoNotMatter() {
        List<Take> takes = List.of(Take.tone(315, 0, 2), Take.tones(List.of(315.0, 6300.0), -20, 2));
        List<List<Measurement>> all = new ArrayList<>();
        for (int block : new int[] {7, 480, 96_000}) {
            RequestMeter meter = meter(request(Request.Source.OWN_RECORDING, takes));
            play(meter, 2, block, sine(315, -12), sine(315, -12.5));
            Signal two = new Mix(List.of(sine(315, -32), sine(6300, -33)));
            play(meter, 2, block, two, two);
            all.add(meter.measurements());
        }
        assertThat(all.get(1)).isEqualTo(all.get(0));
        assertThat(all.get(2)).isEqualTo(all.get(0));
    }

    @Test
    void aTakeWithoutItsToneHasNoResponse() {
        List<Take> takes = List.of(Take.tone(315, -20, 3), Take.tone(1000, -20, 3), Take.tone(8000, -20, 3));
        RequestMeter meter = meter(request(Request.Source.TEST_TAPE, takes));
        play(meter, 3, 4096, sine(315, -32), sine(315, -32));
        play(meter, 3, 4096, sine(1000, -32), sine(1000, -32));
        play(meter, 3, 4096, moment -> 0, moment -> 0);
        assertThat(meter.measurements().get(2).readings().stream()
                        .filter(r -> r.quantity() == Quantity.RESPONSE)
                        .map(r -> r.status()))
                .hasSize(2)
                .allMatch(status -> status != Status.VALID);
    }

    @Test
    void moreTakesThanAskedForAreRefused() {
        RequestMeter meter =
                meter(request(Request.Source.OWN_RECORDING, List.of(new Take(List.of(new SentTone(315, 0)), 1))));
        assertThatThrownBy(meter::endTake).isInstanceOf(IllegalStateException.class);
        play(meter, 1, 4096, sine(315, -12), sine(315, -12));
        assertThatThrownBy(() -> meter.accept(new float[2], 0, 1))
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining("only 1 takes");
    }
}
