/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.alignment.Request;
import org.tapemetrology.core.alignment.SentTone;
import org.tapemetrology.core.alignment.Take;
import org.tapemetrology.core.internal.Require;
import org.tapemetrology.core.quantity.Measurement;
import org.tapemetrology.core.quantity.Quantity;
import org.tapemetrology.core.quantity.Reading;
import org.tapemetrology.core.quantity.StandardUncertainty;
import org.tapemetrology.core.response.MultitoneResponse;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.ReadingBudgets;
import org.tapemetrology.core.uncertainty.TestTape;

/**
 * Measures the takes that an alignment asks for.
 *
 * <p>A take of one tone is measured by a {@link RecordingMeter} of that tone; one of several tones gives
 * {@code RESPONSE} in dB re the reference frequency and {@code LEVEL} in dBFS at each. Takes of single tones of three
 * frequencies or more make a response too: {@code (L - L_sent) - (L_ref - L_ref,sent)}, each the level of the fundamental.
 * Statuses and NaN rule are those of the meters. Thread-confined.
 *
 * <p>Settling and cost: those of the meters, which are made anew for each take.
 *
 * <p>Not for recordings that no {@link Request} asked for: {@link RecordingMeter}.
 */
public final class RequestMeter {
    private static final int LEAST_TONES = 3;
    private static final String RESPONSE_METHOD = "tones one after the other, levels of the fundamentals";

    private final Request request;
    private final double referenceHz;
    private final int sampleRateHz;
    private final int channels;
    private final TestTape tape;
    private final Converter converter;
    private final List<Measurement> measured = new ArrayList<>();
    private Optional<TakeMeter> current = Optional.empty();

    /** What takes the samples of one take. */
    private interface TakeMeter {
        void accept(float[] interleaved, int offset, int frames);

        Measurement reading();
    }

    /**
     * A meter of the takes of a request.
     *
     * @param request what was asked for
     * @param referenceHz frequency that responses are given re, in Hz
     * @param sampleRateHz sampling rate in Hz
     * @param channels channels of the recordings, 1 or 2
     * @param tape the test tape, of no account for the machine's own recordings
     * @param converter the converter
     */
    public RequestMeter(
            Request request, double referenceHz, int sampleRateHz, int channels, TestTape tape, Converter converter) {
        this.request = request;
        this.referenceHz = Require.positive("referenceHz", referenceHz);
        this.sampleRateHz = sampleRateHz;
        this.channels = (int) Require.inRange("channels", channels, 1, 2);
        this.tape = tape;
        this.converter = converter;
    }

    /**
     * Takes samples of the take that is running; the first begins by itself.
     *
     * @param interleaved samples of all channels in turn, full scale 1
     * @param offset first sample of the first frame
     * @param frames number of frames
     */
    public void accept(float[] interleaved, int offset, int frames) {
        if (current.isEmpty()) {
            if (measured.size() >= request.takes().size()) {
                throw new IllegalStateException(
                        "there are only " + request.takes().size() + " takes");
            }
            current = Optional.of(meter(request.takes().get(measured.size())));
        }
        current.get().accept(interleaved, offset, frames);
    }

    /** Ends the take that is running: what follows belongs to the next. */
    public void endTake() {
        TakeMeter meter = current.orElseThrow(() -> new IllegalStateException("no take was begun"));
        measured.add(meter.reading());
        current = Optional.empty();
    }

    /**
     * What was measured of the takes that were ended.
     *
     * @return a measurement for each, in order
     */
    public List<Measurement> measurements() {
        return isStepped() ? withResponses() : List.copyOf(measured);
    }

    private boolean isStepped() {
        return measured.size() == request.takes().size()
                && request.takes().stream().allMatch(take -> take.tones().size() == 1)
                && request.takes().stream()
                                .map(take -> take.tones().get(0).frequencyHz())
                                .distinct()
                                .count()
                        >= LEAST_TONES;
    }

    private TakeMeter meter(Take take) {
        return take.tones().size() == 1 ? new OfTone(take.tones().get(0).frequencyHz()) : new OfTones(take.tones());
    }

    private final class OfTone implements TakeMeter {
        private final RecordingMeter meter;

        OfTone(double frequencyHz) {
            boolean played = request.source() == Request.Source.TEST_TAPE;
            meter = RecordingMeter.builder(sampleRateHz, channels)
                    .content(Content.TONE)
                    .nominalHz(frequencyHz)
                    .converter(converter)
                    .testTape(played ? tape : TestTape.none())
                    .build();
        }

        @Override
        public void accept(float[] interleaved, int offset, int frames) {
            meter.accept(interleaved, offset, frames);
        }

        @Override
        public Measurement reading() {
            return meter.reading();
        }
    }

    private final class OfTones implements TakeMeter {
        private final List<MultitoneResponse> meters = new ArrayList<>();

        OfTones(List<SentTone> tones) {
            List<Double> frequencies = tones.stream().map(SentTone::frequencyHz).toList();
            List<Double> levels = tones.stream().map(SentTone::levelDb).toList();
            double reference = frequencies.contains(referenceHz) ? referenceHz : frequencies.get(0);
            for (int channel = 1; channel <= channels; channel++) {
                meters.add(new MultitoneResponse(sampleRateHz, channel, reference, frequencies, levels));
            }
        }

        @Override
        public void accept(float[] interleaved, int offset, int frames) {
            for (int channel = 0; channel < channels; channel++) {
                meters.get(channel).acceptInterleaved(interleaved, offset + channel, frames, channels);
            }
        }

        @Override
        public Measurement reading() {
            List<Reading> readings = new ArrayList<>();
            for (MultitoneResponse meter : meters) {
                readings.addAll(meter.readings());
                readings.addAll(meter.levelReadings());
            }
            return new ReadingBudgets(TestTape.none(), converter).applied(new Measurement(readings, List.of()));
        }
    }

    private List<Measurement> withResponses() {
        int reference = 0;
        for (int i = 0; i < measured.size(); i++) {
            reference = tone(i).frequencyHz() == referenceHz ? i : reference;
        }
        List<Measurement> all = new ArrayList<>();
        for (int i = 0; i < measured.size(); i++) {
            List<Reading> readings = new ArrayList<>(measured.get(i).readings());
            for (int channel = 1; channel <= channels; channel++) {
                response(i, reference, channel).ifPresent(readings::add);
            }
            all.add(new Measurement(readings, measured.get(i).warnings()));
        }
        return all;
    }

    private SentTone tone(int take) {
        return request.takes().get(take).tones().get(0);
    }

    private Optional<Reading> response(int take, int reference, int channel) {
        Optional<Reading> level = measured.get(take).find(Quantity.LEVEL, channel);
        Optional<Reading> re = measured.get(reference).find(Quantity.LEVEL, channel);
        if (level.isEmpty() || re.isEmpty()) {
            return Optional.empty();
        }
        Reading wrong = level.get().isValid() ? re.get() : level.get();
        if (!wrong.isValid()) {
            return Optional.of(
                    placed(Reading.without(Quantity.RESPONSE, wrong.status(), RESPONSE_METHOD), channel, take));
        }
        double db = value(level)
                - tone(take).levelDb()
                - value(re)
                + tone(reference).levelDb();
        Reading response = placed(Reading.valid(Quantity.RESPONSE, db, RESPONSE_METHOD), channel, take);
        Optional<StandardUncertainty> one = level.get().typeA();
        Optional<StandardUncertainty> other = re.get().typeA();
        if (take == reference || one.isEmpty() || other.isEmpty()) {
            return Optional.of(response);
        }
        return Optional.of(response.withTypeA(one.get().and(other.get())));
    }

    private Reading placed(Reading reading, int channel, int take) {
        return reading.onChannel(channel).atFrequency(tone(take).frequencyHz());
    }

    private static double value(Optional<Reading> reading) {
        return reading.map(Reading::value).orElse(OptionalDouble.empty()).orElseThrow();
    }
}
