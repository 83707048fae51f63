/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.signals.Decibels;
import org.tapemetrology.signals.SampledSignal;
import org.tapemetrology.signals.Sine;

/**
 * Asks a filter by feeding it with tones: the flux that it takes for flat is the inverse of its gain. Each tone plays for 2 s
 * at 48 kHz, and the RMS of the last second counts, whole cycles of every frequency of the suite.
 *
 * <p>Thread-confined as the filter is. An output that is not finite makes the level so, and its case fails.
 */
public final class FedEqualisation implements EqualisationUnderTest {
    private static final int RATE_HZ = 48_000;
    private static final int BLOCK = 4000;
    private static final int BLOCKS_PER_SECOND = RATE_HZ / BLOCK;
    private static final double AMPLITUDE = 0.1;

    private final ReplayFilterUnderTest filter;

    /**
     * An equalisation by a filter.
     *
     * @param filter the filter
     */
    public FedEqualisation(ReplayFilterUnderTest filter) {
        this.filter = filter;
    }

    @Override
    public Optional<Figure> fluxLevel(
            OptionalDouble bassMicroseconds, double trebleMicroseconds, double frequencyHz, double referenceHz) {
        double power = power(bassMicroseconds, trebleMicroseconds, frequencyHz);
        double reference = power(bassMicroseconds, trebleMicroseconds, referenceHz);
        return Optional.of(new Figure(Decibels.ofRatio(reference / power) / 2, UNIT));
    }

    private double power(OptionalDouble bassMicroseconds, double trebleMicroseconds, double hertz) {
        SampledSignal tone = SampledSignal.of(new Sine(hertz, AMPLITUDE), RATE_HZ);
        double[] in = new double[BLOCK];
        double[] out = new double[BLOCK];
        double sum = 0;
        filter.start(RATE_HZ, bassMicroseconds, trebleMicroseconds);
        for (int i = 0; i < 2 * BLOCKS_PER_SECOND; i++) {
            tone.fill((long) i * BLOCK, in, 0, BLOCK);
            filter.process(in, out, BLOCK);
            for (int k = 0; k < BLOCK && i >= BLOCKS_PER_SECOND; k++) {
                sum += out[k] * out[k];
            }
        }
        return sum;
    }
}
