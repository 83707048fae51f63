/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

/**
 * A line as it is fitted, {@code a cos(phase) + b sin(phase)} with {@code phase = 2 pi place s + pi sweep s^2}, where s runs
 * from -1/2 to 1/2 over the record: place in resolution widths, 1/(length of the record); sweep by how many of them the
 * frequency rises over the record.
 */
final class Component {
    double place;
    double cosine;
    double sine;
    double sweep;
    /** Whether the sweep is fitted, or 0. */
    boolean sweeping;
    /** How many others within its width were given up, since the fit did not tell them from it. */
    int twins;
    /** Amplitude of what it leaves around it, where that is more than noise and no further line is told from it; else 0. */
    double residue;
    /** Of cosine, sine, place and sweep, as the latest fit has it. */
    final double[][] covariance = new double[4][4];

    Component(double place, double cosine, double sine) {
        this.place = place;
        this.cosine = cosine;
        this.sine = sine;
    }

    /** Takes another line in: the sum of both in the middle of the record, at the place of the mean power. */
    void take(Component other) {
        place += (other.place - place) * other.power() / (power() + other.power());
        cosine += other.cosine;
        sine += other.sine;
        twins = Math.max(twins, other.twins) + 1;
    }

    int parameters() {
        return sweeping ? 4 : 3;
    }

    double parameter(int index) {
        return switch (index) {
            case 0 -> cosine;
            case 1 -> sine;
            case 2 -> place;
            default -> sweep;
        };
    }

    void move(int index, double step) {
        switch (index) {
            case 0 -> cosine += step;
            case 1 -> sine += step;
            case 2 -> place += step;
            default -> sweep += step;
        }
    }

    double power() {
        return (cosine * cosine + sine * sine) / 2;
    }

    double amplitude() {
        return Math.hypot(cosine, sine);
    }

    double phase() {
        return Math.atan2(-sine, cosine);
    }

    double amplitudeVariance() {
        return quadratic(cosine, sine) / (2 * power());
    }

    double phaseVariance() {
        return quadratic(-sine, cosine) / (4 * power() * power());
    }

    private double quadratic(double x, double y) {
        return x * x * covariance[0][0] + 2 * x * y * covariance[0][1] + y * y * covariance[1][1];
    }
}
