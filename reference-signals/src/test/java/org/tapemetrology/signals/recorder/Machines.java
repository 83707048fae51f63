/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

/** Machines for tests. */
final class Machines {
    /** The nominal speed of a cassette as the worked examples have it. */
    static final double CASSETTE_SPEED = 47.6;

    private Machines() {}

    /** A cassette machine that does nothing but what a test adds. */
    static VirtualRecorder.Builder flawless() {
        return VirtualRecorder.cassette()
                .transport(Transport.steady(CASSETTE_SPEED))
                .heads(Heads.perfect())
                .electronics(Electronics.perfect())
                .ratedTape(flawlessTape());
    }

    static VirtualTape flawlessTape() {
        return VirtualTape.builder(1).build();
    }

    static double referenceDb() {
        return Electronics.perfect().referenceDbfs();
    }
}
