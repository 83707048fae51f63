/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.stability;

import org.tapemetrology.core.internal.Require;

/**
 * Deviations of a fractional frequency y averaged over tau, by the formulas of NIST SP 1065 (W. J. Riley, "Handbook of
 * Frequency Stability Analysis", 2008), clause 5 (second-hand). They are written on the phase x, the integral of y; for
 * tape, y is the relative speed deviation and x the time by which the tape is ahead.
 */
public enum StabilityDeviation {
    /** Allan deviation (5.2.2): RMS difference of neighbouring means, over root 2. */
    ALLAN {
        @Override
        int termsOf(int phases, int factor) {
            return (phases - 1) / factor - 1;
        }

        @Override
        double varianceOf(double[] phase, int factor, double tau) {
            return secondDifferences(phase, factor, factor) / (2 * tau * tau);
        }
    },
    /** Overlapping Allan deviation (5.2.4): every start of the two means. */
    OVERLAPPING_ALLAN {
        @Override
        int termsOf(int phases, int factor) {
            return phases - 2 * factor;
        }

        @Override
        double varianceOf(double[] phase, int factor, double tau) {
            return secondDifferences(phase, factor, 1) / (2 * tau * tau);
        }
    },
    /** Modified Allan deviation (5.2.5): the phase is averaged too, which tells white from flicker phase noise. */
    MODIFIED_ALLAN {
        @Override
        int termsOf(int phases, int factor) {
            return phases - 3 * factor + 1;
        }

        @Override
        double varianceOf(double[] phase, int factor, double tau) {
            double square = 2.0 * factor * factor * tau * tau;
            return averagedSecondDifferences(phase, factor) / square;
        }
    },
    /** Time deviation (5.2.6) in s: modified Allan deviation times tau over root 3. */
    TIME {
        @Override
        int termsOf(int phases, int factor) {
            return MODIFIED_ALLAN.termsOf(phases, factor);
        }

        @Override
        double varianceOf(double[] phase, int factor, double tau) {
            return MODIFIED_ALLAN.varianceOf(phase, factor, tau) * tau * tau / 3;
        }
    },
    /** Hadamard deviation (5.2.8): second differences of the means, blind to a linear drift. */
    HADAMARD {
        @Override
        int termsOf(int phases, int factor) {
            return (phases - 1) / factor - 2;
        }

        @Override
        double varianceOf(double[] phase, int factor, double tau) {
            return thirdDifferences(phase, factor, factor) / (6 * tau * tau);
        }
    },
    /** Overlapping Hadamard deviation (5.2.9): every start of the three means. */
    OVERLAPPING_HADAMARD {
        @Override
        int termsOf(int phases, int factor) {
            return phases - 3 * factor;
        }

        @Override
        double varianceOf(double[] phase, int factor, double tau) {
            return thirdDifferences(phase, factor, 1) / (6 * tau * tau);
        }
    },
    /** Total deviation (5.2.11): Allan deviation of the phase continued by odd reflection about both its ends. */
    TOTAL {
        @Override
        int termsOf(int phases, int factor) {
            // Reflection reaches one record beyond either end.
            return factor < phases - 1 ? phases - 2 : 0;
        }

        @Override
        double varianceOf(double[] phase, int factor, double tau) {
            int terms = phase.length - 2;
            double sum = 0;
            for (int i = 1; i <= terms; i++) {
                double d = reflected(phase, i - factor) - 2 * phase[i] + reflected(phase, i + factor);
                sum += d * d;
            }
            return sum / terms / (2 * tau * tau);
        }
    };

    /** How many differences a record of so many phases gives; below 1 where it is too short. */
    abstract int termsOf(int phases, int factor);

    abstract double varianceOf(double[] phase, int factor, double tau);

    /**
     * The longest averaging time that a record allows.
     *
     * @param phases number of phases, one more than of frequencies
     * @return averaging factor; 0 where the record is too short for any
     */
    int greatestFactor(int phases) {
        // Terms fall as the factor rises.
        int least = 0;
        int beyond = phases;
        while (beyond - least > 1) {
            int middle = (least + beyond) >>> 1;
            if (termsOf(phases, middle) >= 1) {
                least = middle;
            } else {
                beyond = middle;
            }
        }
        return least;
    }

    StabilityPoint of(double[] phase, int factor, double secondsPerSample) {
        Require.inRange("averaging factor", factor, 1, Math.max(1, greatestFactor(phase.length)));
        int terms = termsOf(phase.length, factor);
        if (terms < 1) {
            throw new IllegalArgumentException(phase.length + " phases are too few for " + this);
        }
        double tau = factor * secondsPerSample;
        return new StabilityPoint(tau, Math.sqrt(varianceOf(phase, factor, tau)), terms);
    }

    private static double secondDifferences(double[] x, int m, int step) {
        double sum = 0;
        int terms = 0;
        for (int i = 0; i + 2 * m < x.length; i += step) {
            double d = x[i + 2 * m] - 2 * x[i + m] + x[i];
            sum += d * d;
            terms++;
        }
        return sum / terms;
    }

    private static double thirdDifferences(double[] x, int m, int step) {
        double sum = 0;
        int terms = 0;
        for (int i = 0; i + 3 * m < x.length; i += step) {
            double d = x[i + 3 * m] - 3 * (x[i + 2 * m] - x[i + m]) - x[i];
            sum += d * d;
            terms++;
        }
        return sum / terms;
    }

    /** Mean square of second differences summed over m neighbours, the sum carried along from one to the next. */
    private static double averagedSecondDifferences(double[] x, int m) {
        double inner = 0;
        for (int i = 0; i < m; i++) {
            inner += x[i + 2 * m] - 2 * x[i + m] + x[i];
        }
        int terms = x.length - 3 * m + 1;
        double sum = inner * inner;
        for (int j = 1; j < terms; j++) {
            inner += x[j + 3 * m - 1] - 3 * (x[j + 2 * m - 1] - x[j + m - 1]) - x[j - 1];
            sum += inner * inner;
        }
        return sum / terms;
    }

    private static double reflected(double[] x, int i) {
        int last = x.length - 1;
        if (i < 0) {
            return 2 * x[0] - x[-i];
        }
        return i > last ? 2 * x[last] - x[2 * last - i] : x[i];
    }
}
