/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.service;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.tapemetrology.core.conformity.Limit;
import org.tapemetrology.core.transport.Transport;
import org.tapemetrology.core.uncertainty.Converter;
import org.tapemetrology.core.uncertainty.StatedValue;
import org.tapemetrology.core.uncertainty.TestTape;
import org.tapemetrology.examples.files.Setup;
import org.tapemetrology.examples.report.Report.Fact;
import org.tapemetrology.examples.report.Report.Facts;
import org.tapemetrology.examples.report.Words;

/** What a service file says of machine, setup, test tapes, converter and limits, in words. */
public final class ServiceFacts {
    private final ServiceFile service;

    ServiceFacts(ServiceFile service) {
        this.service = service;
    }

    List<Facts> groups() {
        List<Facts> groups = new ArrayList<>();
        groups.add(new Facts(
                "Machine",
                List.of(
                        new Fact("name", service.machine()),
                        new Fact("heads", Integer.toString(service.heads())),
                        new Fact("channels", Integer.toString(service.channels())),
                        new Fact("service file", service.file().toString()))));
        groups.add(setup(service.setup()));
        groups.add(limits());
        service.recordings().stream()
                .map(recorded -> recorded.setup().testTape())
                .filter(tape -> !tape.equals(TestTape.assumed()))
                .distinct()
                .forEach(tape -> groups.add(tape(tape)));
        service.transport().ifPresent(transport -> groups.add(transport(transport)));
        if (!service.repairs().isEmpty()) {
            groups.add(new Facts(
                    "Repairs",
                    service.repairs().stream()
                            .map(repair -> new Fact(
                                    repair.kind().id() + ", " + repair.moment().date(), repair.what()))
                            .toList()));
        }
        groups.add(converter(service.setup().converter()));
        return groups;
    }

    private static Facts setup(Setup setup) {
        List<Fact> facts = new ArrayList<>();
        add(facts, "tape speed", setup.tapeSpeedMillimetresPerSecond(), "mm/s");
        add(facts, "track spacing", setup.trackSpacingMillimetres(), "mm");
        add(facts, "track width", setup.trackWidthMillimetres(), "mm");
        add(facts, "full scale", setup.fullScaleVolts(), "V");
        add(facts, "reference level", setup.referenceLevelDbfs(), "dBFS");
        add(facts, "mains", setup.mainsHz(), "Hz");
        return new Facts("Setup", facts);
    }

    private static void add(List<Fact> facts, String name, OptionalDouble value, String unit) {
        facts.add(new Fact(name, value.isPresent() ? Words.entered(value.getAsDouble()) + " " + unit : "not given"));
    }

    private Facts limits() {
        List<Fact> facts = new ArrayList<>();
        for (Limit limit : service.limits().limits()) {
            facts.add(new Fact(
                    Words.subject(limit),
                    Words.limit(limit) + (limit.source().equals(service.machine()) ? "" : "; " + limit.source())));
        }
        if (facts.isEmpty()) {
            facts.add(new Fact("limits", "none given"));
        }
        return new Facts("Limits", facts);
    }

    private static Facts transport(Transport transport) {
        return new Facts(
                "Parts of the transport",
                transport.parts().stream()
                        .map(part -> new Fact(
                                part.name(),
                                Words.shortest(part.lowestHz())
                                        + (part.highestHz() > part.lowestHz()
                                                ? " to " + Words.shortest(part.highestHz())
                                                : "")
                                        + " Hz at nominal speed"))
                        .toList());
    }

    private static Facts tape(TestTape tape) {
        return new Facts(
                "Test tape: " + tape.name(),
                List.of(
                        stated("frequency", tape.frequency(), "%"),
                        stated("slow speed", tape.slowSpeed(), "%"),
                        stated("own flutter", tape.ownFlutter(), "%"),
                        stated("level", tape.level(), "dB"),
                        stated("level fluctuation", tape.levelFluctuation(), "dB"),
                        stated("balance", tape.balance(), "dB"),
                        stated("response", tape.response(), "dB"),
                        stated("delay", tape.delay(), "\u00b5s")));
    }

    private static Facts converter(Converter converter) {
        return new Facts(
                converter.name().equals(Converter.assumed().name()) ? "Converter" : "Converter: " + converter.name(),
                List.of(
                        stated("clock", converter.clock(), "ppm"),
                        stated("clock stability", converter.clockStability(), "ppm"),
                        stated("own flutter", converter.ownFlutter(), "%"),
                        stated("gain", converter.gain(), "dB"),
                        stated("full scale", converter.fullScale(), "dB"),
                        stated("balance", converter.balance(), "dB"),
                        stated("delay", converter.delay(), "\u00b5s"),
                        stated("distortion", converter.distortion(), "%"),
                        new Fact("noise", Words.entered(converter.noiseDbfs()) + " dBFS"),
                        new Fact("crosstalk", Words.entered(converter.crosstalkDb()) + " dB")));
    }

    private static Fact stated(String name, StatedValue value, String unit) {
        String known = switch (value.distribution()) {
            case ONE_SIDED -> "at most " + Words.shortest(value.halfWidth()) + " " + unit;
            case NORMAL ->
                "error " + Words.shortest(value.value()) + " " + unit + ", standard uncertainty "
                        + Words.shortest(value.halfWidth()) + " " + unit;
            default ->
                (value.value() == 0 ? "" : "error " + Words.shortest(value.value()) + " " + unit + ", ")
                        + "within \u00b1" + Words.shortest(value.halfWidth()) + " " + unit;
        };
        return new Fact(name, known + (value.assumed() ? " (assumed)" : "; " + value.source()));
    }
}
