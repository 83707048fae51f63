/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import java.util.Arrays;

/** Mean power density by multitaper, and mean amplitude under a Hann window, of records of one length. Thread-confined. */
final class Multitaper {
    private final DpssTapers tapers;
    private final double rateHz;
    private final Fourier fourier;
    private final double[] power;
    private final double[] hannPower;
    private final double[] record;
    private int records;

    Multitaper(int length, double rateHz, double timeHalfBandwidth, int count) {
        this.tapers = DpssTapers.of(length, timeHalfBandwidth, count);
        this.rateHz = rateHz;
        this.fourier = new Fourier(Fourier.pointsFor(length));
        this.power = new double[fourier.points() / 2 + 1];
        this.hannPower = new double[power.length];
        this.record = new double[length];
    }

    double spacingHz() {
        return rateHz / fourier.points();
    }

    double halfBandwidthHz() {
        return tapers.timeHalfBandwidth() * rateHz / record.length;
    }

    /** Adds a record, its trend taken out. */
    void add(double[] samples) {
        System.arraycopy(samples, 0, record, 0, record.length);
        Trend.remove(record, record.length);
        // Two real transforms in one; the Hann window comes last.
        for (int k = 0; k <= tapers.count(); k += 2) {
            window(k, fourier.first());
            window(k + 1, fourier.second());
            fourier.transform();
            double[] firstSum = k < tapers.count() ? power : hannPower;
            double[] secondSum = k + 1 < tapers.count() ? power : hannPower;
            boolean single = k == tapers.count();
            for (int i = 0; i < power.length; i++) {
                firstSum[i] += fourier.firstPower(i);
                if (!single) {
                    secondSum[i] += fourier.secondPower(i);
                }
            }
        }
        records++;
    }

    private void window(int number, double[] to) {
        int n = record.length;
        Arrays.fill(to, n, to.length, 0);
        if (number < tapers.count()) {
            double[] taper = tapers.shared(number);
            for (int i = 0; i < n; i++) {
                to[i] = taper[i] * record[i];
            }
        } else {
            for (int i = 0; i < n; i++) {
                // Its sum is n.
                to[i] = (1 - Math.cos(2 * Math.PI * (i + 0.5) / n)) * record[i];
            }
        }
    }

    /** One-sided density at multiples of the spacing, from 0 to half the rate. */
    double[] density() {
        double[] density = new double[power.length];
        for (int i = 0; i < density.length; i++) {
            boolean alone = i == 0 || i == density.length - 1;
            density[i] = (alone ? 1 : 2) * power[i] / (rateHz * tapers.count() * records);
        }
        return density;
    }

    /** Peak amplitude of a sine that would stand at each frequency. */
    double[] amplitude() {
        double[] amplitude = new double[power.length];
        for (int i = 0; i < amplitude.length; i++) {
            amplitude[i] = 2 * Math.sqrt(hannPower[i] / records) / record.length;
        }
        return amplitude;
    }
}
