/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.transport;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.tapemetrology.core.internal.Require;

/**
 * A model of a tape transport: the nominal tape speed and the parts that come round. Rates follow from geometry,
 * {@code v/(pi d)} for what the tape turns, ratios of diameters or teeth for what another part drives, {@code v/(2 pi r)}
 * for a pack, belt speed over belt length for a belt, {@code n c/(2 L)} for a free length of tape (kinematics, no
 * source). They hold at nominal speed and scale with the measured one. Immutable; may be shared between threads.
 *
 * <p>Lengths are in mm, speeds in mm/s, rates in Hz. Cost: none. Sizes and rates that are not finite and above 0 are
 * refused.
 *
 * <p>Not for slip, creep and tolerance of a drive: they are in the uncertainty of a rate alone.
 */
public final class Transport {
    /** Speed of lengthwise waves in polyester tape in m/s, from a modulus of 4 to 5 GPa and 1.4 g/cm3 (memory). */
    private static final double SLOWEST_WAVE = 1500;

    private static final double FASTEST_WAVE = 2000;

    private final double tapeSpeedMillimetresPerSecond;
    private final List<Part> parts;

    private Transport(double tapeSpeedMillimetresPerSecond, List<Part> parts) {
        this.tapeSpeedMillimetresPerSecond = tapeSpeedMillimetresPerSecond;
        this.parts = List.copyOf(parts);
    }

    /**
     * Begins to describe a transport.
     *
     * @param tapeSpeedMillimetresPerSecond nominal speed of the tape in mm/s, 1 to 10000
     * @return a builder
     */
    public static Builder builder(double tapeSpeedMillimetresPerSecond) {
        return new Builder(tapeSpeedMillimetresPerSecond);
    }

    /**
     * The nominal speed of the tape.
     *
     * @return speed in mm/s
     */
    public double tapeSpeedMillimetresPerSecond() {
        return tapeSpeedMillimetresPerSecond;
    }

    /**
     * The parts in the order in which they were described.
     *
     * @return the parts
     */
    public List<Part> parts() {
        return parts;
    }

    /**
     * This transport with a part whose rate was measured: it is then known better than by geometry.
     *
     * @param measured the part, of the same name as one that is there
     * @return a transport with that part in the place of the other
     */
    public Transport with(Part measured) {
        List<Part> others = new ArrayList<>();
        boolean replaced = false;
        for (Part part : parts) {
            boolean same = part.name().equals(measured.name());
            others.add(same ? measured : part);
            replaced |= same;
        }
        if (!replaced) {
            throw new IllegalArgumentException("there is no part " + measured.name());
        }
        return new Transport(tapeSpeedMillimetresPerSecond, others);
    }

    /** Describes a transport. Parts that are driven by others come after these. */
    public static final class Builder {
        private final double speed;
        private final List<Part> parts = new ArrayList<>();

        private Builder(double speed) {
            this.speed = Require.inRange("tapeSpeedMillimetresPerSecond", speed, 1, 10_000);
        }

        private Builder add(String name, PartKind kind, double lowestHz, double highestHz) {
            return add(new Part(name, kind, lowestHz, highestHz, kind.relativeUncertainty()));
        }

        /**
         * A part whose rates are known.
         *
         * @param part the part
         * @return this builder
         */
        public Builder add(Part part) {
            if (find(part.name()).isPresent()) {
                throw new IllegalArgumentException("there is a part " + part.name() + " already");
            }
            parts.add(part);
            return this;
        }

        private Optional<Part> find(String name) {
            return parts.stream().filter(part -> part.name().equals(name)).findFirst();
        }

        private Part driver(String name) {
            return find(name)
                    .orElseThrow(() ->
                            new IllegalArgumentException("drivenBy " + name + " is none of the parts before this one"));
        }

        /**
         * The capstan.
         *
         * @param name its name
         * @param diameterMillimetres diameter in mm
         * @return this builder
         */
        public Builder capstan(String name, double diameterMillimetres) {
            return driven(name, PartKind.CAPSTAN, diameterMillimetres);
        }

        /**
         * A roller that the tape or the capstan turns.
         *
         * @param name its name
         * @param diameterMillimetres diameter in mm
         * @return this builder
         */
        public Builder roller(String name, double diameterMillimetres) {
            return driven(name, PartKind.ROLLER, diameterMillimetres);
        }

        private Builder driven(String name, PartKind kind, double diameter) {
            double rate = speed / (Math.PI * Require.positive("diameterMillimetres", diameter));
            return add(name, kind, rate, rate);
        }

        /**
         * A shaft whose rate is known.
         *
         * @param name its name
         * @param ratePerSecond turns a second at nominal speed
         * @return this builder
         */
        public Builder shaft(String name, double ratePerSecond) {
            Require.positive("ratePerSecond", ratePerSecond);
            return add(name, PartKind.SHAFT, ratePerSecond, ratePerSecond);
        }

        /**
         * A wheel, pulley, idler or gear that another part drives, by belt, friction or teeth.
         *
         * @param name its name
         * @param driver name of the part that drives it, described before
         * @param driverSize diameter of the driving wheel in mm, or its number of teeth
         * @param size diameter of this wheel in mm, or its number of teeth
         * @return this builder
         */
        public Builder wheel(String name, String driver, double driverSize, double size) {
            Part from = driver(driver);
            double ratio = Require.positive("driverSize", driverSize) / Require.positive("size", size);
            return add(name, PartKind.WHEEL, ratio * from.lowestHz(), ratio * from.highestHz());
        }

        /**
         * A belt whose speed is known.
         *
         * @param name its name
         * @param lengthMillimetres length in mm
         * @param beltSpeedMillimetresPerSecond its speed in mm/s at nominal speed
         * @return this builder
         */
        public Builder belt(String name, double lengthMillimetres, double beltSpeedMillimetresPerSecond) {
            double rate = Require.positive("speedMillimetresPerSecond", beltSpeedMillimetresPerSecond)
                    / Require.positive("lengthMillimetres", lengthMillimetres);
            return add(name, PartKind.BELT, rate, rate);
        }

        /**
         * A belt that runs over a pulley of a part.
         *
         * @param name its name
         * @param lengthMillimetres length in mm
         * @param driver name of the part that the pulley turns with, described before
         * @param pulleyDiameterMillimetres diameter of the pulley in mm; the belt must be longer than it is round
         * @return this builder
         */
        public Builder beltOver(
                String name, double lengthMillimetres, String driver, double pulleyDiameterMillimetres) {
            double round = Math.PI * Require.positive("pulleyDiameterMillimetres", pulleyDiameterMillimetres);
            if (!(lengthMillimetres > round)) {
                throw new IllegalArgumentException("lengthMillimetres " + lengthMillimetres
                        + " is not above the way round the pulley, " + round + " mm");
            }
            Part from = driver(driver);
            double ratio = round / lengthMillimetres;
            return add(name, PartKind.BELT, ratio * from.lowestHz(), ratio * from.highestHz());
        }

        /**
         * A reel with its tape.
         *
         * @param name its name
         * @param hubRadiusMillimetres radius of the hub in mm
         * @param fullRadiusMillimetres radius of the full pack in mm
         * @return this builder
         */
        public Builder pack(String name, double hubRadiusMillimetres, double fullRadiusMillimetres) {
            Require.positive("hubRadiusMillimetres", hubRadiusMillimetres);
            Require.inRange("fullRadiusMillimetres", fullRadiusMillimetres, hubRadiusMillimetres, 1000);
            return add(
                    name,
                    PartKind.PACK,
                    speed / (2 * Math.PI * fullRadiusMillimetres),
                    speed / (2 * Math.PI * hubRadiusMillimetres));
        }

        /**
         * A free length of tape between two supports.
         *
         * @param name its name
         * @param freeLengthMillimetres length in mm
         * @return this builder
         */
        public Builder guide(String name, double freeLengthMillimetres) {
            double perSecond = 1000 / (2 * Require.positive("freeLengthMillimetres", freeLengthMillimetres));
            return add(name, PartKind.GUIDE, SLOWEST_WAVE * perSecond, FASTEST_WAVE * perSecond);
        }

        /**
         * Gives the part described last another uncertainty than is usual for its kind.
         *
         * @param relative relative standard uncertainty of its rate
         * @return this builder
         */
        public Builder withUncertainty(double relative) {
            if (parts.isEmpty()) {
                throw new IllegalStateException("no part was described yet");
            }
            Part last = parts.remove(parts.size() - 1);
            parts.add(new Part(last.name(), last.kind(), last.lowestHz(), last.highestHz(), relative));
            return this;
        }

        /**
         * Makes the transport.
         *
         * @return the transport
         */
        public Transport build() {
            if (parts.isEmpty()) {
                throw new IllegalStateException("no part was described");
            }
            return new Transport(speed, parts);
        }
    }
}
