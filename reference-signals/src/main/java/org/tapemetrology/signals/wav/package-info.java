/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Writing test signals as RIFF/WAVE files, by a writer that shares no code with any reader.
 *
 * <pre>{@code
 * try (WavWriter writer = WavWriter.to(path).sampleRateHz(48_000).encoding(WavEncoding.PCM_24).create()) {
 *     writer.write(SampledSignal.of(tone, 48_000), 40 * 48_000L);
 * }
 * }</pre>
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.signals.wav;

import org.jspecify.annotations.NullMarked;
