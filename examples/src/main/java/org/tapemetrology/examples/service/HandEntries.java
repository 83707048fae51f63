/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.tapemetrology.core.alignment.ServiceStep;
import org.tapemetrology.examples.report.Report.Stage;
import org.tapemetrology.examples.service.ServiceFile.Entered;
import org.tapemetrology.examples.service.ServiceFile.Repair;

/**
 * What was read by hand or done, as far as it counts: the last entry of each name and place. One that is older than a repair
 * which may have changed it says nothing any more until it is entered again. The others stay as history.
 */
public final class HandEntries {
    private final ServiceFile service;

    HandEntries(ServiceFile service) {
        this.service = service;
    }

    /** The last entry of each name and place; the order of the file decides within a moment. */
    List<Entered> latest(ServiceStep step, Stage stage) {
        Map<String, Entered> latest = new LinkedHashMap<>();
        for (Entered entered : service.entered()) {
            if (entered.step() == step && entered.stage() == stage) {
                Entered before = latest.get(entered.subject());
                if (before == null || !entered.moment().isBefore(before.moment())) {
                    latest.put(entered.subject(), entered);
                }
            }
        }
        return List.copyOf(latest.values());
    }

    /** The last repair that came after an entry and makes it due again. */
    Optional<Repair> repairSince(Entered entered) {
        return service.repairSince(entered.step(), entered.stage(), entered.moment());
    }

    /** Whether an entry counts. */
    boolean counts(Entered entered) {
        return repairSince(entered).isEmpty()
                && latest(entered.step(), entered.stage()).contains(entered);
    }
}
