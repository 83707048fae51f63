/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/** A time within a stretch during which the tone was away, in seconds of the recording. */
record Gap(double fromSeconds, double toSeconds) {}
