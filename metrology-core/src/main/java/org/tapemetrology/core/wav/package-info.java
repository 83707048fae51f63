/* SPDX-License-Identifier: Apache-2.0 */
/**
 * Recordings in WAV files and pipes, read as a stream in constant memory.
 *
 * <p>{@link org.tapemetrology.core.wav.WavReader} reads RIFF, RF64 and BW64 files with linear PCM or IEEE floating-point
 * samples. A damaged recording is read up to where it is whole, and
 * {@link org.tapemetrology.core.wav.WavReader#damage()} says what is missing; what cannot be read at all is refused with
 * a {@link org.tapemetrology.core.wav.WavFormatException} that names the file and the byte.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.core.wav;

import org.jspecify.annotations.NullMarked;
