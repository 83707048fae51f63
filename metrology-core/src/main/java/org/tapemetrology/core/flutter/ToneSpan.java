/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/**
 * A stretch of tone in a recording. Two spans of one meter are the same stretch where they begin at the same moment.
 *
 * @param startSeconds when the tone begins, in s of the recording
 * @param endSeconds how far it was followed
 * @param frequencyHz its mean frequency in Hz
 */
public record ToneSpan(double startSeconds, double endSeconds, double frequencyHz) {}
