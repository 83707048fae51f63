/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.conformity;

import java.util.OptionalDouble;
import org.tapemetrology.core.quantity.Reading;

/**
 * What a decision rule said of a reading.
 *
 * <p>Made by {@link DecisionRule}; its numbers are not checked.
 *
 * @param limit the limit
 * @param reading the reading
 * @param rule the rule
 * @param verdict what it said
 * @param probabilityOfConformity probability that the true value keeps the limit (JCGM 106:2012, 7); empty without a value or
 *     its uncertainty
 * @param guardBand distance from the tolerance limit to the acceptance limit, in the unit of the limit; empty where it is
 *     not known
 * @param reason one sentence for a person
 */
public record Decision(
        Limit limit,
        Reading reading,
        DecisionRule rule,
        Verdict verdict,
        OptionalDouble probabilityOfConformity,
        OptionalDouble guardBand,
        String reason) {}
