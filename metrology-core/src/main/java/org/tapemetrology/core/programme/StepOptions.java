/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.programme;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.tapemetrology.core.azimuth.AzimuthMeter;
import org.tapemetrology.core.level.LevelScale;
import org.tapemetrology.core.loss.TrackGeometry;

/** What is known of machine and converter, and is handed on to the meters of every step. */
record StepOptions(OptionalDouble mainsHz, LevelScale scale, Optional<Tracks> tracks) {
    static final StepOptions NONE = new StepOptions(OptionalDouble.empty(), LevelScale.NONE, Optional.empty());

    /** The tracks, the speed and the frequencies of the level loss. */
    record Tracks(TrackGeometry geometry, double speedCmPerSecond, List<Double> lossHz) {}

    AzimuthMeter azimuthMeter(int sampleRateHz) {
        AzimuthMeter.Builder builder = AzimuthMeter.builder().sampleRateHz(sampleRateHz);
        tracks.ifPresent(known -> builder.tracks(known.geometry(), known.speedCmPerSecond())
                .levelLossAtHz(
                        known.lossHz().stream().mapToDouble(Double::doubleValue).toArray()));
        return builder.build();
    }
}
