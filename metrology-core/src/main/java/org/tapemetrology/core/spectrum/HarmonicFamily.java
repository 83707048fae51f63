/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * Lines whose frequencies are multiples of one fundamental within their uncertainties, as one part of a machine makes
 * them that is neither round nor evenly driven.
 *
 * <p>Made by {@link #among}; its numbers are not checked. A line whose frequency or uncertainty is NaN joins no
 * family.
 *
 * @param fundamentalHz the fundamental in Hz, the weighted mean of all members' frequencies over their orders
 * @param fundamentalUncertaintyHz its standard uncertainty in Hz
 * @param members the members by rising order, the fundamental first
 */
public record HarmonicFamily(double fundamentalHz, double fundamentalUncertaintyHz, List<Member> members) {
    private static final int HIGHEST_ORDER = 12;
    /** Of true harmonics, one in 370 is farther off than three standard uncertainties. */
    private static final double WITHIN = 3;
    /** A multiple whose frequency is not known to a part of the fundamental would match anything. */
    private static final double KNOWN = 0.05;

    /**
     * A family; its list is copied.
     *
     * @param fundamentalHz the fundamental in Hz
     * @param fundamentalUncertaintyHz its standard uncertainty in Hz
     * @param members the members
     */
    public HarmonicFamily {
        members = List.copyOf(members);
    }

    /**
     * A line of a family.
     *
     * @param order how many times the fundamental
     * @param line the line
     */
    public record Member(int order, Line line) {}

    /**
     * Groups lines into families: a fundamental and harmonics up to the twelfth. A line belongs to one family at most,
     * to the one with more members.
     *
     * @param lines any lines
     * @return families with at least two members, by rising fundamental
     */
    public static List<HarmonicFamily> among(List<Line> lines) {
        List<Line> free = new ArrayList<>(lines);
        free.sort(Comparator.comparingDouble(Line::frequencyHz));
        List<HarmonicFamily> families = new ArrayList<>();
        while (true) {
            HarmonicFamily best = null;
            for (int i = 0; i < free.size(); i++) {
                HarmonicFamily family = of(free.subList(i, free.size()));
                if (best == null || family.members.size() > best.members.size()) {
                    best = family;
                }
            }
            if (best == null || best.members.size() < 2) {
                families.sort(Comparator.comparingDouble(HarmonicFamily::fundamentalHz));
                return List.copyOf(families);
            }
            families.add(best);
            for (Member member : best.members) {
                free.remove(member.line);
            }
        }
    }

    /** The family on the first line. */
    private static HarmonicFamily of(List<Line> rising) {
        Line fundamental = rising.get(0);
        List<Member> members = new ArrayList<>(List.of(new Member(1, fundamental)));
        double weight = weight(1, fundamental);
        double hz = fundamental.frequencyHz();
        for (Line line : rising.subList(1, rising.size())) {
            int order = (int) Math.round(line.frequencyHz() / hz);
            double spread = Math.hypot(line.frequencyUncertaintyHz(), order / Math.sqrt(weight));
            boolean follows = order > members.get(members.size() - 1).order && order <= HIGHEST_ORDER;
            double off = Math.abs(line.frequencyHz() - order * hz);
            if (follows && off <= WITHIN * spread && WITHIN * spread <= KNOWN * hz) {
                members.add(new Member(order, line));
                double added = weight(order, line);
                weight += added;
                hz += added / weight * (line.frequencyHz() / order - hz);
            }
        }
        return new HarmonicFamily(hz, 1 / Math.sqrt(weight), members);
    }

    /** Of the fundamental that a harmonic tells: the uncertainty of its frequency divides by its order. */
    private static double weight(int order, Line line) {
        double u = line.frequencyUncertaintyHz() / order;
        return 1 / (u * u);
    }
}
