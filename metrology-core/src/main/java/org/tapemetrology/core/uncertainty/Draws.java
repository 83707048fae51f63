/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import java.util.SplittableRandom;

/** Random numbers by stated formulae, so that a seed gives the same figures on every platform. */
final class Draws {
    private Draws() {}

    /** Standard normal, by the polar method (JCGM 101:2008, C.4, in its rejection form). */
    static double normal(SplittableRandom random) {
        while (true) {
            double x = 2 * random.nextDouble() - 1;
            double y = 2 * random.nextDouble() - 1;
            double r = x * x + y * y;
            if (r > 0 && r < 1) {
                return x * Math.sqrt(-2 * StrictMath.log(r) / r);
            }
        }
    }

    /**
     * Student's t for any degrees of freedom, the polar method of R. W. Bailey, Mathematics of Computation 62 (1994)
     * p. 779 (from memory).
     */
    static double student(SplittableRandom random, double degreesOfFreedom) {
        if (degreesOfFreedom > StudentT.NORMAL_ABOVE) {
            return normal(random);
        }
        while (true) {
            double x = 2 * random.nextDouble() - 1;
            double y = 2 * random.nextDouble() - 1;
            double r = x * x + y * y;
            if (r > 0 && r < 1) {
                return x
                        * Math.sqrt(degreesOfFreedom * StrictMath.expm1(-2 / degreesOfFreedom * StrictMath.log(r)) / r);
            }
        }
    }
}
