/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

/**
 * What the propagation of distributions gives (JCGM 101:2008, 5.5 and 7).
 *
 * <p>Made by {@link MonteCarlo}; its numbers are not checked.
 *
 * @param mean mean of the result, in its unit
 * @param standardUncertainty standard deviation of the result, in its unit
 * @param low lower end of the probabilistically symmetric coverage interval, in the unit of the result
 * @param high its upper end, in the unit of the result
 * @param shortestLow lower end of the shortest coverage interval, in the unit of the result
 * @param shortestHigh its upper end, in the unit of the result
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
