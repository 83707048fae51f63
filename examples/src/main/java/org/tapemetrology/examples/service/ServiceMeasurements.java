/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.tapemetrology.core.Content;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.core.programme.Programme;
import org.tapemetrology.core.programme.ProgrammeMeasurement.StepMeasurement;
import org.tapemetrology.core.uncertainty.ReadingBudgets;
import org.tapemetrology.examples.files.Setup;
import org.tapemetrology.examples.recording.MeterSettings;
import org.tapemetrology.examples.recording.Progress;
import org.tapemetrology.examples.recording.Recording;
import org.tapemetrology.examples.service.ServiceFile.Recorded;

/**
 * What the recordings of a service measure. One that serves several steps is measured once; several are measured at the same
 * time, at most four.
 */
public final class ServiceMeasurements {
    private static final int MOST_AT_ONCE = 4;

    /**
     * Is told of every recording that is none of a programme while the meter that measured it is at hand, with the deviation
     * of the tone kept. It is called from several threads.
     */
    interface Watcher {
        void measured(Path wav, Setup setup, Recording.Measured found) throws IOException;
    }

    private final Map<Job, Outcome> outcomes = new LinkedHashMap<>();

    /** What is to be measured, and how. */
    private record Job(Path wav, Setup setup, Content content, Optional<Programme> programme) {
        static Job of(Recorded recorded) {
            boolean noise = recorded.step() == ServiceStep.NOISE
                    && recorded.contents().programme().isEmpty();
            return new Job(
                    recorded.wav(),
                    recorded.setup(),
                    noise ? Content.NOISE : Content.AUTOMATIC,
                    recorded.contents().programme());
        }

        Outcome measured(Optional<Watcher> watcher) {
            Recording recording = new Recording(wav.toString(), 0, Double.POSITIVE_INFINITY);
            MeterSettings settings =
                    new MeterSettings(content, OptionalDouble.empty(), setup, List.of(), watcher.isPresent());
            try {
                if (programme.isPresent()) {
                    Recording.OfProgramme found = recording.measured(programme.get(), settings, Progress.silent());
                    return new Outcome(found.result(), found.steps(), found.budgets());
                }
                Recording.Measured found = recording.measured(settings, Progress.silent());
                if (watcher.isPresent()) {
                    watcher.get().measured(wav, setup, found);
                }
                return new Outcome(found.result(), List.of(), found.meter().budgets());
            } catch (IOException | IllegalArgumentException unreadable) {
                return new Outcome(
                        Recording.Result.failed(recording.file(), unreadable),
                        List.of(),
                        new ReadingBudgets(setup.testTape(), setup.converter()));
            }
        }
    }

    /**
     * What became of a recording.
     *
     * @param steps the steps of its programme, empty without one
     */
    record Outcome(Recording.Result result, List<StepMeasurement> steps, ReadingBudgets budgets) {}

    ServiceMeasurements(List<Recorded> recordings, Progress progress, Optional<Watcher> watcher) {
        List<Job> jobs = recordings.stream().map(Job::of).distinct().toList();
        if (jobs.isEmpty()) {
            return;
        }
        int threads = Math.min(Math.min(MOST_AT_ONCE, Runtime.getRuntime().availableProcessors()), jobs.size());
        ExecutorService workers = Executors.newFixedThreadPool(threads);
        try {
            List<Future<Outcome>> futures = new ArrayList<>();
            for (Job job : jobs) {
                futures.add(workers.submit(() -> job.measured(watcher)));
            }
            for (int i = 0; i < jobs.size(); i++) {
                outcomes.put(jobs.get(i), futures.get(i).get());
                progress.done(i + 1, jobs.size());
            }
        } catch (InterruptedException stopped) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted while recordings were measured", stopped);
        } catch (ExecutionException fault) {
            throw new IllegalStateException("a recording could not be measured", fault.getCause());
        } finally {
            workers.shutdownNow();
        }
    }

    Outcome of(Recorded recorded) {
        Outcome outcome = outcomes.get(Job.of(recorded));
        if (outcome == null) {
            throw new IllegalArgumentException(recorded.wav() + " is none of the recordings that were measured");
        }
        return outcome;
    }
}
