/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples.files;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.tapemetrology.core.transport.Transport;

/**
 * Reads the description of a transport, a file of its own or part of a service file: the nominal tape speed, and a list of parts. Every part has a name and a kind; a part
 * that another one drives comes after it.
 *
 * <pre>{"tapeSpeedMillimetresPerSecond":47.6,"parts":[
 * {"name":"capstan","kind":"capstan","diameterMillimetres":2.0},
 * {"name":"pinch roller","kind":"roller","diameterMillimetres":11.5},
 * {"name":"motor","kind":"shaft","ratePerSecond":33.3},
 * {"name":"flywheel","kind":"wheel","drivenBy":"motor","driverDiameterMillimetres":8,"diameterMillimetres":60},
 * {"name":"gear","kind":"wheel","drivenBy":"flywheel","driverTeeth":20,"teeth":50},
 * {"name":"main belt","kind":"belt","lengthMillimetres":210,"speedMillimetresPerSecond":630},
 * {"name":"small belt","kind":"belt","lengthMillimetres":120,"drivenBy":"motor","pulleyDiameterMillimetres":6},
 * {"name":"take-up pack","kind":"pack","hubRadiusMillimetres":11,"fullRadiusMillimetres":25.2},
 * {"name":"erase-head guide","kind":"guide","freeLengthMillimetres":60}]}</pre>
 *
 * <p>{@code capstan}, {@code roller} (also {@code idler} and {@code flywheel} with their own diameter at tape speed, or
 * driven like a wheel), {@code shaft}, {@code wheel} (also {@code pulley}), {@code belt}, {@code pack} and {@code guide}.
 * {@code relativeUncertainty} gives a part another standard uncertainty of its rate than is usual for its kind. Rates hold
 * at nominal speed.
 */
public final class TransportFile {
    private static final double SMALLEST = 0.01;
    private static final double LARGEST = 10_000;

    private TransportFile() {}

    public static Transport read(Path file) throws IOException {
        return of(JsonFields.read(file));
    }

    /** The transport that an object describes, which may hold nothing else. */
    public static Transport of(JsonFields fields) {
        Transport.Builder builder =
                Transport.builder(fields.requiredNumber("tapeSpeedMillimetresPerSecond", 1, 10_000));
        List<JsonFields> parts = fields.objects("parts");
        if (parts.isEmpty()) {
            throw fields.wrong("parts", "has no part");
        }
        fields.noOthers();
        for (JsonFields part : parts) {
            String name = part.requiredText("name");
            try {
                add(builder, name, part);
                part.number("relativeUncertainty", 1e-6, 0.5).ifPresent(builder::withUncertainty);
            } catch (IllegalArgumentException wrong) {
                String message = String.valueOf(wrong.getMessage());
                throw part.isNamedBy(message) ? wrong : part.wrong("name", name + ": " + message);
            }
            part.noOthers();
        }
        return builder.build();
    }

    private static void add(Transport.Builder builder, String name, JsonFields part) {
        String kind = part.requiredText("kind");
        switch (kind) {
            case "capstan" -> builder.capstan(name, size(part, "diameterMillimetres"));
            case "shaft" -> builder.shaft(name, part.requiredNumber("ratePerSecond", 0.01, 10_000));
            case "roller", "idler", "flywheel" -> {
                if (part.has("drivenBy")) {
                    addWheel(builder, name, part);
                } else {
                    builder.roller(name, size(part, "diameterMillimetres"));
                }
            }
            case "wheel", "pulley" -> addWheel(builder, name, part);
            case "belt" -> {
                double length = size(part, "lengthMillimetres");
                if (part.has("drivenBy")) {
                    builder.beltOver(
                            name, length, part.requiredText("drivenBy"), size(part, "pulleyDiameterMillimetres"));
                } else {
                    builder.belt(name, length, size(part, "speedMillimetresPerSecond"));
                }
            }
            case "pack" -> builder.pack(name, size(part, "hubRadiusMillimetres"), size(part, "fullRadiusMillimetres"));
            case "guide" -> builder.guide(name, size(part, "freeLengthMillimetres"));
            default ->
                throw part.wrong(
                        "kind",
                        kind + " is none of capstan, roller, idler, flywheel, shaft, wheel, pulley, belt, pack, guide");
        }
    }

    private static void addWheel(Transport.Builder builder, String name, JsonFields part) {
        String driver = part.requiredText("drivenBy");
        if (part.has("teeth")) {
            builder.wheel(
                    name,
                    driver,
                    part.requiredNumber("driverTeeth", 1, 10_000),
                    part.requiredNumber("teeth", 1, 10_000));
        } else {
            builder.wheel(name, driver, size(part, "driverDiameterMillimetres"), size(part, "diameterMillimetres"));
        }
    }

    private static double size(JsonFields part, String name) {
        return part.requiredNumber(name, SMALLEST, LARGEST);
    }
}
