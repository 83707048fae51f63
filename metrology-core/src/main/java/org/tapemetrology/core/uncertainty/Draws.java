/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;

/** Random numbers by stated formulae, so that a seed gives the same figures on every platform. */
final class Draws {
    private Draws() {}

    /** Standard normal, by the polar method (JCGM 101:2008, C.4, in its rejection form). */
    static double normal(SplittableRandom random) {
        return polar(random, r -> -2 * StrictMath.log(r));
    }

    /**
     * Student's t for any degrees of freedom, the polar method of R. W. Bailey, Mathematics of Computation 62 (1994)
     * p. 779 (from memory).
     */
    static double student(SplittableRandom random, double degreesOfFreedom) {
        return degreesOfFreedom > StudentT.NORMAL_ABOVE
                ? normal(random)
                : polar(random, r -> degreesOfFreedom * StrictMath.expm1(-2 / degreesOfFreedom * StrictMath.log(r)));
    }

    /** A point in the unit circle, its abscissa stretched so that its distance has a distribution. */
    private static double polar(SplittableRandom random, DoubleUnaryOperator squaredDistance) {
        while (true) {
            double x = 2 * random.nextDouble() - 1;
            double y = 2 * random.nextDouble() - 1;
            double r = x * x + y * y;
            if (r > 0 && r < 1) {
                return x * Math.sqrt(squaredDistance.applyAsDouble(r) / r);
            }
        }
    }
}
