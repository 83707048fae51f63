/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.tone;

import java.util.List;
import org.tapemetrology.core.fit.RunningMoments;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;

/**
 * Products of two tones over the frames of a recording: the power of each, free of noise bias, over a reference power. The
 * figure is the root sum square of the products.
 */
abstract class Intermodulation {
    private final Quantity quantity;
    private final String method;
    private final List<CoherentPower> products;
    private final RunningMoments reference = new RunningMoments();

    Intermodulation(Quantity quantity, String method, int count) {
        this.quantity = quantity;
        this.method = method;
        CoherentPower[] powers = new CoherentPower[count];
        for (int i = 0; i < count; i++) {
            powers[i] = new CoherentPower();
        }
        this.products = List.of(powers);
    }

    /** Takes the products out of a frame. */
    abstract void add(TwoToneFrame frame);

    final void addProduct(int index, double re, double im) {
        products.get(index).add(re, im);
    }

    final void addReference(double power) {
        reference.add(power);
    }

    final void interrupt() {
        products.forEach(CoherentPower::interrupt);
    }

    final long pairs() {
        return products.get(0).pairs();
    }

    final String method() {
        return method;
    }

    final Quantity quantity() {
        return quantity;
    }

    /** The figure in %, with the scatter of the frames as its uncertainty. */
    final Reading reading(double atHz) {
        double power = 0;
        double variance = 0;
        for (CoherentPower product : products) {
            power += product.mean();
            variance += product.standardError() * product.standardError();
        }
        double ratio = Math.max(0, power) / reference.mean();
        Reading reading =
                Reading.valid(quantity, 100 * Math.sqrt(ratio), method).atFrequency(atHz);
        double scatter = Math.sqrt(variance) / reference.mean();
        return Double.isFinite(scatter)
                ? reading.withTypeA(AmplitudeScatter.percent(
                        ratio, scatter, Math.max(1, products.get(0).pairs() / 2.0)))
                : reading;
    }

    /**
     * Modulation of the high tone by the low one: for n = 1, 2 the amplitude modulation at n times the low frequency,
     * {@code |c+ + conj(c-)|} with the side bands c+ and c- re the high tone. Side bands of equal amplitude give the sum of
     * both over the high tone. What turns the phase alone, as flutter does, has {@code c+ = -conj(c-)} and does not count.
     */
    static final class Modulation extends Intermodulation {
        private static final int ORDERS = 2;

        Modulation() {
            super(
                    Quantity.DISTORTION_MODULATION,
                    "IEC 60268-3, side bands of the high tone re it, 2nd and 3rd order, following the speed",
                    ORDERS);
        }

        @Override
        void add(TwoToneFrame frame) {
            frame.amplitude(1, 0);
            double re = frame.re();
            double im = frame.im();
            double power = re * re + im * im;
            addReference(1);
            for (int n = 1; n <= ORDERS; n++) {
                frame.amplitude(1, n);
                // Divided by the amplitude of the high tone.
                double upperRe = (frame.re() * re + frame.im() * im) / power;
                double upperIm = (frame.im() * re - frame.re() * im) / power;
                frame.amplitude(1, -n);
                double lowerRe = (frame.re() * re + frame.im() * im) / power;
                double lowerIm = (frame.im() * re - frame.re() * im) / power;
                addProduct(n - 1, upperRe + lowerRe, upperIm - lowerIm);
            }
        }
    }

    /**
     * Difference-frequency distortion: the products at f2 - f1 (second order), 2 f1 - f2 and 2 f2 - f1 (third order), re
     * twice the amplitude of the upper tone.
     */
    static final class DifferenceFrequency extends Intermodulation {
        private static final int[][] ORDERS = {{1, -1}, {-1, 2}, {2, -1}};

        DifferenceFrequency() {
            super(
                    Quantity.DISTORTION_DIFFERENCE_FREQUENCY,
                    "IEC 60268-3, 2nd and 3rd order re twice the upper tone, following the speed",
                    ORDERS.length);
        }

        @Override
        void add(TwoToneFrame frame) {
            frame.amplitude(1, 0);
            addReference(4 * (frame.re() * frame.re() + frame.im() * frame.im()));
            for (int i = 0; i < ORDERS.length; i++) {
                frame.amplitude(ORDERS[i][0], ORDERS[i][1]);
                addProduct(i, frame.re(), frame.im());
            }
        }
    }
}
