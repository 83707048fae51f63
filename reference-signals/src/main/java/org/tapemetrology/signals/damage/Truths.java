/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.damage;

import java.util.HashMap;
import java.util.Map;

/** The truths of one channel, or between two, while the damage is done: the later word counts. */
final class Truths {
    private final Map<String, Truth> byQuantity = new HashMap<>();
    private final Map<String, Truth> byGroup = new HashMap<>();

    /** Says what is true of a quantity. */
    void put(String quantity, Truth truth) {
        byQuantity.put(quantity, truth);
    }

    /** Says the same of every quantity whose identifier begins so; the empty group is every quantity. */
    void putGroup(String beginning, Truth truth) {
        byQuantity.keySet().removeIf(quantity -> quantity.startsWith(beginning));
        byGroup.keySet().removeIf(group -> group.startsWith(beginning));
        byGroup.put(beginning, truth);
    }

    Truth of(String quantity) {
        Truth own = byQuantity.get(quantity);
        if (own != null) {
            return own;
        }
        return byGroup.entrySet().stream()
                .filter(group -> quantity.startsWith(group.getKey()))
                .max((a, b) -> Integer.compare(a.getKey().length(), b.getKey().length()))
                .map(Map.Entry::getValue)
                .orElse(Truth.NOT_STATED);
    }
}
