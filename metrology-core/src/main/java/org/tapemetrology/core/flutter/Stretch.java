/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.flutter;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.carrier.CarrierBand;
import org.tapemetrology.core.carrier.Demodulator;
import org.tapemetrology.core.carrier.ToneTracker;
import org.tapemetrology.core.internal.Sums;
import org.tapemetrology.core.level.SteadyLevel;
import org.tapemetrology.core.spectrum.ScrapeMeter;
import org.tapemetrology.core.spectrum.ScrapeSpectrum;

/**
 * One stretch of a tone, from where it begins to where it ends, and every figure of it.
 *
 * <p>The first half second is kept until its mean is known; filters start from that mean.
 */
final class Stretch implements ToneTracker.Listener {
    private static final double PRESET_SECONDS = 0.5;
    private static final int LISTED_GAPS = 20;
    /** The weighting table ends at 200 Hz: without that much room there is no flutter figure. */
    static final double LEAST_DEVIATION_HZ = 200;

    private final CarrierBand band;
    private final double feedSeconds;
    private final Demodulator demodulator;
    private final ToneTracker tracker;
    private final double rateHz;

    private double[] deviation = new double[0];
    private double[] amplitudeDeviation = new double[0];
    private double[] power = new double[0];
    /** Samples that were demodulated, and those that have been accepted: fewer where some were demodulated ahead. */
    private long demodulated;

    private long accepted;

    private final double[] firstDeviation;
    private final double[] firstAmplitudeDeviation;
    private final double[] firstPower;
    private int firstFilled;

    private final SpeedMeter speed;
    private final JumpWatch jumps;
    private final EndsWatch ends;
    private final ToneLevelMeter level;
    private final Optional<FlutterMeter> flutter;
    private final Optional<DeviationRecorder> recorder;
    private final Optional<ScrapeMeter> scrape;

    private final List<Gap> gaps = new ArrayList<>();
    private int gapCount;
    private double gapSeconds;
    private double longestGapSeconds;

    /**
     * A stretch that waits for its tone.
     *
     * @param band what it is tuned to
     * @param feedSeconds time of the first sample that it will be given
     * @param recorded whether the deviation is kept
     */
    Stretch(CarrierBand band, double feedSeconds, boolean recorded) {
        this.band = band;
        this.feedSeconds = feedSeconds;
        this.demodulator = new Demodulator(band);
        this.rateHz = band.rateHz();
        this.tracker = new ToneTracker(rateHz, band.toneHz(), band.windowSeconds(), this);
        int first = (int) Math.round(PRESET_SECONDS * rateHz);
        this.firstDeviation = new double[first];
        this.firstAmplitudeDeviation = new double[first];
        this.firstPower = new double[first];
        this.speed = new SpeedMeter(rateHz);
        this.jumps = new JumpWatch(rateHz, band.flatDeviationHz());
        this.ends = new EndsWatch(rateHz, band.toneHz());
        this.level = new ToneLevelMeter(rateHz);
        this.flutter = band.flatDeviationHz() >= LEAST_DEVIATION_HZ
                ? Optional.of(new FlutterMeter(rateHz, band.flatDeviationHz(), band.stopHz(), band.toneHz()))
                : Optional.empty();
        this.recorder = recorded && flutter.isPresent() ? Optional.of(new DeviationRecorder(rateHz)) : Optional.empty();
        double scrapeToHz = NoiseBesideTone.scrapeToHz(band.toneHz());
        this.scrape = recorded && band.flatDeviationHz() >= scrapeToHz
                ? Optional.of(new ScrapeMeter(rateHz, scrapeToHz))
                : Optional.empty();
    }

    /** What became of the samples. */
    enum Outcome {
        /** The stretch goes on. */
        GOES_ON,
        /** The tone has been away for too long. */
        ENDED,
        /** One of them was no finite number. */
        NOT_FINITE
    }

    /** Demodulates samples, which may be more of them at once than are then accepted one part after another. */
    void demodulate(float[] samples, int offset, int length) {
        int most = demodulator.mostOutputs(length);
        if (deviation.length < most) {
            deviation = new double[most];
            amplitudeDeviation = new double[most];
            power = new double[most];
        }
        demodulator.process(samples, offset, length, deviation, amplitudeDeviation, power);
        demodulated += length;
    }

    /** Takes samples, and demodulates them where that was not done ahead. */
    Outcome accept(float[] samples, int offset, int length) {
        if (accepted == demodulated) {
            demodulate(samples, offset, length);
        }
        long before = demodulator.outputsOf(accepted);
        accepted += length;
        long after = demodulator.outputsOf(accepted);
        int count = (int) (after - before);
        // Powers are no less than 0, so their sum is finite where all of them are: those of finite samples stay below
        // 1e78.
        if (!(Sums.of(power, 0, count) < Double.POSITIVE_INFINITY)) {
            return Outcome.NOT_FINITE;
        }
        tracker.process(deviation, amplitudeDeviation, power, count);
        int ahead = (int) (demodulator.outputsOf(demodulated) - after);
        System.arraycopy(deviation, count, deviation, 0, ahead);
        System.arraycopy(amplitudeDeviation, count, amplitudeDeviation, 0, ahead);
        System.arraycopy(power, count, power, 0, ahead);
        return tracker.ended() ? Outcome.ENDED : Outcome.GOES_ON;
    }

    @Override
    public void accept(double[] d, double[] a, double[] p, int offset, int length, boolean bridged) {
        level.accept(p, offset, length, bridged);
        speed.accept(d, offset, length, bridged);
        jumps.accept(d, p, offset, length, bridged);
        ends.accept(d, offset, length, bridged);
        if (flutter.isEmpty()) {
            return;
        }
        if (scrape.isPresent()) {
            if (bridged) {
                scrape.get().gap();
            } else {
                scrape.get().accept(d, offset, length);
            }
        }
        if (recorder.isPresent()) {
            recorder.get().accept(d, offset, length);
        }
        int kept = Math.min(length, firstDeviation.length - firstFilled);
        if (kept > 0) {
            keepFirst(d, a, p, offset, kept);
        }
        if (kept < length) {
            flutter.get().accept(d, a, p, offset + kept, length - kept, bridged);
        }
    }

    private void keepFirst(double[] d, double[] a, double[] p, int offset, int length) {
        System.arraycopy(d, offset, firstDeviation, firstFilled, length);
        System.arraycopy(a, offset, firstAmplitudeDeviation, firstFilled, length);
        System.arraycopy(p, offset, firstPower, firstFilled, length);
        firstFilled += length;
        int all = firstDeviation.length;
        if (firstFilled == all) {
            FlutterMeter meter = flutter.orElseThrow();
            meter.presetTo(mean(firstDeviation));
            // A gap in here needs no flag: every figure leaves out at least 3 s from here on.
            meter.accept(firstDeviation, firstAmplitudeDeviation, firstPower, 0, all, false);
        }
    }

    private static double mean(double[] values) {
        double sum = 0;
        for (double value : values) {
            sum += value;
        }
        return sum / values.length;
    }

    @Override
    public void bridged(long firstIndex, long length) {
        double from = startSeconds() + firstIndex / rateHz;
        double seconds = length / rateHz;
        gapCount++;
        gapSeconds += seconds;
        longestGapSeconds = Math.max(longestGapSeconds, seconds);
        if (gaps.size() < LISTED_GAPS) {
            gaps.add(new Gap(from, from + seconds));
        }
    }

    boolean found() {
        return tracker.found();
    }

    CarrierBand band() {
        return band;
    }

    /** When the tone begins, in seconds of the recording. */
    double startSeconds() {
        return feedSeconds + demodulator.firstOutputSeconds() + tracker.firstIndex() / rateHz;
    }

    /** Length of the stretch so far, gaps included. */
    double lengthSeconds() {
        return tracker.passedOn() / rateHz;
    }

    double endSeconds() {
        return startSeconds() + lengthSeconds();
    }

    /** Mean frequency of the tone in Hz. */
    double meanHz() {
        return band.toneHz() + speed.meanHz().orElse(0);
    }

    SpeedMeter speed() {
        return speed;
    }

    /** Moments at which its phase jumps. */
    JumpWatch jumps() {
        return jumps;
    }

    /** Whether it begins or ends in a glide. */
    EndsWatch ends() {
        return ends;
    }

    double meanPower() {
        return level.meanPower();
    }

    ToneLevelMeter levelWindows() {
        return level;
    }

    SteadyLevel level() {
        return level.level();
    }

    Optional<FlutterMeter> flutter() {
        return flutter;
    }

    /** The whole deviation, where it is kept. */
    Optional<DeviationSeries> deviation() {
        return recorder.map(keeper -> keeper.series(startSeconds(), band.toneHz(), meanHz()));
    }

    /** Spectrum of the scrape band, where it is kept. */
    Optional<ScrapeSpectrum> scrape() {
        return scrape.flatMap(meter -> meter.spectrum(meanHz()));
    }

    /** The first gaps; there may be more. */
    List<Gap> gaps() {
        return List.copyOf(gaps);
    }

    int gapCount() {
        return gapCount;
    }

    double gapSeconds() {
        return gapSeconds;
    }

    double longestGapSeconds() {
        return longestGapSeconds;
    }
}
