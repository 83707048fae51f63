/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.File;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.TimeUnit;

/**
 * What a browser finds of a page at a width. The page lies in a frame of that width, since a window has a least width of its own; a
 * copy of it carries a script that looks at every text, for which its policy is taken out of the copy.
 *
 * @param width the width that the page had
 * @param texts how many texts were looked at, everything opened
 * @param drawings how many drawings there are
 * @param findings what is wrong
 */
record PageCheck(int width, int texts, int drawings, List<String> findings) {
    private static final long MOST_SECONDS = 120;

    /** A page and the width at which it is to be looked at. */
    record Page(String html, int width) {}

    /** Looks at several pages in one run of the browser. */
    static List<PageCheck> of(List<Page> pages, Path folder) throws IOException, InterruptedException {
        StringBuilder frames = new StringBuilder("<!DOCTYPE html><html><body style=\"margin:0\">");
        for (int i = 0; i < pages.size(); i++) {
            frames.append(begin(i))
                    .append("</pre><iframe id=\"page")
                    .append(i)
                    .append("\" style=\"border:0;height:900px;width:")
                    .append(pages.get(i).width())
                    .append("px\" srcdoc=\"")
                    .append(attribute(checked(pages.get(i).html())))
                    .append("\" onload=\"this.remove()\"></iframe>");
        }
        Path file = Files.writeString(Files.createTempFile(folder, "page", ".html"), frames.append("</body></html>"));
        String dumped = dump(file, folder);
        List<PageCheck> checks = new ArrayList<>();
        for (int i = 0; i < pages.size(); i++) {
            int from = dumped.indexOf(begin(i)) + begin(i).length();
            List<String> lines = text(dumped.substring(from, dumped.indexOf("</pre>", from)))
                    .lines()
                    .toList();
            checks.add(new PageCheck(
                    number(lines, 0, "width "),
                    number(lines, 1, "texts "),
                    number(lines, 2, "drawings "),
                    lines.subList(3, lines.size())));
        }
        return checks;
    }

    private static String begin(int number) {
        return "<pre id=\"findings-of-page" + number + "\">";
    }

    private static String checked(String page) throws IOException {
        return page.replaceAll("<meta http-equiv=\"Content-Security-Policy\"[^>]*>", "")
                .replace("</body>", "<script>" + script() + "</script></body>");
    }

    private static int number(List<String> lines, int index, String name) throws IOException {
        if (lines.size() <= index || !lines.get(index).startsWith(name)) {
            throw new IOException("the script did not come to its end: " + lines);
        }
        return Integer.parseInt(lines.get(index).substring(name.length()));
    }

    private static String script() throws IOException {
        try (InputStream in = Objects.requireNonNull(PageCheck.class.getResourceAsStream("page-check.js"))) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    private static String attribute(String html) {
        return html.replace("&", "&amp;").replace("\"", "&quot;");
    }

    private static String text(String html) {
        return html.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&");
    }

    private static String dump(Path file, Path folder) throws IOException, InterruptedException {
        File out = Files.createTempFile(folder, "dump", ".html").toFile();
        File log = Files.createTempFile(folder, "browser", ".log").toFile();
        Process browser = new ProcessBuilder(
                        "chromium",
                        "--headless",
                        "--no-sandbox",
                        "--disable-gpu",
                        "--disable-dev-shm-usage",
                        "--no-first-run",
                        "--user-data-dir=" + Files.createTempDirectory(folder, "browser"),
                        "--window-size=1400,1000",
                        "--dump-dom",
                        file.toUri().toString())
                .redirectOutput(out)
                .redirectError(log)
                .start();
        if (!browser.waitFor(MOST_SECONDS, TimeUnit.SECONDS)) {
            browser.destroyForcibly();
            throw new IOException("the browser did not end within " + MOST_SECONDS + " s");
        }
        if (browser.exitValue() != 0) {
            throw new IOException("the browser ended with " + browser.exitValue() + ": "
                    + Files.readString(log.toPath(), StandardCharsets.UTF_8));
        }
        return Files.readString(out.toPath(), StandardCharsets.UTF_8);
    }
}
