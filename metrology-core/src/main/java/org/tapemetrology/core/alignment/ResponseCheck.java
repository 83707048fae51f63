/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.alignment;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.tapemetrology.core.alignment.Instruction.State;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;

/** Whether a response keeps its tolerance at every frequency: what a treble trimmer cannot bring back is told. */
record ResponseCheck(ServiceStep step, double toleranceDb, double fromHz) {

    /** One outcome for each channel, by its worst frequency. */
    List<Outcome> of(List<Measurement> takes, int channels, int rounds) {
        List<Outcome> outcomes = new ArrayList<>();
        for (int channel = 1; channel <= channels; channel++) {
            int number = channel;
            List<Reading> table = takes.stream()
                    .flatMap(take -> take.readings().stream())
                    .filter(r ->
                            r.quantity() == Quantity.RESPONSE && r.channel().orElse(0) == number)
                    .filter(r -> r.atFrequencyHz().orElse(0) >= fromHz)
                    .toList();
            outcomes.add(worst(table, "response of channel " + channel, rounds));
        }
        return outcomes;
    }

    private Outcome worst(List<Reading> table, String what, int rounds) {
        Optional<Reading> lost = table.stream().filter(r -> !r.isValid()).findFirst();
        if (table.isEmpty() || lost.isPresent()) {
            return new Outcome(
                    step, what, State.NO_READING, lost, rounds, what + ": not every frequency could be read");
        }
        Reading worst = table.get(0);
        for (Reading each : table) {
            worst = Math.abs(value(each)) > Math.abs(value(worst)) ? each : worst;
        }
        boolean kept = Math.abs(value(worst)) <= toleranceDb;
        return new Outcome(
                step,
                what,
                kept ? State.DONE : State.OUT_OF_REACH,
                Optional.of(worst),
                rounds,
                String.format(
                        Locale.ROOT,
                        "%s: at worst %+.1f dB, at %.0f Hz, %s %.1f dB",
                        what,
                        value(worst),
                        worst.atFrequencyHz().orElseThrow(),
                        kept ? "within" : "which no trimmer brings within",
                        toleranceDb));
    }

    private static double value(Reading reading) {
        return reading.value().orElseThrow();
    }
}
