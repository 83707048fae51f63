/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * A public type as it stands in a source file, with its comment in one line.
 *
 * @param file the file, from the root of the sources
 * @param kind class, record, enum or interface
 * @param name its name, after that of the type around it
 * @param superclass simple name of the class that it extends; empty without one
 * @param comment its javadoc in one line; empty without one
 * @param source what the file holds from its declaration on
 * @param depth depth of its indentation, 0 for the type of the file
 */
record PublicType(String file, String kind, String name, String superclass, String comment, String source, int depth) {
    private static final Pattern DECLARATION = Pattern.compile(
            "^( *)(public )?(?:(?:static|abstract|final|sealed|non-sealed) )*(class|record|enum|interface) (\\w+)"
                    + "(?:<[^>{(]*>)?(?:\\s+extends (\\w+))?",
            Pattern.MULTILINE);

    private static final Pattern ANNOTATION = Pattern.compile("@[\\w.]+(?:\\((?:[^()\"]|\"[^\"]*\")*\\))?");

    /** Public types of every file below a root but those of packages that are not exported. */
    static List<PublicType> in(Path root) throws IOException {
        List<PublicType> types = new ArrayList<>();
        try (Stream<Path> tree = Files.walk(root)) {
            for (Path file : tree.filter(file -> file.toString().endsWith(".java"))
                    .filter(file -> !file.toString().contains("internal"))
                    .filter(file -> !file.toString().endsWith("-info.java"))
                    .sorted()
                    .toList()) {
                types.addAll(of(root.relativize(file).toString(), Files.readString(file)));
            }
        }
        return types;
    }

    /** Public types of a source; members of an interface are public without saying so. */
    static List<PublicType> of(String file, String source) {
        List<PublicType> types = new ArrayList<>();
        Matcher found = DECLARATION.matcher(source);
        while (found.find()) {
            int depth = found.group(1).length();
            boolean isPublic = found.group(2) != null;
            if (depth == 0 && !isPublic) {
                return List.of();
            }
            boolean ofInterface = !types.isEmpty() && types.get(0).kind.equals("interface");
            if (depth <= 4 && !(depth > 0 && types.isEmpty()) && (isPublic || ofInterface)) {
                types.add(new PublicType(
                        file,
                        found.group(3),
                        (depth == 0 ? "" : types.get(0).name + ".") + found.group(4),
                        Optional.ofNullable(found.group(5)).orElse(""),
                        commentBefore(source, found.start()),
                        source.substring(found.start()),
                        depth));
            }
        }
        return types;
    }

    /** The comment that ends before a place, with nothing but annotations between. */
    private static String commentBefore(String source, int place) {
        String before = source.substring(0, place);
        int start = before.lastIndexOf("/**");
        if (start < 0) {
            return "";
        }
        int end = before.indexOf("*/", start);
        String between = ANNOTATION.matcher(before.substring(end + 2)).replaceAll("");
        return between.isBlank()
                ? before.substring(start, end)
                        .replaceAll("\\s*\\n\\s*\\* ?", " ")
                        .strip()
                : "";
    }

    /** Type and name of each component of a record. */
    List<String[]> components() {
        List<String[]> components = new ArrayList<>();
        int from = source.indexOf('(') + 1;
        int depth = 0;
        for (int i = from; ; i++) {
            char c = source.charAt(i);
            if ((c == ',' || c == ')') && depth == 0) {
                String component = source.substring(from, i).strip();
                if (!component.isEmpty()) {
                    components.add(component.split("\\s+(?=\\w+$)"));
                }
                from = i + 1;
            }
            if (c == ')' && depth == 0) {
                return components;
            }
            depth += c == '<' || c == '(' ? 1 : c == '>' || c == ')' ? -1 : 0;
        }
    }

    /** What the comment says of a parameter; empty where it says nothing. */
    String parameter(String parameter) {
        Matcher found =
                Pattern.compile("@param " + parameter + " (.*?)(?= @\\w+ |$)").matcher(comment);
        return found.find() ? found.group(1) : "";
    }

    /** Body of the compact constructor of a record, with the comment before it; empty without one. */
    Optional<String[]> compactConstructor() {
        String simple = name.substring(name.indexOf('.') + 1);
        String indent = " ".repeat(depth + 4);
        Matcher found = Pattern.compile(
                        "\\n" + indent + "public " + simple + " \\{\\n(.*?)\\n" + indent + "\\}", Pattern.DOTALL)
                .matcher(source);
        return found.find()
                ? Optional.of(new String[] {found.group(1), commentBefore(source, found.start() + 1)})
                : Optional.empty();
    }
}
