/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;

/** Counts what code allocates on the calling thread. */
public final class AllocatedBytes {
    private AllocatedBytes() {}

    /** Work of which each round is the same; the number of the round starts at 0. */
    @FunctionalInterface
    public interface Round<E extends Exception> {
        void run(int round) throws E;
    }

    /**
     * Least number of bytes that a round allocates. The virtual machine itself may allocate while it compiles; code that
     * allocates does so in every round.
     */
    public static <E extends Exception> long leastOf(int rounds, Round<E> work) throws E {
        ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
        threads.setThreadAllocatedMemoryEnabled(true);
        long thread = Thread.currentThread().getId();
        threads.getThreadAllocatedBytes(thread);
        long least = Long.MAX_VALUE;
        for (int round = 0; round < rounds; round++) {
            long before = threads.getThreadAllocatedBytes(thread);
            work.run(round);
            least = Math.min(least, threads.getThreadAllocatedBytes(thread) - before);
        }
        return least;
    }
}
