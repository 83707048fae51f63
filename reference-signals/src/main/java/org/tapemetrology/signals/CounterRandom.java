/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

/**
 * Random numbers by number: the n-th is a function of key and n, so any part of a noise can be made on its own. The
 * hash is the finaliser of SplitMix64; the normal quantile is algorithm AS 241 of Applied Statistics 37 (1988).
 */
@SuppressWarnings("FloatingPointLiteralPrecision") // The constants stand as they were printed.
record CounterRandom(long key) {
    private static final long GOLDEN = 0x9E3779B97F4A7C15L;
    private static final double UNIT = 0x1p-53;

    private static final double[] CENTRE_ABOVE = {
        2.5090809287301226727e3, 3.3430575583588128105e4, 6.7265770927008700853e4, 4.5921953931549871457e4,
        1.3731693765509461125e4, 1.9715909503065514427e3, 1.3314166789178437745e2, 3.3871328727963666080
    };
    private static final double[] CENTRE_BELOW = {
        5.2264952788528545610e3,
        2.8729085735721942674e4,
        3.9307895800092710610e4,
        2.1213794301586595867e4,
        5.3941960214247511077e3,
        6.8718700749205790830e2,
        4.2313330701600911252e1,
        1
    };
    private static final double[] MIDDLE_ABOVE = {
        7.74545014278341407640e-4, 2.27238449892691845833e-2, 2.41780725177450611770e-1, 1.27045825245236838258,
        3.64784832476320460504, 5.76949722146069140550, 4.63033784615654529590, 1.42343711074968357734
    };
    private static final double[] MIDDLE_BELOW = {
        1.05075007164441684324e-9,
        5.47593808499534494600e-4,
        1.51986665636164571966e-2,
        1.48103976427480074590e-1,
        6.89767334985100004550e-1,
        1.67638483018380384940,
        2.05319162663775882187,
        1
    };
    private static final double[] TAIL_ABOVE = {
        2.01033439929228813265e-7, 2.71155556874348757815e-5, 1.24266094738807843860e-3, 2.65321895265761230930e-2,
        2.96560571828504891230e-1, 1.78482653991729133580, 5.46378491116411436990, 6.65790464350110377720
    };
    private static final double[] TAIL_BELOW = {
        2.04426310338993978564e-15,
        1.42151175831644588870e-7,
        1.84631831751005468180e-5,
        7.86869131145613259100e-4,
        1.48753612908506148525e-2,
        1.36929880922735805310e-1,
        5.99832206555887937690e-1,
        1
    };

    static CounterRandom of(long seed) {
        return new CounterRandom(mix(seed + GOLDEN));
    }

    /** Numbers independent of these. */
    CounterRandom stream(long number) {
        return new CounterRandom(mix(key ^ mix(number + GOLDEN)));
    }

    /** The n-th uniform number, above 0 and below 1. */
    double uniform(long index) {
        return ((mix(key + GOLDEN * index) >>> 11) + 0.5) * UNIT;
    }

    /** The n-th number of the standard normal distribution. */
    double gaussian(long index) {
        return normalQuantile(uniform(index));
    }

    static double normalQuantile(double probability) {
        double q = probability - 0.5;
        if (Math.abs(q) <= 0.425) {
            double r = 0.180625 - q * q;
            return q * ratio(CENTRE_ABOVE, CENTRE_BELOW, r);
        }
        double r = Math.sqrt(-StrictMath.log(q < 0 ? probability : 1 - probability));
        double size = r <= 5 ? ratio(MIDDLE_ABOVE, MIDDLE_BELOW, r - 1.6) : ratio(TAIL_ABOVE, TAIL_BELOW, r - 5);
        return q < 0 ? -size : size;
    }

    private static double ratio(double[] above, double[] below, double x) {
        double numerator = 0;
        double denominator = 0;
        for (int i = 0; i < above.length; i++) {
            numerator = numerator * x + above[i];
            denominator = denominator * x + below[i];
        }
        return numerator / denominator;
    }

    private static long mix(long value) {
        long z = (value ^ (value >>> 30)) * 0xBF58476D1CE4E5B9L;
        z = (z ^ (z >>> 27)) * 0x94D049BB133111EBL;
        return z ^ (z >>> 31);
    }
}
