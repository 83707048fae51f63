/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

/**
 * Transform of a line of unit size at points of the spectrum, and its derivatives. It is that of the record's extent for a
 * steady line, in closed form; for a line whose frequency sweeps it is integrated by Gauss's rule. The image, the part
 * of negative frequency, is taken as that of a steady line: it is small unless it is near, and a line near 0 Hz sweeps
 * little.
 */
final class LineShape {
    private static final int PANELS = 48;
    /** Gauss-Legendre rule of four points (Abramowitz and Stegun, table 25.4). */
    private static final double[] NODES = {
        -0.8611363115940526, -0.3399810435848563, 0.3399810435848563, 0.8611363115940526
    };

    private static final double[] WEIGHTS = {
        0.3478548451374538, 0.6521451548625461, 0.6521451548625461, 0.3478548451374538
    };

    /** Value, derivative by place and derivative by sweep at each point. */
    final double[] re;

    final double[] im;
    final double[] placeRe;
    final double[] placeIm;
    final double[] sweepRe;
    final double[] sweepIm;
    /** Image and its derivative by place: real. */
    final double[] image;

    final double[] imageSlope;

    LineShape(int points) {
        this.re = new double[points];
        this.im = new double[points];
        this.placeRe = new double[points];
        this.placeIm = new double[points];
        this.sweepRe = new double[points];
        this.sweepIm = new double[points];
        this.image = new double[points];
        this.imageSlope = new double[points];
    }

    /**
     * Takes the shape of a line.
     *
     * @param place the line's place in resolution widths
     * @param sweep by how many widths its frequency rises over the record
     * @param first first point's place
     * @param spacing from point to point
     * @param samples samples of the record
     */
    void take(double place, double sweep, double first, double spacing, int samples) {
        for (int i = 0; i < re.length; i++) {
            double plus = place + first + i * spacing;
            image[i] = extent(plus, samples);
            imageSlope[i] = extentSlope(plus, samples);
            double minus = place - first - i * spacing;
            re[i] = sweep == 0 ? extent(minus, samples) : 0;
            placeRe[i] = sweep == 0 ? extentSlope(minus, samples) : 0;
            im[i] = 0;
            placeIm[i] = 0;
            sweepRe[i] = 0;
            sweepIm[i] = 0;
        }
        if (sweep != 0) {
            for (int panel = 0; panel < PANELS; panel++) {
                for (int node = 0; node < NODES.length; node++) {
                    double s = (panel + 0.5 + NODES[node] / 2) / PANELS - 0.5;
                    addNode(s, WEIGHTS[node] / (2 * PANELS), place - first, sweep, spacing);
                }
            }
        }
    }

    private void addNode(double s, double weight, double minus, double sweep, double spacing) {
        double angle = 2 * Math.PI * minus * s + Math.PI * sweep * s * s;
        double c = weight * Math.cos(angle);
        double d = weight * Math.sin(angle);
        double stepCos = Math.cos(2 * Math.PI * spacing * s);
        double stepSin = -Math.sin(2 * Math.PI * spacing * s);
        double byPlace = 2 * Math.PI * s;
        double bySweep = Math.PI * s * s;
        for (int i = 0; i < re.length; i++) {
            re[i] += c;
            im[i] += d;
            placeRe[i] -= byPlace * d;
            placeIm[i] += byPlace * c;
            sweepRe[i] -= bySweep * d;
            sweepIm[i] += bySweep * c;
            double next = c * stepCos - d * stepSin;
            d = d * stepCos + c * stepSin;
            c = next;
        }
    }

    /** Transform of the record's extent, 1 in the middle. */
    private static double extent(double widths, int samples) {
        double angle = Math.PI * widths;
        if (Math.abs(angle) < 1e-4) {
            return 1 - angle * angle / 6;
        }
        return Math.sin(angle) / (samples * Math.sin(angle / samples));
    }

    /** Its derivative by the frequency in widths. */
    private static double extentSlope(double widths, int samples) {
        double angle = Math.PI * widths;
        if (Math.abs(angle) < 1e-4) {
            return -Math.PI * angle / 3;
        }
        double chord = samples * Math.sin(angle / samples);
        double value = Math.sin(angle) / chord;
        return Math.PI * (Math.cos(angle) - value * Math.cos(angle / samples)) / chord;
    }
}
