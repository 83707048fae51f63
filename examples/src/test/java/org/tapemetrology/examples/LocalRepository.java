/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/**
 * A local Maven repository with this project's artefacts as an installation would leave them. Everything else, plugins above all, is
 * linked to from the repository of the user, which this build has filled; nothing is installed there.
 */
final class LocalRepository {
    private static final String GROUP = "org/tapemetrology";

    private final Path root;

    private LocalRepository(Path root) {
        this.root = root;
    }

    static LocalRepository in(Path root) throws IOException {
        Path users = Path.of(System.getProperty("userRepository"));
        link(users, root, "org");
        link(users.resolve("org"), root.resolve("org"), "tapemetrology");
        return new LocalRepository(root);
    }

    private static void link(Path from, Path to, String but) throws IOException {
        Files.createDirectories(to);
        List<Path> folders;
        try (Stream<Path> listed = Files.list(from)) {
            folders = listed.filter(Files::isDirectory).toList();
        }
        for (Path folder : folders) {
            String name = folder.getFileName().toString();
            if (!name.equals(but)) {
                Files.createSymbolicLink(to.resolve(name), folder);
            }
        }
    }

    LocalRepository with(String artefact, Path pom, Path... jars) throws IOException {
        String version = System.getProperty("projectVersion");
        Path place =
                Files.createDirectories(root.resolve(GROUP).resolve(artefact).resolve(version));
        Files.copy(pom, place.resolve(artefact + "-" + version + ".pom"));
        for (Path jar : jars) {
            Files.copy(jar, place.resolve(artefact + "-" + version + ".jar"));
        }
        return this;
    }

    Path root() {
        return root;
    }
}
