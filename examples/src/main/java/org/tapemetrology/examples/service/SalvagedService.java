/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.tapemetrology.examples.files.Failures;
import org.tapemetrology.examples.files.JsonFields;
import org.tapemetrology.examples.report.Report.Problem;

/**
 * A service file of which everything that is sound is kept: an entry of a list, or a field, that is wrong is left out and
 * told. What the machine is can't be left out.
 *
 * @param machine what the machine is called, as far as the file says it
 * @param service what is sound; empty where nothing can be said
 * @param problems what was left out, and why
 * @param recordingNumbers place in the file, from 1, of the entry of each recording of the service
 * @param doubtful step and stage, as {@code speed before}, of entries that were left out
 */
public record SalvagedService(
        String machine,
        Optional<ServiceFile> service,
        List<Problem> problems,
        List<Integer> recordingNumbers,
        Set<String> doubtful) {
    /** Of a machine whose name can't be read. */
    static final String NAMELESS = "a machine without a name";

    /** Field, and place in its list, at the head of what is said of a wrong one. */
    private static final Pattern PLACE = Pattern.compile("(\\w+)(?:\\[(\\d+)])?[. ]");

    private static final Set<String> NEEDED = Set.of("schema", "machine");
    private static final String RECORDINGS = "recordings";
    private static final String LEFT_OUT = "; this entry is left out";

    static SalvagedService read(Path file) throws IOException {
        return new Salvage(file, JsonFields.object(file)).done();
    }

    /** The work on one file: entries keep the numbers that they have in it. */
    private static final class Salvage {
        private final Path file;
        private final Map<String, Object> fields;
        private final Map<String, List<Integer>> numbers = new LinkedHashMap<>();
        private final List<Problem> problems = new ArrayList<>();
        private final Set<String> doubtful = new HashSet<>();

        Salvage(Path file, Map<String, Object> read) {
            this.file = file;
            this.fields = new LinkedHashMap<>(read);
            read.forEach((name, value) -> {
                if (value instanceof List<?> list) {
                    fields.put(name, new ArrayList<Object>(list));
                    List<Integer> counted = new ArrayList<>();
                    for (int i = 1; i <= list.size(); i++) {
                        counted.add(i);
                    }
                    numbers.put(name, counted);
                }
            });
        }

        SalvagedService done() {
            while (true) {
                try {
                    return result(Optional.of(ServiceFile.of(JsonFields.of(file, fields), file)));
                } catch (IOException | IllegalArgumentException wrong) {
                    if (!leaveOut(Failures.message(wrong))) {
                        return result(Optional.empty());
                    }
                }
            }
        }

        private SalvagedService result(Optional<ServiceFile> service) {
            Object name = fields.get("machine") instanceof Map<?, ?> machine ? machine.get("name") : null;
            return new SalvagedService(
                    name instanceof String text ? text : NAMELESS,
                    service,
                    List.copyOf(problems),
                    recordingNumbers(),
                    Set.copyOf(doubtful));
        }

        /** A recording that serves several steps is there once for each. */
        private List<Integer> recordingNumbers() {
            List<Integer> each = new ArrayList<>();
            List<Integer> entries = numbers.getOrDefault(RECORDINGS, List.of());
            for (int i = 0; i < entries.size(); i++) {
                int steps = fields.get(RECORDINGS) instanceof List<?> list && list.get(i) instanceof Map<?, ?> entry
                        ? steps(entry).size()
                        : 1;
                each.addAll(Collections.nCopies(steps, entries.get(i)));
            }
            return each;
        }

        private static Set<Object> steps(Map<?, ?> entry) {
            Set<Object> steps = new LinkedHashSet<>();
            if (entry.get("steps") instanceof List<?> several) {
                steps.addAll(several);
            } else if (entry.get("step") instanceof String one) {
                steps.add(one);
            }
            return steps;
        }

        /** Takes out what a message names; false where nothing is left to take out. */
        private boolean leaveOut(String message) {
            String what = message.startsWith(file + ": ") ? message.substring((file + ": ").length()) : message;
            Matcher place = PLACE.matcher(what);
            if (!place.lookingAt() || NEEDED.contains(place.group(1)) || !fields.containsKey(place.group(1))) {
                problems.add(new Problem(file.toString(), what));
                return false;
            }
            String name = place.group(1);
            String index = place.group(2);
            if (index == null) {
                fields.remove(name);
                problems.add(new Problem(file.toString(), what + LEFT_OUT));
                return true;
            }
            List<?> list = (List<?>) fields.get(name);
            int at = Integer.parseInt(index);
            Object entry = list == null ? null : list.remove(at);
            int number = numbers.getOrDefault(name, List.of()).remove(at);
            problems.add(new Problem(
                    file.toString(),
                    name + "[" + (number - 1) + "]" + what.substring(name.length() + index.length() + 2) + LEFT_OUT));
            if (entry instanceof Map<?, ?> map) {
                steps(map).forEach(step -> doubtful.add(step + " " + map.get("stage")));
            }
            return true;
        }
    }
}
