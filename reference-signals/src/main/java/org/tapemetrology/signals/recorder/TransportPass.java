/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals.recorder;

import java.util.List;
import java.util.SplittableRandom;

/** The speed of the tape during one pass, step by step: 1 is nominal. Parts begin anywhere in their turn. */
final class TransportPass {
    private final double driftPerStep;
    private final Oscillator[] parts;
    private final double[] peaks;
    private final GaussianNoise noise;
    private final double randomFeedback;
    private final double randomDrive;
    private final double scrapeFirst;
    private final double scrapeSecond;
    private final double scrapeDrive;
    private double random;
    private double scrape;
    private double scrapeBefore;
    private double mean;
    private long steps;

    TransportPass(Transport transport, double speedErrorPercent, SplittableRandom seeds, double stepsPerSecond) {
        mean = 1 + speedErrorPercent / 100;
        driftPerStep = transport.driftPercentPerMinute() / 6000 / stepsPerSecond;
        List<RotatingPart> list = transport.parts();
        parts = new Oscillator[list.size()];
        peaks = new double[parts.length];
        for (int i = 0; i < parts.length; i++) {
            RotatingPart part = list.get(i);
            double phase = 2 * Math.PI * seeds.nextDouble();
            // All parts turn by the same motor, so their rates follow the speed.
            parts[i] = new Oscillator(part.rateHz() * mean, phase, part.ratePercentPerMinute() / 6000, stepsPerSecond);
            peaks[i] = part.peakPercent() / 100;
        }
        noise = new GaussianNoise(seeds.split());
        randomFeedback = StrictMath.exp(-2 * Math.PI * transport.randomFlutterCornerHz() / stepsPerSecond);
        // Variance of a first-order autoregression: that of its drive over 1 - r^2.
        randomDrive = transport.randomFlutterPercent() / 100 * Math.sqrt(1 - randomFeedback * randomFeedback);
        random = transport.randomFlutterPercent() / 100 * noise.next();
        double radius = StrictMath.exp(-Math.PI * transport.scrapeHz() / 10 / stepsPerSecond);
        double angle = 2 * Math.PI * transport.scrapeHz() / stepsPerSecond;
        double square = radius * radius;
        scrapeFirst = 2 * radius * StrictMath.cos(angle);
        scrapeSecond = -square;
        // Variance of a second-order autoregression, from its Yule-Walker equations.
        double variance =
                (1 + square) / ((1 - square) * (1 - 2 * square * StrictMath.cos(2 * angle) + square * square));
        scrapeDrive = transport.scrapePercent() / 100 / Math.sqrt(variance);
    }

    /** A new mean speed, when the trimmer was turned during the pass. */
    void meanSpeed(double speedErrorPercent) {
        mean = 1 + speedErrorPercent / 100;
    }

    double next() {
        double deviation = driftPerStep * steps++;
        for (int i = 0; i < parts.length; i++) {
            deviation += peaks[i] * parts[i].next();
        }
        random = randomFeedback * random + randomDrive * noise.next();
        double next = scrapeFirst * scrape + scrapeSecond * scrapeBefore + scrapeDrive * noise.next();
        scrapeBefore = scrape;
        scrape = next;
        return mean * (1 + deviation + random + scrape);
    }
}
