/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

/**
 * Slope of values on one quantity beside another, with its standard error: least squares on a constant and both, of sums that are
 * taken as the values come. Numbers should be small against their scatter, for sums of squares are compared.
 */
final class PartialSlope {
    private int count;
    private double sumX;
    private double sumBeside;
    private double sumValue;
    private double sumXx;
    private double sumXBeside;
    private double sumBesides;
    private double sumXValue;
    private double sumBesideValue;
    private double sumValues;

    void clear() {
        count = 0;
        sumX = 0;
        sumBeside = 0;
        sumValue = 0;
        sumXx = 0;
        sumXBeside = 0;
        sumBesides = 0;
        sumXValue = 0;
        sumBesideValue = 0;
        sumValues = 0;
    }

    void add(double x, double beside, double value) {
        count++;
        sumX += x;
        sumBeside += beside;
        sumValue += value;
        sumXx += x * x;
        sumXBeside += x * beside;
        sumBesides += beside * beside;
        sumXValue += x * value;
        sumBesideValue += beside * value;
        sumValues += value * value;
    }

    int count() {
        return count;
    }

    /** Sum of squares of what of the quantity is not the other's; 0 or not a number where nothing is. */
    double alone() {
        double both = about(sumXBeside, sumX, sumBeside);
        return about(sumXx, sumX, sumX) - both * both / about(sumBesides, sumBeside, sumBeside);
    }

    double slope() {
        double both = about(sumXBeside, sumX, sumBeside);
        double besides = about(sumBesides, sumBeside, sumBeside);
        return (about(sumXValue, sumX, sumValue) - both * about(sumBesideValue, sumBeside, sumValue) / besides)
                / alone();
    }

    /**
     * Standard error of the slope.
     *
     * @param leastVariance of the values about the plane, where their own scatter is smaller
     */
    double error(double leastVariance) {
        double ofX = about(sumXValue, sumX, sumValue);
        double ofBeside = about(sumBesideValue, sumBeside, sumValue);
        double both = about(sumXBeside, sumX, sumBeside);
        double slope = slope();
        double besideSlope = (ofBeside - slope * both) / about(sumBesides, sumBeside, sumBeside);
        double rest = about(sumValues, sumValue, sumValue) - slope * ofX - besideSlope * ofBeside;
        return Math.sqrt(Math.max(rest / (count - 3), leastVariance) / alone());
    }

    /** Sum of the products of two quantities about their means. */
    private double about(double products, double one, double other) {
        return products - one * other / count;
    }
}
