/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.lang.reflect.Constructor;
import java.lang.reflect.Field;
import java.lang.reflect.Member;
import java.lang.reflect.Method;
import java.lang.reflect.Modifier;
import java.lang.reflect.Type;
import java.net.URISyntaxException;
import java.nio.file.FileSystem;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.tapemetrology.core.RecordingMeter;
import org.tapemetrology.signals.FmTone;

/**
 * The public and protected signatures of what both modules export, against the committed lists. Whoever changes the API on purpose
 * copies the list from {@code examples/target} and writes it into the change log.
 */
class ApiTest {
    private static final Path ROOT = Path.of("..");
    private static final Pattern EXPORTS = Pattern.compile("\\n +exports ([\\w.]+);");

    private static List<String> exported(String descriptor) throws IOException {
        Matcher found = EXPORTS.matcher(Files.readString(ROOT.resolve(descriptor)));
        List<String> packages = new ArrayList<>();
        while (found.find()) {
            packages.add(found.group(1));
        }
        assertThat(packages).isNotEmpty();
        return packages;
    }

    @ParameterizedTest
    @CsvSource({
        "metrology-core, metrology-core/src/main/module/module-info.java, 1000",
        "reference-signals, reference-signals/src/main/java/module-info.java, 500"
    })
    void theSignaturesAreThoseOfTheList(String module, String descriptor, int least) throws Exception {
        Class<?> some = module.equals("metrology-core") ? RecordingMeter.class : FmTone.class;
        List<String> lines = new ArrayList<>();
        for (Class<?> type : types(some, exported(descriptor))) {
            lines.addAll(signatures(type));
        }
        assertThat(lines).hasSizeGreaterThan(least);
        String list = String.join("\n", lines) + "\n";
        Path written = Files.createDirectories(Path.of("target")).resolve(module + "-api.txt");
        Files.writeString(written, list);
        assertThat(Files.readString(ROOT.resolve(module).resolve("api.txt")))
                .as("the API has changed: examples/%s is what it is now", written)
                .isEqualTo(list);
    }

    /** {@code docs/api.md} says of each exported package, and of no other, how stable it is. */
    @Test
    void thePageListsEveryPackage() throws IOException {
        List<String> packages = new ArrayList<>(exported("metrology-core/src/main/module/module-info.java"));
        packages.addAll(exported("reference-signals/src/main/java/module-info.java"));
        Matcher row = Pattern.compile("\\n\\| `(org\\.tapemetrology[\\w.]+)` \\| (settled|may change) \\|")
                .matcher(Files.readString(ROOT.resolve("docs/api.md")));
        List<String> listed = new ArrayList<>();
        while (row.find()) {
            listed.add(row.group(1));
        }
        assertThat(listed).containsExactlyInAnyOrderElementsOf(packages);
    }

    /** Found in a folder of classes, or in a jar where the module is packed already. */
    private static List<Class<?>> types(Class<?> some, List<String> packages) throws Exception {
        Path place =
                Path.of(some.getProtectionDomain().getCodeSource().getLocation().toURI());
        if (Files.isDirectory(place)) {
            return types(place, packages);
        }
        try (FileSystem jar = FileSystems.newFileSystem(place)) {
            return types(jar.getPath("/"), packages);
        }
    }

    private static List<Class<?>> types(Path root, List<String> packages)
            throws IOException, ClassNotFoundException, URISyntaxException {
        List<Class<?>> types = new ArrayList<>();
        for (String name : packages) {
            try (Stream<Path> files = Files.list(root.resolve(name.replace('.', '/')))) {
                for (String file :
                        new TreeSet<>(files.map(path -> path.getFileName().toString())
                                .filter(path -> path.endsWith(".class") && !path.startsWith("package-info"))
                                .toList())) {
                    Class<?> type = Class.forName(
                            name + "." + file.replace(".class", ""), false, ApiTest.class.getClassLoader());
                    if (isVisible(type)) {
                        types.add(type);
                    }
                }
            }
        }
        return types;
    }

    private static boolean isVisible(Class<?> type) {
        if (type.isAnonymousClass() || type.isLocalClass()) {
            return false;
        }
        boolean visible = Modifier.isPublic(type.getModifiers()) || Modifier.isProtected(type.getModifiers());
        return visible && (type.getDeclaringClass() == null || isVisible(type.getDeclaringClass()));
    }

    private static List<String> signatures(Class<?> type) {
        Map<String, String> members = new TreeMap<>();
        for (Field field : type.getDeclaredFields()) {
            add(members, field, field.toGenericString());
        }
        for (Constructor<?> constructor : type.getDeclaredConstructors()) {
            add(members, constructor, constructor.toGenericString());
        }
        for (Method method : type.getDeclaredMethods()) {
            if (!method.isBridge()) {
                add(members, method, method.toGenericString());
            }
        }
        List<String> lines = new ArrayList<>();
        lines.add(words(type.toGenericString()
                + (type.getGenericSuperclass() == null ? "" : " extends " + name(type.getGenericSuperclass()))
                + (type.getInterfaces().length == 0
                        ? ""
                        : " implements "
                                + Arrays.stream(type.getGenericInterfaces())
                                        .map(ApiTest::name)
                                        .collect(Collectors.joining(", ")))));
        members.values().forEach(member -> lines.add("    " + member));
        return lines;
    }

    private static String name(Type type) {
        return type.getTypeName();
    }

    private static void add(Map<String, String> members, Member member, String signature) {
        boolean visible = Modifier.isPublic(member.getModifiers()) || Modifier.isProtected(member.getModifiers());
        if (visible && !member.isSynthetic()) {
            String line = words(signature.replace(member.getDeclaringClass().getName() + ".", ""));
            members.put(line, line);
        }
    }

    private static String words(String signature) {
        return signature.replace("java.lang.", "").replace("java.util.", "");
    }
}
