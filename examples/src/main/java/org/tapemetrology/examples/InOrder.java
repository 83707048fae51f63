/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Iterator;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.Consumer;

/**
 * Does pieces of work on several threads and hands over what each gives, one after the other, in their order. No more than
 * twice as many pieces as threads are begun and not handed over, so memory does not grow with their number.
 */
final class InOrder {
    private InOrder() {}

    /**
     * Does all pieces of work.
     *
     * @param threads number of threads; with one everything happens on the calling thread
     * @param pieces the pieces
     * @param then takes what they give, on the calling thread
     * @throws IOException where a piece of work throws it; none is begun after that
     */
    static <T> void run(int threads, Iterator<Callable<T>> pieces, Consumer<T> then) throws IOException {
        if (threads == 1) {
            while (pieces.hasNext()) {
                then.accept(result(pieces.next()));
            }
            return;
        }
        ExecutorService pool = Executors.newFixedThreadPool(threads);
        try {
            Deque<Future<T>> begun = new ArrayDeque<>();
            while (pieces.hasNext() || !begun.isEmpty()) {
                while (pieces.hasNext() && begun.size() < 2 * threads) {
                    begun.add(pool.submit(pieces.next()));
                }
                Future<T> first = begun.remove();
                then.accept(result(first::get));
            }
        } finally {
            pool.shutdownNow();
        }
    }

    private static <T> T result(Callable<T> work) throws IOException {
        try {
            return work.call();
        } catch (ExecutionException failed) {
            Throwable cause = failed.getCause();
            if (cause instanceof Error error) {
                throw error;
            }
            throw thrown(cause instanceof Exception exception ? exception : failed);
        } catch (Exception failed) {
            throw thrown(failed);
        }
    }

    private static RuntimeException thrown(Exception failed) throws IOException {
        if (failed instanceof IOException io) {
            throw io;
        }
        if (failed instanceof InterruptedException) {
            Thread.currentThread().interrupt();
        }
        return failed instanceof RuntimeException runtime ? runtime : new IllegalStateException(failed);
    }
}
