/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.io.StringWriter;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Method;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import javax.tools.JavaCompiler;
import javax.tools.StandardJavaFileManager;
import javax.tools.ToolProvider;

/**
 * Does what a reader of a page does who saves its files in a folder and types its commands there, one after the other:
 * {@code workbench ...} and {@code java -cp workbench.jar File.java ...}, each with {@code < file} and {@code > file}. It runs
 * inside this program, with the built classes in the place of the jar.
 */
final class PageSession {
    private static final Path ROOT = Path.of("..").toAbsolutePath().normalize();

    private final Path folder;

    PageSession(Path folder) {
        this.folder = folder;
    }

    void save(MarkdownPage.Block block) throws IOException {
        if (!block.file().isEmpty()) {
            Files.writeString(folder.resolve(block.file()), block.content());
        }
    }

    /** What a command prints on both of its outputs, line by line. A status other than 0 is the last line. */
    List<String> run(String command) throws IOException {
        List<String> words = new ArrayList<>(List.of(command.trim().split(" +")));
        InputStream in = InputStream.nullInputStream();
        Path to = null;
        int redirected = words.indexOf("<");
        if (redirected >= 0) {
            in = Files.newInputStream(resolved(words.get(redirected + 1)));
            words.subList(redirected, redirected + 2).clear();
        }
        redirected = words.indexOf(">");
        if (redirected >= 0) {
            to = resolved(words.get(redirected + 1));
            words.subList(redirected, redirected + 2).clear();
        }
        ByteArrayOutputStream said = new ByteArrayOutputStream();
        ByteArrayOutputStream saved = new ByteArrayOutputStream();
        int status;
        try (PrintStream err = new PrintStream(said, true, StandardCharsets.UTF_8);
                PrintStream out = to == null ? err : new PrintStream(saved, true, StandardCharsets.UTF_8)) {
            status = switch (words.get(0)) {
                case "workbench" -> Workbench.run(in, out, err, arguments(words, 1));
                case "java" -> java(in, out, words);
                default -> throw new IOException("no command that a page may use: " + command);
            };
        } finally {
            in.close();
        }
        if (to != null) {
            Files.write(to, saved.toByteArray());
        }
        List<String> lines = new ArrayList<>(said.toString(StandardCharsets.UTF_8)
                .replace(folder + "/", "")
                .replace(ROOT + "/", "")
                .lines()
                .map(String::stripTrailing)
                .toList());
        if (status != 0) {
            lines.add("status " + status);
        }
        return lines;
    }

    /** Files are those of the reader's folder: known by their ending, and the folder after {@code --out}. */
    private String[] arguments(List<String> words, int from) {
        String[] arguments = new String[words.size() - from];
        for (int i = from; i < words.size(); i++) {
            String word = words.get(i);
            boolean file = word.matches("[\\w./-]+\\.(wav|json|raw|csv)")
                    || words.get(i - 1).equals("--out");
            arguments[i - from] = file ? resolved(word).toString() : word;
        }
        return arguments;
    }

    /** A file of the project where it begins with the name of a module, else one of the reader's folder. */
    private Path resolved(String name) {
        return name.startsWith("examples/") ? ROOT.resolve(name) : folder.resolve(name);
    }

    private int java(InputStream in, PrintStream out, List<String> words) throws IOException {
        if (!words.get(1).equals("-cp") || !words.get(2).matches("(workbench|metrology-core)\\.jar")) {
            throw new IOException("a page runs java -cp workbench.jar File.java, not " + words);
        }
        Path source = resolved(words.get(3));
        Path classes = compiled(source);
        String code = Files.readString(source);
        String name = source.getFileName().toString().replace(".java", "");
        if (code.contains("\npackage ")) {
            name = code.replaceAll("(?s).*\npackage ([\\w.]+);.*", "$1") + "." + name;
        }
        InputStream inBefore = System.in;
        PrintStream outBefore = System.out;
        Locale localeBefore = Locale.getDefault();
        System.setIn(in);
        System.setOut(out);
        Locale.setDefault(Locale.ROOT);
        try (URLClassLoader loader =
                new URLClassLoader(new URL[] {classes.toUri().toURL()})) {
            Method main = loader.loadClass(name).getDeclaredMethod("main", String[].class);
            main.setAccessible(true); // as the launcher does with a class that is not public
            main.invoke(null, (Object) arguments(words, 4));
        } catch (InvocationTargetException thrown) {
            throw new IOException(words + " threw " + thrown.getCause(), thrown.getCause());
        } catch (ReflectiveOperationException wrong) {
            throw new IOException(words + ": " + wrong, wrong);
        } finally {
            System.setIn(inBefore);
            System.setOut(outBefore);
            Locale.setDefault(localeBefore);
        }
        return 0;
    }

    /** Compiled with every warning an error: what a page shows is good style too. */
    private Path compiled(Path source) throws IOException {
        Path classes = Files.createDirectories(folder.resolve("classes"));
        JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
        StringWriter said = new StringWriter();
        try (StandardJavaFileManager files = compiler.getStandardFileManager(null, null, StandardCharsets.UTF_8)) {
            List<String> options = Arrays.asList(
                    "-proc:none",
                    "--release",
                    "17",
                    "-Xlint:all",
                    "-Werror",
                    "-cp",
                    System.getProperty("java.class.path"),
                    "-d",
                    classes.toString());
            if (!compiler.getTask(said, files, null, options, null, files.getJavaFileObjects(source))
                    .call()) {
                throw new IOException(said.toString());
            }
        }
        return classes;
    }
}
