/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.benchmarks;

import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;

/** Time that the processor works on this thread: where other work runs on a machine, the clock on the wall tells little. */
final class ProcessorTime {
    private static final ThreadMXBean THREAD = ManagementFactory.getThreadMXBean();

    private ProcessorTime() {}

    /** Work that gives something, so that the compiler can't leave it out. */
    interface Work {
        Object run() throws Exception;
    }

    /** Least time of a round in s, after as many rounds to warm up. */
    static double leastOf(int rounds, Work work) throws Exception {
        long least = Long.MAX_VALUE;
        int kept = 0;
        for (int round = 0; round < 2 * rounds; round++) {
            long begin = THREAD.getCurrentThreadCpuTime();
            kept += work.run().hashCode() & 1;
            long time = THREAD.getCurrentThreadCpuTime() - begin;
            if (round >= rounds) {
                least = Math.min(least, time);
            }
        }
        return kept < 0 ? 0 : least / 1e9;
    }
}
