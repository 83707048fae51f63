/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.benchmarks;

import java.util.OptionalDouble;
import org.tapemetrology.core.carrier.CarrierBand;
import org.tapemetrology.core.carrier.Demodulator;
import org.tapemetrology.core.carrier.ToneTracker;
import org.tapemetrology.core.detector.HighestPerPart;
import org.tapemetrology.core.detector.MovingMoment;
import org.tapemetrology.core.detector.QuasiPeakDetector;
import org.tapemetrology.core.detector.TwoSigma;
import org.tapemetrology.core.filter.Butterworth;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.filter.SectionsDecimator;
import org.tapemetrology.core.standard.Iec60386Edition1972;

/**
 * The weighted wow and flutter of a known tone alone, put together from the stages of the library: the tone followed, the
 * band limited, the weighting, quasi-peak indication and two-sigma value. It knows nothing of noise, of a second tone or of
 * speed: it is here to be timed, and to show what of the time of {@link org.tapemetrology.core.flutter.ToneMeter} is the rest.
 */
final class WeightedReading implements ToneTracker.Listener {
    private static final double BAND_HZ = 470;
    private static final double LEAST_RATE_HZ = 2000;

    private final Demodulator demodulator;
    private final ToneTracker tracker;
    private final SectionsDecimator limiter;
    private final SecondOrderSections weighting;
    private final QuasiPeakDetector quasiPeak;
    private final HighestPerPart highest;
    private final TwoSigma twoSigma;
    private double[] deviation = new double[0];
    private double[] amplitudeDeviation = new double[0];
    private double[] power = new double[0];
    private double[] weighted = new double[0];
    private double[] indicated = new double[0];
    private final MovingMoment moment = new MovingMoment();
    private long index;

    WeightedReading(int sampleRateHz, double toneHz) {
        CarrierBand band = CarrierBand.of(sampleRateHz, toneHz);
        double inputRateHz = band.rateHz();
        limiter = new SectionsDecimator(Butterworth.lowPass(8, BAND_HZ, inputRateHz), LEAST_RATE_HZ);
        double rateHz = limiter.rateHz();
        demodulator = new Demodulator(band);
        tracker = new ToneTracker(inputRateHz, toneHz, band.windowSeconds(), this);
        weighting = Iec60386Edition1972.weighting().bilinear(rateHz);
        quasiPeak = new QuasiPeakDetector(Iec60386Edition1972.QUASI_PEAK, rateHz);
        highest = new HighestPerPart(Math.round(30 * rateHz), rateHz);
        twoSigma = new TwoSigma(
                Iec60386Edition1972.TWO_SIGMA_EXCEEDED,
                (int) Math.round(Iec60386Edition1972.TWO_SIGMA_PERIOD_SECONDS * rateHz),
                rateHz);
    }

    void accept(float[] samples, int offset, int length) {
        int most = demodulator.mostOutputs(length);
        if (deviation.length < most) {
            deviation = new double[most];
            amplitudeDeviation = new double[most];
            power = new double[most];
        }
        int count = demodulator.process(samples, offset, length, deviation, amplitudeDeviation, power);
        tracker.process(deviation, amplitudeDeviation, power, count);
    }

    @Override
    public void accept(double[] hz, double[] amplitudeHz, double[] powers, int offset, int length, boolean bridged) {
        if (weighted.length < length) {
            weighted = new double[length];
            indicated = new double[length];
        }
        int count = limiter.process(hz, offset, length, weighted);
        weighting.process(weighted, 0, weighted, 0, count);
        moment.process(weighted, 0, weighted, 0, count);
        if (!bridged) {
            quasiPeak.process(weighted, 0, indicated, 0, count);
            highest.add(indicated, 0, count, index);
            twoSigma.addMoved(weighted, 0, count);
        }
        index += count;
    }

    @Override
    public void bridged(long firstIndex, long length) {}

    /** Quasi-peak reading in Hz. */
    OptionalDouble quasiPeakHz() {
        return highest.meanOfHighest();
    }

    /** Two-sigma value in Hz. */
    OptionalDouble twoSigmaHz() {
        return twoSigma.value();
    }
}
