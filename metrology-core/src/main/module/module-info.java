/* SPDX-License-Identifier: Apache-2.0 */
/** Headless measuring library for tape recorders. */
module org.tapemetrology.core {
    requires static transitive org.jspecify;

    exports org.tapemetrology.core.detector;
    exports org.tapemetrology.core.filter;
    exports org.tapemetrology.core.level;
    exports org.tapemetrology.core.noise;
    exports org.tapemetrology.core.quantity;
    exports org.tapemetrology.core.standard;
}
