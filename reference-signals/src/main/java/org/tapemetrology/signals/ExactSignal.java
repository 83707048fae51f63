/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

/** A signal whose two-part time is the primary one. */
interface ExactSignal extends Signal {
    @Override
    default double at(double seconds) {
        double whole = Math.floor(seconds);
        return at((long) whole, seconds - whole);
    }

    @Override
    double at(long wholeSeconds, double fraction);
}
