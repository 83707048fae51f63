/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;

/** What this thread has allocated since: more than any input may cost is a fault. */
final class AllocatedBytes {
    /** The heap that the workbench promises to do with. */
    private static final long MOST = 64L << 20;

    private static final ThreadMXBean THREADS = (ThreadMXBean) ManagementFactory.getThreadMXBean();

    private final long before = THREADS.getCurrentThreadAllocatedBytes();

    void check() {
        long bytes = THREADS.getCurrentThreadAllocatedBytes() - before;
        if (bytes > MOST) {
            throw new IllegalStateException(bytes + " bytes were allocated");
        }
    }
}
