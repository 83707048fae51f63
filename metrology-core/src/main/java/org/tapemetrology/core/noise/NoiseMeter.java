/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.noise;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.detector.AverageDetector;
import org.tapemetrology.core.filter.Butterworth;
import org.tapemetrology.core.filter.MatchedFilter;
import org.tapemetrology.core.filter.SecondOrderSections;
import org.tapemetrology.core.internal.FullScaleRun;
import org.tapemetrology.core.level.DigitalLevel;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;
import org.tapemetrology.core.standard.Iec61260Edition2014;
import org.tapemetrology.core.standard.Iec61672Edition2013;
import org.tapemetrology.core.standard.ItuRBs468Edition4;

/**
 * Noise and hum of one channel of a recording without programme.
 *
 * <p>Levels are in dBFS, {@code 20 lg(sqrt(2) rms)}: a full-scale sine is 0 dBFS (AES17).
 *
 * <table>
 * <caption>What is read, and when it is there</caption>
 * <tr><th>reading</th><th>how</th><th>left out at the start</th><th>needed after it</th></tr>
 * <tr><td>{@code noise.a-weighted}</td><td>A weighting of IEC 61672-1, true RMS</td><td>1 s</td><td>1 s</td></tr>
 * <tr><td>{@code noise.unweighted}</td><td>fourth-order Butterworth edges at 22.4 Hz and 22.4 kHz, true RMS; the upper
 * edge is half the sampling rate where that is lower</td><td>1 s</td><td>1 s</td></tr>
 * <tr><td>{@code noise.quasi-peak}, {@code noise.quasi-peak.maximum}</td><td>weighting and quasi-peak detector of ITU-R
 * BS.468-4; mean and highest indication</td><td>5 s</td><td>1 s</td></tr>
 * <tr><td>{@code noise.average}</td><td>the same weighting with 0 dB at 2 kHz; mean of the rectified signal, scaled to
 * the RMS of a sine</td><td>1 s</td><td>1 s</td></tr>
 * <tr><td>{@code noise.third-octave}</td><td>true RMS in the bands of IEC 61260-1 class 1 from 25 Hz to 20 kHz that fit
 * the sampling rate, one reading at each exact mid-band frequency</td><td>2 s</td><td>5 s</td></tr>
 * <tr><td>{@code hum}</td><td>root sum square of the mains fundamental and its harmonics 2 to 10 by least-squares fits
 * over consecutive windows of 1 s, within 0.3 Hz of the nominal mains frequency; of 50 Hz and 60 Hz the one with more
 * power, unless it is given. First the whole, then a reading at each multiple of the nominal mains frequency. Where a
 * harmonic is not significantly stronger than the noise 4 to 7 Hz beside it, on a level that noise alone reaches in 1 % of
 * recordings, its reading is {@code ambiguous}, and so is the whole where no harmonic is</td>
 * <td>20 ms</td><td>1 s</td></tr>
 * </table>
 *
 * <p>Samples are worked on in frames of {@value #LANES} times {@value #LANE_LENGTH}, at rates below 32 kHz of
 * {@value #LANES_AT_LOW_RATES} times {@value #LANE_LENGTH}. A figure covers the whole frames taken so far, at most 0.13 s
 * less than what was pushed.
 *
 * <p>Each has an uncertainty of type A by its own scatter. For {@code noise.quasi-peak.maximum} that takes 2.8 s or more; before,
 * what it stands above the mean indication is taken for it, which is wide.
 *
 * <p>A reading is {@code settling} and then {@code insufficient-data} until its time has come. Digital silence has no
 * level: below {@link DigitalLevel#SILENCE_DBFS} a reading is {@code insufficient-data}, since the input holds nothing to
 * be measured. Three samples in a row at full scale make every reading {@code overload}, a sample that is no finite number {@code
 * invalid-input}, until {@link #reset()}.
 *
 * <p>Thread-confined.
 *
 * <p>Settling and cost: by the table. Memory does not grow.
 *
 * <p>Not for recordings with a tone or programme, whose power would count as noise.
 */
public final class NoiseMeter {
    /** Samples of a lane: few enough to stay in the nearest cache, enough to make light of what lanes hand over. */
    private static final int LANE_LENGTH = 32;

    private static final int LANES = 128;
    /** Where the rate is so low that the frame would last longer than an eighth of a second. */
    private static final int LANES_AT_LOW_RATES = 32;

    private static final double LOW_RATE_HZ = 32_000;
    private static final double LOWEST_RATE_HZ = 8000;
    private static final double HIGHEST_RATE_HZ = 192_000;

    private static final double UNWEIGHTED_LOWER_HZ = 22.4;
    private static final double UNWEIGHTED_UPPER_HZ = 22_400;
    /** Within 0.3 dB from 31.5 Hz to 16 kHz, and 24 dB per octave outside. */
    private static final int UNWEIGHTED_ORDER = 4;

    /** The slowest pole of the weightings and edges, 8.6 Hz, has decayed by 400 dB. */
    private static final double RMS_SETTLING_SECONDS = 1;

    private static final double RMS_SECONDS = 1;
    private static final double QUASI_PEAK_SETTLING_SECONDS = 5;
    private static final double QUASI_PEAK_SECONDS = 1;
    /** The slowest pole of the 25 Hz band, 1.1 Hz, has decayed by 120 dB. */
    private static final double BAND_SETTLING_SECONDS = 2;

    private static final double BAND_SECONDS = 5;

    private static final String A_METHOD = "IEC 61672-1:2013 A, true RMS";
    private static final String QUASI_PEAK_METHOD = "ITU-R BS.468-4";
    private static final String AVERAGE_METHOD = "ITU-R BS.468-4 weighting re 2 kHz, average";
    private static final String BAND_METHOD = "IEC 61260-1:2014 class 1, true RMS";
    private static final String HUM_METHOD = "least-squares fits over 1 s";

    private final double sampleRateHz;
    private final OctavePyramid pyramid;
    private final WeightedPower aWeighted;
    private final WeightedPower unweighted;
    private final String unweightedMethod;
    private final QuasiPeakPath quasiPeak;
    private final double averageScale;
    private final ThirdOctaveBank bank;
    private final List<HumFits> hums = new ArrayList<>();
    private final int humStage;

    private final double[] frame;
    private int filled;
    private long taken;
    private final FullScaleRun fullScale = new FullScaleRun();
    private boolean overloaded;
    private boolean invalid;

    private NoiseMeter(double sampleRateHz, double[] mainsHz, boolean thirdOctavesAndHum) {
        this.sampleRateHz = sampleRateHz;
        int lanes = sampleRateHz < LOW_RATE_HZ ? LANES_AT_LOW_RATES : LANES;
        frame = new double[lanes * LANE_LENGTH];
        int stages = 1;
        double lowestUpperEdgeHz = Iec61260Edition2014.upperEdgeHz(Iec61260Edition2014.LOWEST_BAND);
        for (double rate = sampleRateHz / 2;
                thirdOctavesAndHum && rate * OctavePyramid.CLEAN >= lowestUpperEdgeHz;
                rate /= 2) {
            stages++;
        }
        pyramid = new OctavePyramid(sampleRateHz, stages, lanes, LANE_LENGTH);

        aWeighted = power(new MatchedFilter(Iec61672Edition2013.aWeighting(), sampleRateHz).sections());
        boolean whole = UNWEIGHTED_UPPER_HZ < 0.5 * sampleRateHz;
        unweightedMethod = whole ? "22.4 Hz to 22.4 kHz, true RMS" : "22.4 Hz to half the sampling rate, true RMS";
        SecondOrderSections lower = Butterworth.highPass(UNWEIGHTED_ORDER, UNWEIGHTED_LOWER_HZ, sampleRateHz);
        unweighted = power(
                whole
                        ? lower.then(new MatchedFilter(
                                        Butterworth.analogLowPass(UNWEIGHTED_ORDER, UNWEIGHTED_UPPER_HZ), sampleRateHz)
                                .sections())
                        : lower);
        quasiPeak = new QuasiPeakPath(pyramid.input(), sampleRateHz, QUASI_PEAK_SETTLING_SECONDS, RMS_SETTLING_SECONDS);
        averageScale = AverageDetector.FORM_FACTOR_OF_SINE
                / ItuRBs468Edition4.weighting().magnitude(ItuRBs468Edition4.AVERAGE_REFERENCE_HZ);
        bank = new ThirdOctaveBank(pyramid, BAND_SETTLING_SECONDS, thirdOctavesAndHum);
        humStage = pyramid.slowestStageFor(
                HumFits.highestHz(Arrays.stream(mainsHz).max().orElseThrow()));
        if (thirdOctavesAndHum) {
            pyramid.provideSamples(humStage);
            for (double mains : mainsHz) {
                hums.add(new HumFits(mains, pyramid.rateHz(humStage)));
            }
        }
    }

    private WeightedPower power(SecondOrderSections filter) {
        return new WeightedPower(pyramid.input(), filter, RMS_SETTLING_SECONDS);
    }

    /**
     * Starts to describe a meter.
     *
     * @return a builder
     */
    public static Builder builder() {
        return new Builder();
    }

    /**
     * Takes a block.
     *
     * @param samples samples, full scale is 1
     * @param offset first sample
     * @param length number of samples
     */
    public void accept(double[] samples, int offset, int length) {
        for (int done = 0; done < length; ) {
            int part = Math.min(frame.length - filled, length - done);
            System.arraycopy(samples, offset + done, frame, filled, part);
            took(part);
            done += part;
        }
    }

    /**
     * Takes a block.
     *
     * @param samples samples, full scale is 1
     * @param offset first sample
     * @param length number of samples
     */
    public void accept(float[] samples, int offset, int length) {
        for (int done = 0; done < length; ) {
            int part = Math.min(frame.length - filled, length - done);
            for (int i = 0; i < part; i++) {
                frame[filled + i] = samples[offset + done + i];
            }
            took(part);
            done += part;
        }
    }

    /** Samples have been added to the frame; a full one is worked on. */
    private void took(int count) {
        for (int i = filled; i < filled + count; i++) {
            invalid |= !Double.isFinite(frame[i]);
            overloaded |= fullScale.overloads(frame[i]);
        }
        taken += count;
        filled += count;
        if (filled < frame.length) {
            return;
        }
        filled = 0;
        if (invalid) {
            return; // nothing that could be read later depends on the rest
        }
        pyramid.input().take(frame);
        pyramid.process();
        aWeighted.process();
        unweighted.process();
        quasiPeak.process();
        bank.process();
        double[] slow = pyramid.samples(humStage);
        for (int i = 0; i < hums.size(); i++) {
            hums.get(i).process(slow, pyramid.count(humStage));
        }
    }

    /**
     * Everything that can be read now, in a fixed order: the single figures, the bands from low to high, hum.
     *
     * @return the readings in dBFS, belonging to no channel yet
     */
    public List<Reading> readings() {
        List<Reading> readings = new ArrayList<>();
        readings.add(reading(
                Quantity.NOISE_A_WEIGHTED,
                RMS_SETTLING_SECONDS,
                RMS_SECONDS,
                aWeighted.rms(),
                aWeighted.decibelUncertainty(),
                A_METHOD));
        readings.add(reading(
                Quantity.NOISE_UNWEIGHTED,
                RMS_SETTLING_SECONDS,
                RMS_SECONDS,
                unweighted.rms(),
                unweighted.decibelUncertainty(),
                unweightedMethod));
        readings.add(reading(
                Quantity.NOISE_QUASI_PEAK,
                QUASI_PEAK_SETTLING_SECONDS,
                QUASI_PEAK_SECONDS,
                quasiPeak.meanIndication(),
                quasiPeak.indicationUncertainty(),
                QUASI_PEAK_METHOD));
        Reading highest = reading(
                Quantity.NOISE_QUASI_PEAK_MAXIMUM,
                QUASI_PEAK_SETTLING_SECONDS,
                QUASI_PEAK_SECONDS,
                quasiPeak.highestIndication(),
                quasiPeak.highestUncertainty(),
                QUASI_PEAK_METHOD);
        readings.add(highest.isValid() ? highest.atTime(quasiPeak.highestAtSeconds()) : highest);
        readings.add(reading(
                Quantity.NOISE_AVERAGE,
                RMS_SETTLING_SECONDS,
                RMS_SECONDS,
                averageScale * quasiPeak.meanMagnitude(),
                quasiPeak.magnitudeUncertainty(),
                AVERAGE_METHOD));
        for (int i = 0; i < bank.size(); i++) {
            readings.add(reading(
                            Quantity.NOISE_THIRD_OCTAVE,
                            BAND_SETTLING_SECONDS,
                            BAND_SECONDS,
                            bank.rms(i),
                            bank.decibelUncertainty(i),
                            BAND_METHOD)
                    .atFrequency(bank.midBandHz(i)));
        }
        if (!hums.isEmpty()) {
            addHum(readings);
        }
        return List.copyOf(readings);
    }

    private void addHum(List<Reading> readings) {
        HumFits stronger = hums.get(0);
        for (HumFits hum : hums) {
            if (hum.windows() > 0 && hum.totalPower() > stronger.totalPower()) {
                stronger = hum;
            }
        }
        readings.add(humReading(
                stronger,
                stronger.totalPower(),
                stronger.decibelUncertainty(),
                stronger.windows() > 0 && stronger.standsOut()));
        for (int k = 1; k <= HarmonicFit.HARMONICS; k++) {
            boolean standsOut = stronger.windows() > 0 && stronger.standsOut(k);
            readings.add(humReading(stronger, stronger.power(k), stronger.decibelUncertainty(k), standsOut)
                    .atFrequency(k * stronger.mainsHz()));
        }
    }

    private Reading humReading(HumFits hum, double power, Optional<StandardUncertainty> scatter, boolean standsOut) {
        if (!invalid && hum.windows() == 0) {
            return Reading.without(Quantity.HUM, Status.INSUFFICIENT_DATA, HUM_METHOD);
        }
        Reading found = level(Quantity.HUM, Math.sqrt(power), scatter, HUM_METHOD);
        return found.isValid() && !standsOut
                ? Reading.without(Quantity.HUM, Status.AMBIGUOUS, HUM_METHOD + "; does not stand out of the noise")
                : found;
    }

    private Reading reading(
            Quantity quantity,
            double settlingSeconds,
            double neededSeconds,
            double rms,
            Optional<StandardUncertainty> scatter,
            String method) {
        double seconds = taken / sampleRateHz - settlingSeconds;
        if (!invalid && seconds < neededSeconds) {
            return Reading.without(quantity, seconds < 0 ? Status.SETTLING : Status.INSUFFICIENT_DATA, method);
        }
        return level(quantity, rms, scatter, method);
    }

    private Reading level(Quantity quantity, double rms, Optional<StandardUncertainty> scatter, String method) {
        if (invalid) {
            return Reading.without(quantity, Status.INVALID_INPUT, method);
        }
        if (overloaded) {
            return Reading.without(quantity, Status.OVERLOAD, method);
        }
        OptionalDouble dbfs = DigitalLevel.dbfsAboveSilence(rms);
        if (dbfs.isEmpty()) {
            return Reading.without(quantity, Status.INSUFFICIENT_DATA, method);
        }
        Reading reading = Reading.valid(quantity, dbfs.getAsDouble(), method);
        return scatter.map(reading::withTypeA).orElse(reading);
    }

    /** Forgets everything that was taken. */
    public void reset() {
        pyramid.reset();
        aWeighted.reset();
        unweighted.reset();
        quasiPeak.reset();
        bank.reset();
        hums.forEach(HumFits::reset);
        filled = 0;
        taken = 0;
        invalid = false;
        fullScale.reset();
        overloaded = false;
    }

    /** Describes a meter. */
    public static final class Builder {
        private double sampleRateHz;
        private double[] mainsHz = {50, 60};
        private boolean thirdOctavesAndHum = true;

        private Builder() {}

        /**
         * The sampling rate; it must be given.
         *
         * @param hertz rate in Hz, 8000 to 192000
         * @return this builder
         */
        public Builder sampleRateHz(double hertz) {
            if (!(hertz >= LOWEST_RATE_HZ && hertz <= HIGHEST_RATE_HZ)) {
                throw new IllegalArgumentException(
                        "sampleRateHz " + hertz + " is not in " + LOWEST_RATE_HZ + " to " + HIGHEST_RATE_HZ);
            }
            sampleRateHz = hertz;
            return this;
        }

        /**
         * The nominal mains frequency; without it the stronger of 50 Hz and 60 Hz counts.
         *
         * @param hertz frequency in Hz, 45 to 65
         * @return this builder
         */
        public Builder mainsHz(double hertz) {
            if (!(hertz >= 45 && hertz <= 65)) {
                throw new IllegalArgumentException("mainsHz " + hertz + " is not in 45 to 65");
            }
            mainsHz = new double[] {hertz};
            return this;
        }

        /**
         * Whether third octaves and hum are read too, as they are without this. They take more than half of the time.
         *
         * @param wanted false for the single figures alone
         * @return this builder
         */
        public Builder thirdOctavesAndHum(boolean wanted) {
            thirdOctavesAndHum = wanted;
            return this;
        }

        /**
         * Makes the meter.
         *
         * @return a meter that has taken nothing yet
         */
        public NoiseMeter build() {
            if (sampleRateHz == 0) {
                throw new IllegalStateException("sampleRateHz was not given");
            }
            return new NoiseMeter(sampleRateHz, mainsHz, thirdOctavesAndHum);
        }
    }
}
