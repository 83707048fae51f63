/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.bench;

import java.io.IOException;

/** The person at the bench. */
public interface Conversation {
    /**
     * Says something.
     *
     * @param line a line
     */
    void say(String line);

    /**
     * Waits for an answer.
     *
     * @return the answer, without blanks around it
     * @throws IOException where there is none, since the conversation was ended
     */
    String answer() throws IOException;
}
