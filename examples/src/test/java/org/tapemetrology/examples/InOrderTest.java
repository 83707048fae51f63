/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class InOrderTest {
    @ParameterizedTest
    @ValueSource(ints = {1, 2, 5})
    void resultsComeInOrderAndFewAreHeld(int threads) throws IOException {
        AtomicInteger begun = new AtomicInteger();
        List<Integer> taken = new ArrayList<>();
        List<Integer> ahead = new ArrayList<>();
        InOrder.run(
                threads,
                IntStream.range(0, 40)
                        .<Callable<Integer>>mapToObj(i -> () -> {
                            begun.incrementAndGet();
                            return i;
                        })
                        .iterator(),
                i -> {
                    ahead.add(begun.get() - taken.size());
                    taken.add(i);
                });
        assertThat(taken).isEqualTo(IntStream.range(0, 40).boxed().toList());
        assertThat(ahead).allMatch(held -> held <= 2 * threads);
    }

    /** The first piece ends only when the second has begun: that takes two threads. */
    @Test
    void piecesAreWorkedOnAtTheSameTime() throws IOException {
        CountDownLatch second = new CountDownLatch(1);
        List<String> taken = new ArrayList<>();
        List<Callable<String>> pieces = List.of(
                () -> {
                    assertThat(second.await(60, TimeUnit.SECONDS)).isTrue();
                    return "first";
                },
                () -> {
                    second.countDown();
                    return "second";
                });
        InOrder.run(2, pieces.iterator(), taken::add);
        assertThat(taken).containsExactly("first", "second");
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 3})
    void whatAPieceThrowsIsThrown(int threads) {
        List<Callable<String>> pieces = List.of(() -> "fine", () -> {
            throw new IOException("no disk");
        });
        List<String> taken = new ArrayList<>();
        assertThatThrownBy(() -> InOrder.run(threads, pieces.iterator(), taken::add))
                .isInstanceOf(IOException.class)
                .hasMessage("no disk");
        assertThat(taken).containsExactly("fine");
    }
}
