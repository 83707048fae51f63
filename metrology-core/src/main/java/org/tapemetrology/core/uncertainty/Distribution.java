/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.uncertainty;

import java.util.SplittableRandom;
import org.tapemetrology.core.internal.Require;

/** Distribution of the values that an input could have (JCGM 100:2008, 4.3; JCGM 101:2008, 6.4). */
public enum Distribution {
    /** Normal; its half-width is the standard uncertainty itself. */
    NORMAL("normal", 1) {
        @Override
        double standardised(SplittableRandom random) {
            return Draws.normal(random);
        }
    },
    /** Anywhere between the bounds alike: the half-width over the square root of 3. */
    RECTANGULAR("rectangular", Math.sqrt(3)) {
        @Override
        double standardised(SplittableRandom random) {
            return divisor() * (2 * random.nextDouble() - 1);
        }
    },
    /** Near the middle rather than near the bounds: the half-width over the square root of 6. */
    TRIANGULAR("triangular", Math.sqrt(6)) {
        @Override
        double standardised(SplittableRandom random) {
            double sum = random.nextDouble() + random.nextDouble();
            return divisor() * (sum - 1);
        }
    },
    /** A sinusoid at a random moment (U-shaped): the half-width over the square root of 2. */
    ARCSINE("arcsine", Math.sqrt(2)) {
        @Override
        double standardised(SplittableRandom random) {
            return divisor() * StrictMath.cos(Math.PI * random.nextDouble());
        }
    },
    /**
     * An effect that can go one way only and is not corrected: alike from 0 to its reach. The standard uncertainty is its
     * root mean square about the uncorrected reading, the reach over the square root of 3 (after JCGM 100:2008, F.2.4.5).
     */
    ONE_SIDED("one-sided", Math.sqrt(3)) {
        @Override
        double standardised(SplittableRandom random) {
            return divisor() * random.nextDouble();
        }
    };

    private final String id;
    private final double divisor;

    Distribution(String id, double divisor) {
        this.id = id;
        this.divisor = divisor;
    }

    /**
     * The word for this distribution in machine-readable output.
     *
     * @return the word
     */
    public String id() {
        return id;
    }

    /**
     * What the half-width is divided by to give the standard uncertainty.
     *
     * @return the divisor
     */
    public double divisor() {
        return divisor;
    }

    /**
     * Standard uncertainty of an input that may lie a half-width to either side of its estimate.
     *
     * @param halfWidth the half-width, in any unit, not negative
     * @return the standard uncertainty in the same unit
     */
    public double standardUncertainty(double halfWidth) {
        return Require.notNegative("halfWidth", halfWidth) / divisor;
    }

    /**
     * Draws a deviation from the estimate.
     *
     * @param random source of random numbers
     * @param standardUncertainty standard uncertainty of the input
     * @return the deviation in the unit of the standard uncertainty
     */
    public double sample(SplittableRandom random, double standardUncertainty) {
        return standardUncertainty * standardised(random);
    }

    /** A deviation of standard uncertainty 1. */
    abstract double standardised(SplittableRandom random);
}
