/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.separation;

import static org.tapemetrology.core.quantity.Quantity.PRINT_THROUGH_AFTER;
import static org.tapemetrology.core.quantity.Quantity.PRINT_THROUGH_BEFORE;

import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.Status;

/**
 * Print-through of one channel in dB: power of a tone burst over that of its echoes one turn of the pack before and after
 * it, selective at the burst's own frequency. The burst is to stand between pauses that are longer than a turn.
 *
 * <p>The burst is the loudest stretch of steady tone, at least 0.3 s of it. The spacing of the layers is searched from 0.3
 * to 5 s, or within 5 % of that given; both echoes have the same. Where burst and echo overlap, what the burst leaves free
 * counts. Echoes are read in frames of 0.1 s, in a band of 40 Hz, less the noise 40 Hz beside it.
 *
 * <p>What is kept is 60 s of amplitudes: the last 60 s, or the 30 s before and after the loudest quarter of a second where
 * that stands 20 dB above the quietest; what comes later is not looked at. The uncertainty comes from noise and from the
 * scatter of the frames. An echo that does not stand 10 dB above the noise in its band, or is not known to 2.2 dB, has the
 * status {@code insufficient-data} and a method that names the limit, and so has one whose pause is too short. A sample
 * that is not finite makes every reading {@code invalid-input} until {@link #reset()}. Thread-confined.
 *
 * <p>Settling and cost: 2 s at least, and a turn of the pack before and after the burst. No text of a standard for it
 * was at hand.
 *
 * <p>Not for programme, nor for bursts that follow each other within a turn.
 */
public final class PrintThroughMeter {
    private static final double SHORTEST_SECONDS = 0.3;
    private static final double LONGEST_SECONDS = 5;
    private static final double GIVEN_WITHIN = 0.05;
    private static final double LEAST_BURST_SECONDS = 0.3;
    private static final double FRAME_SECONDS = 0.1;
    private static final double WINDOW_SECONDS = 0.25;
    private static final double SMOOTH_SECONDS = 0.05;
    private static final double LEAST_SECONDS = 2;
    private static final String METHOD = "echo of a tone burst on the next layer, selective";

    private final double rateHz;
    private final double toneHz;
    private final double shortest;
    private final double longest;
    private final ToneMemory memory;
    private boolean finite = true;

    /**
     * A meter that finds the spacing of the layers itself.
     *
     * @param sampleRateHz sampling rate in Hz, 16000 to 192000
     * @param toneHz the tone on replay within 3 %, in Hz, 250 to 4000
     */
    public PrintThroughMeter(double sampleRateHz, double toneHz) {
        this(sampleRateHz, toneHz, SHORTEST_SECONDS, LONGEST_SECONDS);
    }

    /**
     * A meter for layers of known spacing.
     *
     * @param sampleRateHz sampling rate in Hz, 16000 to 192000
     * @param toneHz the tone on replay within 3 %, in Hz, 250 to 4000
     * @param layerSeconds time of one turn of the pack in s, 0.32 to 4.75; {@link #layerSeconds} tells it
     */
    public PrintThroughMeter(double sampleRateHz, double toneHz, double layerSeconds) {
        this(
                sampleRateHz,
                toneHz,
                Require.inRange("layerSeconds", layerSeconds, 0.32, 4.75) * (1 - GIVEN_WITHIN),
                layerSeconds * (1 + GIVEN_WITHIN));
    }

    private PrintThroughMeter(double sampleRateHz, double toneHz, double shortest, double longest) {
        this.rateHz = Require.inRange("sampleRateHz", sampleRateHz, 16000, 192000);
        this.toneHz = Require.inRange("toneHz", toneHz, 250, 4000);
        this.shortest = shortest;
        this.longest = longest;
        this.memory = new ToneMemory(sampleRateHz, toneHz);
    }

    /**
     * Time of one turn of the pack, {@code 2 pi r / v}.
     *
     * @param packRadiusMillimetres radius of the pack where the burst lies, in mm, above 0
     * @param speedCentimetresPerSecond speed of the tape in cm/s, above 0
     * @return time in s
     */
    public static double layerSeconds(double packRadiusMillimetres, double speedCentimetresPerSecond) {
        Require.positive("packRadiusMillimetres", packRadiusMillimetres);
        Require.positive("speedCentimetresPerSecond", speedCentimetresPerSecond);
        return 2 * Math.PI * packRadiusMillimetres / (10 * speedCentimetresPerSecond);
    }

    /**
     * Takes samples.
     *
     * @param samples samples
     * @param offset first sample
     * @param count number of samples
     */
    public void accept(double[] samples, int offset, int count) {
        Objects.checkFromIndexSize(offset, count, samples.length);
        for (int i = offset; i < offset + count; i++) {
            take(samples[i]);
        }
    }

    /**
     * Takes one channel out of interleaved samples.
     *
     * @param interleaved samples of all channels in turn
     * @param offset first sample of the channel
     * @param stride number of channels
     * @param count number of samples of the channel
     */
    public void accept(float[] interleaved, int offset, int stride, int count) {
        if (count > 0) {
            Objects.checkFromIndexSize(offset, (count - 1) * stride + 1, interleaved.length);
        }
        for (int i = 0; i < count; i++) {
            take(interleaved[offset + i * stride]);
        }
    }

    private void take(double sample) {
        finite &= Double.isFinite(sample);
        if (finite) {
            memory.take(sample);
        }
    }

    /**
     * Print-through before the burst and after it, at the moments where the echoes start.
     *
     * @return the readings, in this order, belonging to no channel yet
     */
    public List<Reading> readings() {
        if (!finite) {
            return without(Status.INVALID_INPUT);
        }
        if (memory.taken() < LEAST_SECONDS * rateHz) {
            return without(Status.INSUFFICIENT_DATA);
        }
        double[][] kept = memory.kept();
        Optional<Burst> found = burst(kept);
        if (found.isEmpty()) {
            return without(Status.NO_CARRIER);
        }
        Burst burst = found.get();
        Echoes echoes = echoes(kept, burst);
        double spacing = echoes.spacingSeconds().orElse(0);
        double frequency = toneHz + burst.radiansPerSample() * memory.keptRateHz() / (2 * Math.PI);
        return List.of(
                reading(PRINT_THROUGH_BEFORE, echoes.before(), memory.seconds(burst.from()) - spacing, frequency),
                reading(PRINT_THROUGH_AFTER, echoes.after(), memory.seconds(burst.from()) + spacing, frequency));
    }

    private static List<Reading> without(Status status) {
        return List.of(
                Reading.without(PRINT_THROUGH_BEFORE, status, METHOD),
                Reading.without(PRINT_THROUGH_AFTER, status, METHOD));
    }

    private static Reading reading(Quantity quantity, Optional<PowerRatio> ratio, double seconds, double frequencyHz) {
        if (ratio.isEmpty()) {
            return Reading.without(quantity, Status.INSUFFICIENT_DATA, METHOD + "; the pause is too short")
                    .atFrequency(frequencyHz);
        }
        Reading reading = ratio.get().reading(quantity, METHOD).atFrequency(frequencyHz);
        return reading.isValid() ? reading.atTime(seconds) : reading;
    }

    private Optional<Burst> burst(double[][] kept) {
        double keptRate = memory.keptRateHz();
        int around = memory.loudestIndex();
        return around < 0
                ? Optional.empty()
                : Burst.find(
                        kept[0],
                        kept[1],
                        Math.min(around, kept[0].length - 1),
                        (int) (WINDOW_SECONDS * keptRate),
                        (int) (SMOOTH_SECONDS * keptRate),
                        (int) (LEAST_BURST_SECONDS * keptRate));
    }

    private Echoes echoes(double[][] kept, Burst burst) {
        double keptRate = memory.keptRateHz();
        ShortFrames frames =
                new ShortFrames(kept[0], kept[1], burst.radiansPerSample(), (int) (FRAME_SECONDS * keptRate));
        return new Echoes(frames, burst, keptRate, memory.reachSeconds(), shortest, longest);
    }

    /**
     * The spacing of the layers at which the echoes were looked for.
     *
     * @return spacing in s, empty without a burst between pauses that are long enough
     */
    public OptionalDouble spacingSeconds() {
        double[][] kept = memory.kept();
        Optional<Burst> burst = finite ? burst(kept) : Optional.empty();
        return burst.isPresent() ? echoes(kept, burst.get()).spacingSeconds() : OptionalDouble.empty();
    }

    /** Forgets everything but the settings. */
    public void reset() {
        finite = true;
        memory.reset();
    }
}
