/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.carrier;

import org.tapemetrology.core.internal.Sums;

/**
 * Watches in short windows whether the tone is there, passes its deviation on while it is, and bridges short gaps.
 *
 * <p>A window is good where its power is within 10 dB of the running level, its power hardly varies inside it (it is one
 * tone: noise or two tones beat), and its mean frequency is near the running one. A gap takes one more window on each
 * side with it, for the filters smear its edges, and is bridged by a straight line between the means of the 50 ms before
 * and after it. After {@value #LONGEST_GAP_SECONDS} s without the tone the stretch has ended. Thread-confined.
 *
 * <p>A window with a value that is not finite is not good.
 */
public final class ToneTracker {
    /** A tone that stays away for longer has ended. */
    public static final double LONGEST_GAP_SECONDS = 1;

    private static final int MEAN_WINDOWS = 10;
    /** One guard window, the windows of the mean, one window held back. */
    private static final int RETURN_WINDOWS = MEAN_WINDOWS + 2;
    /** Windows that are passed on together at most, so that what follows works on longer blocks. */
    private static final int MOST_WINDOWS = 24;

    private static final double LEAST_POWER_SHARE = 0.1;
    /** -110 dBFS: below the least significant bit of 16-bit recordings. A tone that was found may be 10 dB weaker than that. */
    private static final double LEAST_POWER = 1e-11;
    /** Squared coefficient of variation of the power: a tone with noise 13 dB below it in its band has 0.1. */
    private static final double MOST_VARIATION = 0.1;

    private static final double MOST_FREQUENCY_STEP = 0.1;

    private enum State {
        WAITING,
        PRESENT,
        GAP,
        ENDED
    }

    /** What happens to the tone beside its deviation. */
    public interface Listener extends DeviationSink {
        /**
         * A gap was bridged.
         *
         * @param firstIndex index of the first bridged value, counted from the first one passed on
         * @param length number of bridged values
         */
        void bridged(long firstIndex, long length);
    }

    private final double toneHz;
    private final Listener listener;
    private final int window;
    private final int longestGapWindows;
    /** Share that a window has in the running level, whose time constant is 1 s: its length in s. */
    private final double levelStep;

    private final double[] deviation;
    private final double[] amplitudeDeviation;
    private final double[] power;
    private int filled;
    private int heldWindows;
    private double windowPower;
    private double windowDeviation;

    /** Those of a mean and one more, which is forgotten where a gap begins. */
    private final double[] recentMeans = new double[MEAN_WINDOWS + 1];

    private long recentCount;

    private State state = State.WAITING;
    private double level;
    private double runningDeviation;
    private long windowsSeen;
    private long startWindow;
    private long passedOn;
    private int gapWindows;
    private final double[] bridge;
    private final double[] noAmplitude;

    /**
     * A tracker that waits for the tone.
     *
     * @param rateHz rate of the deviation in Hz
     * @param toneHz frequency that the demodulator is tuned to, in Hz
     * @param windowSeconds length of a window in s: 5 ms, longer for low tones
     * @param listener where the deviation goes
     */
    public ToneTracker(double rateHz, double toneHz, double windowSeconds, Listener listener) {
        this.toneHz = toneHz;
        this.listener = listener;
        this.window = (int) Math.round(windowSeconds * rateHz);
        this.longestGapWindows = (int) Math.round(LONGEST_GAP_SECONDS / windowSeconds);
        this.levelStep = windowSeconds;
        this.deviation = new double[(MOST_WINDOWS + 1) * window];
        this.amplitudeDeviation = new double[deviation.length];
        this.power = new double[deviation.length];
        this.bridge = new double[window];
        this.noAmplitude = new double[window];
    }

    /**
     * Takes demodulated values.
     *
     * @param deviationHz deviations in Hz
     * @param amplitudeDeviationHz amplitude deviations in Hz
     * @param powers squared amplitudes
     * @param length number of values, from the start of each array
     */
    public void process(double[] deviationHz, double[] amplitudeDeviationHz, double[] powers, int length) {
        int taken = 0;
        while (taken < length && state != State.ENDED) {
            int part = Math.min(length - taken, window - filled);
            int to = heldWindows * window + filled;
            System.arraycopy(deviationHz, taken, deviation, to, part);
            System.arraycopy(amplitudeDeviationHz, taken, amplitudeDeviation, to, part);
            System.arraycopy(powers, taken, power, to, part);
            taken += part;
            filled += part;
            if (filled == window) {
                filled = 0;
                heldWindows++;
                windowsSeen++;
                judge();
            }
        }
        if (state == State.PRESENT) {
            passOn(heldWindows - 1);
        }
    }

    private void judge() {
        boolean good = lastWindowIsGood();
        switch (state) {
            case WAITING -> waitForTone(good);
            case PRESENT -> follow(good);
            case GAP -> waitForReturn(good);
            case ENDED -> throw new IllegalStateException("the tone has ended");
        }
    }

    private boolean lastWindowIsGood() {
        int from = (heldWindows - 1) * window;
        windowPower = Sums.of(power, from, window) / window;
        windowDeviation = Sums.of(deviation, from, window) / window;
        double variation = Sums.ofSquares(power, from, window) / window / (windowPower * windowPower) - 1;
        double step = Math.abs(windowDeviation - runningDeviation);
        double least = state == State.WAITING ? LEAST_POWER : LEAST_POWER_SHARE * Math.max(LEAST_POWER, level);
        // Written so that NaN is never good.
        return windowPower > least && variation < MOST_VARIATION && step < MOST_FREQUENCY_STEP * toneHz;
    }

    private void waitForTone(boolean good) {
        if (!good) {
            heldWindows = 0;
            return;
        }
        if (heldWindows < RETURN_WINDOWS) {
            return;
        }
        level = mean(power, window, heldWindows * window);
        runningDeviation = mean(deviation, window, heldWindows * window);
        startWindow = windowsSeen - heldWindows + 1;
        dropFirst(1);
        state = State.PRESENT;
        rememberMeans();
    }

    private void follow(boolean good) {
        if (good) {
            remember(windowDeviation);
            level += levelStep * (windowPower - level);
            runningDeviation += levelStep * (windowDeviation - runningDeviation);
            if (heldWindows == MOST_WINDOWS) {
                passOn(heldWindows - 1);
            }
            return;
        }
        passOn(heldWindows - 2);
        forgetLast();
        gapWindows = heldWindows; // the lost window, and with it the one held back before it
        heldWindows = 0;
        state = State.GAP;
    }

    private void remember(double meanDeviation) {
        recentMeans[(int) (recentCount % recentMeans.length)] = meanDeviation;
        recentCount++;
    }

    /** The window before a lost one goes with it. */
    private void forgetLast() {
        recentCount--;
    }

    /** Mean before a gap, of all but the oldest or, in its place, the forgotten; there are as many since the tone was found or came back. */
    private double recentMean() {
        int oldest = (int) (recentCount % recentMeans.length);
        double sum = 0;
        for (int i = 0; i < recentMeans.length; i++) {
            sum += i == oldest ? 0 : recentMeans[i];
        }
        return sum / MEAN_WINDOWS;
    }

    private void rememberMeans() {
        for (int w = 0; w < heldWindows; w++) {
            remember(mean(deviation, w * window, (w + 1) * window));
        }
    }

    private void waitForReturn(boolean good) {
        if (!good) {
            gapWindows += heldWindows;
            heldWindows = 0;
            if (gapWindows > longestGapWindows) {
                state = State.ENDED;
            }
            return;
        }
        if (heldWindows < RETURN_WINDOWS) {
            return;
        }
        dropFirst(1);
        gapWindows++;
        double after = mean(deviation, 0, MEAN_WINDOWS * window);
        double before = recentMean();
        long first = passedOn;
        long length = (long) gapWindows * window;
        for (int w = 0; w < gapWindows; w++) {
            for (int i = 0; i < window; i++) {
                bridge[i] = before + (after - before) * (w * (double) window + i + 0.5) / length;
            }
            listener.accept(bridge, noAmplitude, noAmplitude, 0, window, true);
            passedOn += window;
        }
        listener.bridged(first, length);
        gapWindows = 0;
        state = State.PRESENT;
        rememberMeans();
    }

    private void passOn(int windows) {
        if (windows <= 0) {
            return;
        }
        int length = windows * window;
        listener.accept(deviation, amplitudeDeviation, power, 0, length, false);
        passedOn += length;
        dropFirst(windows);
    }

    private void dropFirst(int windows) {
        int from = windows * window;
        int left = heldWindows * window + filled - from;
        System.arraycopy(deviation, from, deviation, 0, left);
        System.arraycopy(amplitudeDeviation, from, amplitudeDeviation, 0, left);
        System.arraycopy(power, from, power, 0, left);
        heldWindows -= windows;
    }

    private static double mean(double[] values, int from, int to) {
        double sum = 0;
        for (int i = from; i < to; i++) {
            sum += values[i];
        }
        return sum / (to - from);
    }

    /**
     * Whether the tone has been found.
     *
     * @return true from the first value passed on
     */
    public boolean found() {
        return state != State.WAITING;
    }

    /**
     * Whether the tone has been away for too long.
     *
     * @return true once it has ended; nothing more is taken then
     */
    public boolean ended() {
        return state == State.ENDED;
    }

    /**
     * Where the first value passed on stands among those taken.
     *
     * @return index of that value
     */
    public long firstIndex() {
        return startWindow * window;
    }

    /**
     * Number of values passed on, bridged ones included.
     *
     * @return that number
     */
    public long passedOn() {
        return passedOn;
    }
}
