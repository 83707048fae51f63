/* SPDX-License-Identifier: Apache-2.0 */
/** Closed-form test signals with their truths, published tables as data, and conformance suites. */
module org.tapemetrology.signals {
    requires static transitive org.jspecify;

    exports org.tapemetrology.signals;
    exports org.tapemetrology.signals.conformance;
    exports org.tapemetrology.signals.damage;
    exports org.tapemetrology.signals.recorder;
    exports org.tapemetrology.signals.table;
    exports org.tapemetrology.signals.wav;
}
