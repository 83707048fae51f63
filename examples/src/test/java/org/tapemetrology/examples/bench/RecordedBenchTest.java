/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.EOFException;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.tapemetrology.core.alignment.AlignmentPlan;
import org.tapemetrology.core.alignment.Request;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.alignment.Take;
import org.tapemetrology.core.alignment.Turn;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.TestTape;

/** A machine that plays back what is sent to it, as a wire does: the levels are those that were sent. */
class RecordedBenchTest {
    private static final AlignmentPlan PLAN = AlignmentPlan.cassette(2, 2, -12, 2.5);

    @TempDir
    Path folder;

    private final List<String> said = new ArrayList<>();
    private final List<String> stopped = new ArrayList<>();
    private final Deque<String> answers = new ArrayDeque<>();

    private final Conversation person = new Conversation() {
        @Override
        public void say(String line) {
            said.add(line);
        }

        @Override
        public String answer() throws IOException {
            if (answers.isEmpty()) {
                throw new EOFException("no further answer");
            }
            return answers.remove();
        }
    };

    private Request request;
    private Path all;

    @BeforeEach
    void write() throws IOException {
        request = new Request(
                ServiceStep.RECORD_RESPONSE,
                Request.Source.OWN_RECORDING,
                List.of(new Turn("record-level-1", -0.123)),
                List.of(),
                List.of(
                        Take.tone(315, 0, 3),
                        Take.tone(1000, -3, 4),
                        Take.tone(6300, -6, 3),
                        Take.tones(List.of(315.0, 1000.0, 10_000.0), -20, 4)),
                "Record these.");
        all = folder.resolve("all.wav");
        SentSound.write(request, -12, 2, all);
    }

    private List<Measurement> perform(Request asked, String... given) throws IOException {
        answers.addAll(List.of(given));
        return new RecordedBench(PLAN, TestTape.assumed(), Converter.assumed(), person, Optional.of(folder))
                .perform(asked, stopped::add);
    }

    private static double level(Measurement take, int channel) {
        return take.find(Quantity.LEVEL, channel).orElseThrow().value().orElseThrow();
    }

    /** 0.01 dB is far above the meters' own error, and far below what a pause or a neighbour in the take would do. */
    @Test
    void theTakesAreFoundInOneRecording() throws IOException {
        List<Measurement> takes = perform(request, all.toString());
        assertThat(takes).hasSize(4);
        assertThat(level(takes.get(0), 1)).isCloseTo(-12, within(0.01));
        assertThat(level(takes.get(1), 2)).isCloseTo(-15, within(0.01));
        assertThat(level(takes.get(2), 1)).isCloseTo(-18, within(0.01));
        assertThat(takes.get(3).readings())
                .filteredOn(r -> r.quantity() == Quantity.LEVEL)
                .hasSize(6)
                .allSatisfy(r -> assertThat(r.value().orElseThrow()).isCloseTo(-32, within(0.01)));
        assertThat(answers).isEmpty();
    }

    @Test
    void aPersonIsToldWhatToTurnAndWhatToSend() throws IOException {
        perform(request, all.toString());
        assertThat(String.join("\n", said))
                .contains("Turn record-level-1 counter-clockwise by about 0.12 of a turn")
                .contains("1000 Hz at -3 dB; 4 s")
                .contains(folder.resolve("round-1.wav").toString());
        assertThat(folder.resolve("round-1.wav")).hasSameBinaryContentAs(all);
    }

    @Test
    void whatCannotBeUsedIsToldAndAskedForAgain() throws IOException {
        Path mono = folder.resolve("mono.wav");
        SentSound.write(request, -12, 1, mono);
        Path less = folder.resolve("less.wav");
        SentSound.write(
                new Request(
                        request.step(),
                        request.source(),
                        List.of(),
                        List.of(),
                        request.takes().subList(0, 2),
                        ""),
                -12,
                2,
                less);
        perform(
                request,
                "nothing.wav",
                mono.toString(),
                less.toString(),
                all + " " + all,
                all + " stop bias-2",
                all + " stop record-level-1");
        assertThat(String.join("\n", said))
                .contains("nothing.wav")
                .contains("the recording has 1 channel, the machine 2")
                .contains("2 sounds of the right length between pauses, 4 takes were asked for")
                .contains("2 files for 4 takes")
                .contains("bias-2 was not to be turned");
        assertThat(stopped).containsExactly("record-level-1");
    }

    @Test
    void whatIsDoneByHandIsConfirmed() throws IOException {
        Request byHand = new Request(
                ServiceStep.CLEANING, Request.Source.HAND, List.of(), List.of(), List.of(), "Clean the path.");
        assertThat(perform(byHand, "what?", "done")).isEmpty();
        assertThat(said).contains("  answer 'done' when it is done");
    }
}
