/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.benchmarks;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.core.azimuth.AzimuthMeter;
import org.tapemetrology.core.carrier.CarrierBand;
import org.tapemetrology.core.carrier.Demodulator;
import org.tapemetrology.core.diagnosis.Diagnosis;
import org.tapemetrology.core.flutter.DeviationSeries;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.spectrum.FlutterSpectrum;
import org.tapemetrology.core.tone.DistortionMeter;
import org.tapemetrology.core.tone.SineFit;

/** Meters and stages one by one, each on a minute at 48 kHz, but for the sine fit, which takes half a second. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(1)
@Warmup(iterations = 5, time = 1)
@Measurement(iterations = 5, time = 1)
public class StageBenchmark {
    private static final int RATE = 48_000;
    private static final int BLOCK = 4096;

    private final float[] samples = TestTone.minute(RATE);
    private final float[] interleaved = TestTone.interleaved(samples);
    private final double[] halfSecond = halfSecond();
    private final DeviationSeries deviation = deviation();
    private final double[] deviationPart = deviation.part(0, deviation.size());
    private double[] one = new double[0];
    private double[] two = new double[0];
    private double[] three = new double[0];

    private double[] halfSecond() {
        double[] part = new double[RATE / 2];
        for (int i = 0; i < part.length; i++) {
            part[i] = samples[i];
        }
        return part;
    }

    private DeviationSeries deviation() {
        RecordingMeter meter = RecordingMeter.builder(RATE, 1).keepDeviation().build();
        meter.accept(samples, 0, samples.length);
        return meter.deviation(1).orElseThrow();
    }

    /**
     * The demodulator alone: deviation, amplitude deviation and power at 4 kHz.
     *
     * @return number of values
     */
    @Benchmark
    public int demodulation() {
        Demodulator demodulator = new Demodulator(CarrierBand.of(RATE, 3150));
        if (one.length == 0) {
            int most = demodulator.mostOutputs(BLOCK);
            one = new double[most];
            two = new double[most];
            three = new double[most];
        }
        int count = 0;
        for (int at = 0; at < samples.length; at += BLOCK) {
            count += demodulator.process(samples, at, Math.min(BLOCK, samples.length - at), one, two, three);
        }
        return count;
    }

    /**
     * Distortion of the tone.
     *
     * @return the readings
     */
    @Benchmark
    public List<Reading> distortion() {
        DistortionMeter meter = new DistortionMeter(RATE, 3162.6);
        for (int at = 0; at < samples.length; at += BLOCK) {
            meter.accept(samples, at, Math.min(BLOCK, samples.length - at));
        }
        return meter.readings();
    }

    /**
     * Azimuth of two channels.
     *
     * @return the readings
     */
    @Benchmark
    public List<Reading> azimuth() {
        AzimuthMeter meter = AzimuthMeter.builder().sampleRateHz(RATE).build();
        for (int at = 0; at < samples.length; at += BLOCK) {
            meter.accept(interleaved, 2 * at, 2, Math.min(BLOCK, samples.length - at));
        }
        return meter.readings();
    }

    /**
     * A four-parameter sine fit to half a second.
     *
     * @return the fit
     */
    @Benchmark
    public SineFit sineFitOfHalfASecond() {
        return SineFit.fourParameter(halfSecond, 0, halfSecond.length, RATE, 3162.6);
    }

    /**
     * Spectrum of the deviation.
     *
     * @return the spectrum
     */
    @Benchmark
    public FlutterSpectrum spectrum() {
        return FlutterSpectrum.of(deviationPart, deviation.rateHz());
    }

    /**
     * Spectrum, lines and what a repair of each would leave.
     *
     * @return the diagnosis
     */
    @Benchmark
    public Diagnosis diagnosis() {
        return Diagnosis.of(deviation, Optional.empty(), 1);
    }
}
