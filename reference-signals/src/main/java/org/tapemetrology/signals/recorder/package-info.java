/* SPDX-License-Identifier: Apache-2.0 */
/**
 * A tape recorder in software: its recordings carry faults whose truth is known.
 *
 * <p>A {@link org.tapemetrology.signals.recorder.VirtualRecorder} plays test tapes, records on
 * {@link org.tapemetrology.signals.recorder.VirtualTape}s and plays them back; its
 * {@link org.tapemetrology.signals.recorder.Trimmer}s are turned by hand, with taper, backlash and a hand error. Whoever
 * aligns it sees recordings alone; the {@code truth()} methods are for those who check the result.
 *
 * <pre>{@code
 * VirtualRecorder machine = VirtualRecorder.maladjusted(7);
 * Playback before = machine.replay(TestTape.cassette(1), 48_000);
 * float[] block = new float[before.channels() * 4800];
 * int frames = before.read(block, 0, 4800);
 * machine.trimmer("replay-level-1").turn(0.05);
 * RecordedTape recorded = machine.record(VirtualTape.ferric(2), 20, tone, tone);
 * Playback after = machine.replay(recorded, 48_000);
 * }</pre>
 *
 * <p>A flux of amplitude 1 is the machine's reference fluxivity. All fluxes are relative to the standard flux curve of
 * the format, so a machine and a tape without fault give a flat response. The tape is sampled at 48 kHz of nominal speed
 * and carries signals up to 20 kHz at it.
 *
 * <p>Its records and enumerations are immutable and may be shared between threads.
 */
@NullMarked
package org.tapemetrology.signals.recorder;

import org.jspecify.annotations.NullMarked;
