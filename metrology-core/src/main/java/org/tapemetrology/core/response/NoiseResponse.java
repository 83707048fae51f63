/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.response;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.quantity.Status;

/**
 * The response from a recording of pink or white noise, in third octaves from 25 Hz to 20 kHz, in dB re the third octave
 * of the reference frequency.
 *
 * <p>Bands are those of IEC 61260, {@code 1000 10^(n/10) Hz} with edges {@code 10^(1/20)} either side, summed from the
 * averaged power spectrum of half-overlapping frames of about 1.4 s; white noise is divided by the width of each band. The
 * uncertainty is the statistical part alone, at 95 %: the power of a band of width B over T seconds has the relative
 * standard deviation {@code 1/sqrt(0.947 B T)}, 0.947 being the part of the time that half-overlapping Hann windows use.
 * Fewer than three frames are {@link Status#INSUFFICIENT_DATA}; a band without power is {@link Status#NO_CARRIER}. Never
 * NaN. Feed the noise alone. Memory does not grow. Thread-confined.
 *
 * <p>Settling and cost: three frames, some 3 s; low bands need longer, as their uncertainty says.
 *
 * <p>Not for hum or tones in the recording, which count as noise of their band.
 */
public final class NoiseResponse extends ResponseMeter {
    /** What was sent. */
    public enum Spectrum {
        /** Equal power in each third octave. */
        PINK,
        /** Equal power in each hertz. */
        WHITE
    }

    private static final double FRAME_SECONDS = 1.1;
    private static final int LEAST_FRAMES = 3;
    private static final double TIME_USED = 18.0 / 19; // (mean of sin^4 + cos^4)^2 over the mean of its square

    private final double[] nominalHz = ThirdOctaves.nominalHz();
    private final Spectrum sent;
    private final int bands;
    private final double[] spectrum;
    private int frames;
    private boolean overloaded;

    /**
     * A meter of one channel. Bands reach up to the last one that ends below half the sampling rate.
     *
     * @param sampleRateHz sampling rate in Hz, 8000 to 768000
     * @param channel 1-based channel
     * @param referenceHz reference frequency in Hz, the nominal frequency of a third octave, for example 315 or 1000
     * @param sent what was sent
     */
    public NoiseResponse(double sampleRateHz, int channel, double referenceHz, Spectrum sent) {
        super(sampleRateHz, channel, referenceHz, FRAME_SECONDS);
        requireMember(referenceHz, nominalHz);
        this.sent = sent;
        int count = 0;
        while (count < nominalHz.length && edgeHz(count + 1) < sampleRateHz / 2) {
            count++;
        }
        this.bands = count;
        Require.inRange("referenceHz", referenceHz, nominalHz[0], nominalHz[bands - 1]);
        this.spectrum = new double[(int) (sampleRateHz / binHz()) / 2 + 1];
    }

    /** Lower edge of a band, counted from 0. */
    private static double edgeHz(int band) {
        return 1000 * StrictMath.pow(10, (band + ThirdOctaves.LOWEST_BAND - 0.5) / 10);
    }

    @Override
    void add(double[] power, boolean frameOverloaded) {
        overloaded |= frameOverloaded;
        frames++;
        for (int k = 0; k < spectrum.length; k++) {
            spectrum[k] += power[k];
        }
    }

    @Override
    void clear() {
        Arrays.fill(spectrum, 0);
        frames = 0;
        overloaded = false;
    }

    /** Power between two frequencies; a line at an edge counts by the part of it that lies inside. */
    private double between(double fromHz, double toHz) {
        double sum = 0;
        for (int k = (int) Math.floor(fromHz / binHz()); k <= (int) Math.ceil(toHz / binHz()); k++) {
            double inside = Math.min(k + 0.5, toHz / binHz()) - Math.max(k - 0.5, fromHz / binHz());
            if (inside > 0 && k < spectrum.length) {
                sum += inside * spectrum[k];
            }
        }
        return sum;
    }

    @Override
    List<ToneLevel> levels() {
        List<ToneLevel> levels = new ArrayList<>();
        for (int band = 0; band < bands; band++) {
            double width = sent == Spectrum.WHITE ? edgeHz(band + 1) - edgeHz(band) : 1;
            double power = between(edgeHz(band), edgeHz(band + 1)) / width;
            Status status = frames < LEAST_FRAMES
                    ? Status.INSUFFICIENT_DATA
                    : overloaded ? Status.OVERLOAD : power > 0 ? Status.VALID : Status.NO_CARRIER;
            levels.add(new ToneLevel(nominalHz[band], power, status));
        }
        return levels;
    }

    @Override
    public List<Reading> readings() {
        List<Reading> readings = new ArrayList<>();
        double seconds = (frames + 1) * 0.5 / binHz();
        for (Reading reading : super.readings()) {
            double frequencyHz = reading.atFrequencyHz().orElseThrow();
            readings.add(
                    reading.isValid() && frequencyHz != referenceHz()
                            ? reading.withTypeA(StandardUncertainty.of(
                                    StrictMath.sqrt(variance(frequencyHz, seconds) + variance(referenceHz(), seconds))))
                            : reading);
        }
        return List.copyOf(readings);
    }

    /** Variance of the level of a band, in dB squared. */
    private double variance(double frequencyHz, double seconds) {
        int band = Arrays.binarySearch(nominalHz, frequencyHz);
        double samples = TIME_USED * seconds * (edgeHz(band + 1) - edgeHz(band));
        double decibels = 10 * StrictMath.log10(StrictMath.E);
        return decibels * decibels / samples;
    }

    @Override
    String method() {
        return "third-octave noise, bands of IEC 61260";
    }
}
