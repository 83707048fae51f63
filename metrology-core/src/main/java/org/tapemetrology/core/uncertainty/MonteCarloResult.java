/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

/**
 * What the propagation of distributions gives (JCGM 101:2008, 5.5 and 7).
 *
 * @param mean mean of the result
 * @param standardUncertainty standard deviation of the result
 * @param low lower end of the probabilistically symmetric coverage interval
 * @param high its upper end
 * @param shortestLow lower end of the shortest coverage interval
 * @param shortestHigh its upper end
 * @param trials number of trials
 * @param stable whether the figures are known to the significant digits asked for; true for a fixed number of trials
 */
public record MonteCarloResult(
        double mean,
        double standardUncertainty,
        double low,
        double high,
        double shortestLow,
        double shortestHigh,
        int trials,
        boolean stable) {}
