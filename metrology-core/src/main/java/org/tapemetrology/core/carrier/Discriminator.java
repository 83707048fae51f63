/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

/**
 * From the complex envelope z to what changed from each value to the next: by z[i]/z[i-1] the phase step, its argument,
 * less a constant turn, and the amplitude step, the logarithm of its magnitude.
 *
 * <p>Each loop is a method, works on equally indexed arrays and waits for nothing that it has just computed, the shape that
 * the compiler of Java 17 turns into vector instructions. Steps are small where there is a tone, so both come from
 * series; where they are not, {@link Math} gives them value by value. Thread-confined.
 */
final class Discriminator {
    /** Up to this tangent the series of the arc tangent, to the 15th power, is good to 4e-12 rad. */
    private static final double SMALL_TANGENT = 0.25;
    /** Up to this the series of the inverse hyperbolic tangent, to the 7th power, is good to 1e-12. */
    private static final double SMALL_RATIO = 0.03;

    private final double turnRe;
    private final double turnIm;
    private boolean started;
    private double lastRe;
    private double lastIm;
    private double lastPower;

    private double[] beforeRe = new double[0];
    private double[] beforeIm = new double[0];
    private double[] beforePower = new double[0];
    private double[] dot = new double[0];
    private double[] cross = new double[0];
    private double[] along = new double[0];
    private double[] across = new double[0];
    private double[] ratio = new double[0];

    /**
     * A discriminator before its first value.
     *
     * @param turnRadians phase step that counts as none
     */
    Discriminator(double turnRadians) {
        this.turnRe = StrictMath.cos(turnRadians);
        this.turnIm = StrictMath.sin(turnRadians);
    }

    /**
     * Takes values and writes, for each but the very first, the step to it.
     *
     * @param re real parts, overwritten
     * @param im imaginary parts, overwritten
     * @param count number of values
     * @param phase phase steps in radians
     * @param amplitude steps of the logarithm of the amplitude
     * @param power squared amplitudes
     * @return number of steps
     */
    int process(double[] re, double[] im, int count, double[] phase, double[] amplitude, double[] power) {
        if (count == 0) {
            return 0;
        }
        makeRoom(count);
        int n = count;
        if (!started) {
            started = true;
            lastRe = re[0];
            lastIm = im[0];
            lastPower = lastRe * lastRe + lastIm * lastIm;
            n--;
            System.arraycopy(re, 1, re, 0, n);
            System.arraycopy(im, 1, im, 0, n);
            if (n == 0) {
                return 0;
            }
        }
        powers(re, im, power, n);
        shift(re, lastRe, beforeRe, n);
        shift(im, lastIm, beforeIm, n);
        shift(power, lastPower, beforePower, n);
        dots(re, im, beforeRe, beforeIm, dot, n);
        crosses(re, im, beforeRe, beforeIm, cross, n);
        sums(dot, cross, turnRe, turnIm, along, n);
        sums(cross, dot, turnRe, -turnIm, across, n);
        quotients(across, along, ratio, n);
        arcTangents(ratio, phase, n);
        relativeSteps(power, beforePower, ratio, n);
        areaTangents(ratio, amplitude, n);
        largeSteps(n, power, phase, amplitude);
        lastRe = re[n - 1];
        lastIm = im[n - 1];
        lastPower = power[n - 1];
        return n;
    }

    private void makeRoom(int count) {
        if (beforeRe.length < count) {
            beforeRe = new double[count];
            beforeIm = new double[count];
            beforePower = new double[count];
            dot = new double[count];
            cross = new double[count];
            along = new double[count];
            across = new double[count];
            ratio = new double[count];
        }
    }

    private static void shift(double[] values, double first, double[] before, int n) {
        before[0] = first;
        System.arraycopy(values, 0, before, 1, n - 1);
    }

    private static void powers(double[] re, double[] im, double[] power, int n) {
        for (int i = 0; i < n; i++) {
            power[i] = re[i] * re[i] + im[i] * im[i];
        }
    }

    /** Real part of z times the conjugate of the value before. */
    private static void dots(double[] re, double[] im, double[] beforeRe, double[] beforeIm, double[] dot, int n) {
        for (int i = 0; i < n; i++) {
            dot[i] = re[i] * beforeRe[i] + im[i] * beforeIm[i];
        }
    }

    /** Imaginary part of it. */
    private static void crosses(double[] re, double[] im, double[] beforeRe, double[] beforeIm, double[] cross, int n) {
        for (int i = 0; i < n; i++) {
            cross[i] = im[i] * beforeRe[i] - re[i] * beforeIm[i];
        }
    }

    private static void sums(double[] a, double[] b, double ofA, double ofB, double[] sum, int n) {
        for (int i = 0; i < n; i++) {
            sum[i] = ofA * a[i] + ofB * b[i];
        }
    }

    private static void quotients(double[] a, double[] b, double[] quotient, int n) {
        for (int i = 0; i < n; i++) {
            quotient[i] = a[i] / b[i];
        }
    }

    /** Series of the arc tangent. */
    private static void arcTangents(double[] tangent, double[] angle, int n) {
        for (int i = 0; i < n; i++) {
            double t = tangent[i];
            double s = t * t;
            double q = 1.0 / 13 - s * (1.0 / 15);
            q = -1.0 / 11 + s * q;
            q = 1.0 / 9 + s * q;
            q = -1.0 / 7 + s * q;
            q = 1.0 / 5 + s * q;
            q = -1.0 / 3 + s * q;
            angle[i] = t + t * s * q;
        }
    }

    /** (a - b)/(a + b), the hyperbolic tangent of half the logarithm of a/b... and so of the step of the amplitude. */
    private static void relativeSteps(double[] power, double[] before, double[] step, int n) {
        for (int i = 0; i < n; i++) {
            step[i] = (power[i] - before[i]) / (power[i] + before[i]);
        }
    }

    /** Series of the inverse hyperbolic tangent. */
    private static void areaTangents(double[] tangent, double[] area, int n) {
        for (int i = 0; i < n; i++) {
            double u = tangent[i];
            double s = u * u;
            area[i] = u + u * s * (1.0 / 3 + s * (1.0 / 5 + s * (1.0 / 7)));
        }
    }

    /** Puts right what the series are not good for. Two zeros in a row make no step of the amplitude. */
    private void largeSteps(int n, double[] power, double[] phase, double[] amplitude) {
        for (int i = 0; i < n; i++) {
            if (!(Math.abs(across[i]) < SMALL_TANGENT * along[i])) {
                phase[i] = Math.atan2(across[i], along[i]);
            }
            if (!(Math.abs(ratio[i]) < SMALL_RATIO)) {
                double a = power[i];
                double b = beforePower[i];
                amplitude[i] = a > 0 && b > 0 ? 0.5 * Math.log(a / b) : 0;
            }
        }
    }
}
