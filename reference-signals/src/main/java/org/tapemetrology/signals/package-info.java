/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Closed-form test signals, each with its truth.
 *
 * <p>A {@link org.tapemetrology.signals.Signal} is a function of time; {@link org.tapemetrology.signals.FmTone} is the
 * tone of a machine with known speed faults, and the rest are the impairments of a real recording, composed around it.
 * {@link org.tapemetrology.signals.SampledSignal} turns any of them into samples.
 *
 * <pre>{@code
 * FmTone tone = FmTone.builder(3150).amplitude(0.5).speedError(0.008).sine(4, 0.001).build();
 * Signal replayed = tone.plus(new WhiteNoise(1, 0.001, 48_000)).plus(Hum.pure(50, 0.002));
 * double[] samples = SampledSignal.of(replayed, 48_000).seconds(40);
 * }</pre>
 *
 * <p>Amplitudes are peak values with full scale 1; deviations, depths and speed errors are ratios, not per cent; angles
 * are radians, times seconds. Everything here is immutable and may be shared between threads.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.signals;

import org.jspecify.annotations.NullMarked;
