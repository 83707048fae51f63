/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.files;

/** What a person is told of a failure. */
public final class Failures {
    private Failures() {}

    /**
     * The message of an exception; one without a message is named by its class.
     *
     * @param failure what was thrown
     * @return a message for a person
     */
    public static String message(Throwable failure) {
        String message = failure.getMessage();
        return message == null ? failure.getClass().getSimpleName() : message;
    }
}
