/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;

/** Words that are looked for in the javadoc of both published modules. */
final class JavadocRules {
    static final Pattern UNIT = Pattern.compile(
            "[Uu]nit|\\bHz\\b|%|[Pp]er cent|\\bdB(?:FS|u|V)?\\b|\\b[mu]?s\\b|seconds"
                    + "|\\b[mu]?m\\b|\\b[cm]m/s|nWb/m|\\bvolts?\\b|\\brad\\b|minutes of arc|\\bppm\\b|[Rr]atio\\b|[Rr]elative"
                    + "|[Pp]robability|[Ff]actor|\\bturns\\b|[Dd]egrees of freedom|0 to 1|full scale|plain number|Akaike");

    static final Pattern NOT_FINITE = Pattern.compile("not finite|no finite|non-finite|NaN");
    static final Pattern THREADS = Pattern.compile("[Tt]hread|[Ii]mmutable");

    private static final Pattern FLOATING = Pattern.compile("\\b(?:double|float|OptionalDouble|Double)\\b");
    private static final Pattern CHECK = Pattern.compile("throw new|[Rr]equire");

    private JavadocRules() {}

    /** What the comment of a record lacks: a unit at a number, or what is refused. */
    static List<String> missingInRecord(PublicType type) {
        List<String> missing = new ArrayList<>();
        boolean floating = false;
        for (String[] component : type.components()) {
            if (FLOATING.matcher(component[0]).find()) {
                floating = true;
                if (!UNIT.matcher(type.parameter(component[1])).find()) {
                    missing.add(type.name() + ": unit of " + component[1]);
                }
            }
        }
        Optional<String[]> constructor = type.compactConstructor();
        if (constructor.isPresent() && CHECK.matcher(constructor.get()[0]).find()) {
            if (!constructor.get()[1].contains("@throws IllegalArgumentException")) {
                missing.add(type.name() + ": what its constructor refuses");
            }
        } else if (floating && !type.comment().contains("not checked")) {
            missing.add(type.name() + ": that its numbers are not checked");
        }
        return missing;
    }

    /** The rules whose words are not in the comment of a type. */
    static List<String> missing(String name, String comment, Map<String, Pattern> rules) {
        List<String> missing = new ArrayList<>();
        rules.forEach((what, words) -> {
            if (!words.matcher(comment).find()) {
                missing.add(name + ": " + what);
            }
        });
        return missing;
    }
}
