/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

import java.util.OptionalDouble;

/**
 * What a meter is told about a recording before the first sample.
 *
 * <p>Made by a suite; it is not checked.
 *
 * @param name name of the recording, for a log
 * @param sampleRateHz sampling rate in Hz
 * @param channels number of channels
 * @param nominalHz frequency that the test tone has at the right speed, Hz; empty where there is no test tone
 */
public record RecordingFormat(String name, int sampleRateHz, int channels, OptionalDouble nominalHz) {}
