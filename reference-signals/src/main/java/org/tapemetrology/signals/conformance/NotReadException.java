/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.conformance;

/** A figure could not be read; the message says why. */
final class NotReadException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    NotReadException(String message) {
        super(message);
    }
}
