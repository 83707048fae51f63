/* SPDX-License-Identifier: Apache-2.0 */
/** Headless measuring library for tape recorders. */
module org.tapemetrology.core {
    requires static transitive org.jspecify;

    exports org.tapemetrology.core;
    exports org.tapemetrology.core.alignment;
    exports org.tapemetrology.core.azimuth;
    exports org.tapemetrology.core.carrier;
    exports org.tapemetrology.core.conformity;
    exports org.tapemetrology.core.detector;
    exports org.tapemetrology.core.diagnosis;
    exports org.tapemetrology.core.filter;
    exports org.tapemetrology.core.fit;
    exports org.tapemetrology.core.flutter;
    exports org.tapemetrology.core.level;
    exports org.tapemetrology.core.loss;
    exports org.tapemetrology.core.noise;
    exports org.tapemetrology.core.programme;
    exports org.tapemetrology.core.quantity;
    exports org.tapemetrology.core.response;
    exports org.tapemetrology.core.separation;
    exports org.tapemetrology.core.spectrum;
    exports org.tapemetrology.core.stability;
    exports org.tapemetrology.core.standard;
    exports org.tapemetrology.core.tone;
    exports org.tapemetrology.core.transport;
    exports org.tapemetrology.core.uncertainty;
    exports org.tapemetrology.core.wav;
}
