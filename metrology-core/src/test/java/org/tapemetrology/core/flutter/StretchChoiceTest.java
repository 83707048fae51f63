/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.tapemetrology.core.carrier.CarrierBand;
import org.tapemetrology.core.flutter.StretchChoice.FoundStretch;
import org.tapemetrology.core.flutter.StretchChoice.Others;

/** Which stretch counts: stretches of sines, at 8 kHz. Published carriers are 3000, 3150 and 12 500 Hz, within 15 %. */
class StretchChoiceTest {
    private static final int RATE = 8000;
    private static int number;

    private static FoundStretch stretch(double hz, double seconds) {
        float[] samples = new float[(int) (seconds * RATE)];
        for (int i = 0; i < samples.length; i++) {
            samples[i] = (float) (0.5 * Math.sin(2 * Math.PI * hz * i / RATE));
        }
        Stretch stretch = new Stretch(CarrierBand.of(RATE, hz), 100, false);
        stretch.accept(samples, 0, samples.length);
        return new FoundStretch(++number, stretch, OptionalDouble.empty(), 0, false);
    }

    private static StretchChoice choice() {
        return new StretchChoice(OptionalDouble.empty());
    }

    @Test
    void theLongestCounts() {
        FoundStretch shorter = stretch(3150, 0.2);
        FoundStretch longer = stretch(3000, 0.3);
        StretchChoice choice = choice();
        assertThat(choice.counting(Optional.empty())).isEmpty();
        assertThat(choice.counting(Optional.of(shorter))).contains(shorter);
        assertThat(choice.others(Optional.of(shorter))).isEqualTo(new Others(List.of(), 0));
        choice.ended(shorter);
        assertThat(choice.counting(Optional.empty())).contains(shorter);
        assertThat(choice.others(Optional.empty()).count()).isZero();
        // One that is running counts as soon as it is the longer one, and the other is left out.
        assertThat(choice.counting(Optional.of(longer))).contains(longer);
        assertThat(choice.others(Optional.of(longer)).count()).isEqualTo(1);
        assertThat(choice.others(Optional.of(longer)).listed().get(0).frequencyHz())
                .isCloseTo(3150, within(0.01));
        choice.ended(longer);
        assertThat(choice.counting(Optional.empty())).contains(longer);
        FoundStretch third = stretch(3150, 0.25);
        assertThat(choice.counting(Optional.of(third))).contains(longer);
        choice.ended(third);
        assertThat(choice.counting(Optional.empty())).contains(longer);
        assertThat(choice.others(Optional.empty()).count()).isEqualTo(2);
        assertThat(choice.others(Optional.empty()).listed()).hasSize(2);
        assertThat(choice.others(Optional.of(shorter)).count()).isEqualTo(3);
        // Two equally long: the first.
        FoundStretch equal = new FoundStretch(9, longer.stretch(), OptionalDouble.empty(), 0, false);
        assertThat(choice.counting(Optional.of(equal)).orElseThrow().number()).isEqualTo(longer.number());
    }

    /** A tone that can be the carrier counts before a longer one that cannot. */
    @Test
    void aCarrierCountsBeforeOthers() {
        FoundStretch carrier = stretch(3150, 0.2);
        FoundStretch other = stretch(1000, 0.4);
        StretchChoice choice = choice();
        choice.ended(other);
        assertThat(choice.counting(Optional.of(carrier))).contains(carrier);
        choice.ended(carrier);
        assertThat(choice.counting(Optional.empty())).contains(carrier);
        choice.ended(stretch(1000, 0.5));
        assertThat(choice.counting(Optional.empty())).contains(carrier);
        assertThat(choice.others(Optional.empty()).listed().get(0).frequencyHz())
                .isCloseTo(1000, within(0.01));
        StretchChoice told = new StretchChoice(OptionalDouble.of(1000));
        told.ended(carrier);
        assertThat(told.counting(Optional.of(other))).contains(other);
    }

    /** 15 % of the nominal frequency, or of a published one where that was not given; the edges belong to it. */
    @Test
    void aCarrierIsNearTheNominalFrequency() {
        StretchChoice told = new StretchChoice(OptionalDouble.of(1000));
        assertThat(told.isCarrier(1149)).isTrue();
        assertThat(told.isCarrier(1151)).isFalse();
        assertThat(told.isCarrier(851)).isTrue();
        assertThat(told.isCarrier(849)).isFalse();
        assertThat(told.isCarrier(3150)).isFalse();
        assertThat(choice().isCarrier(2551)).isTrue();
        assertThat(choice().isCarrier(2549)).isFalse();
        assertThat(choice().isCarrier(1000)).isFalse();
    }

    /** Twenty are listed, all are counted; what stands of each is where it stands and its frequency. */
    @Test
    void manyOthersAreCounted() {
        StretchChoice choice = choice();
        FoundStretch longest = stretch(3150, 0.4);
        FoundStretch other = stretch(3000, 0.2);
        choice.ended(longest);
        for (int i = 0; i < 23; i++) {
            choice.ended(other);
        }
        Others others = choice.others(Optional.empty());
        assertThat(others.count()).isEqualTo(23);
        assertThat(others.listed()).hasSize(20);
        StretchChoice.Summary summary = others.listed().get(19);
        assertThat(summary.fromSeconds()).isEqualTo(other.stretch().startSeconds());
        assertThat(summary.toSeconds() - summary.fromSeconds())
                .isCloseTo(other.stretch().lengthSeconds(), within(1e-12));
        assertThat(choice.others(Optional.of(other)).count()).isEqualTo(24);
        choice.reset();
        assertThat(choice.counting(Optional.empty())).isEmpty();
        assertThat(choice.others(Optional.empty())).isEqualTo(new Others(List.of(), 0));
    }
}
