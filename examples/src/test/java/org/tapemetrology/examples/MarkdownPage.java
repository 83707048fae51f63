/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** A page of Markdown and its fenced blocks. */
record MarkdownPage(Path path, String text, List<Block> blocks) {
    /**
     * A fenced block.
     *
     * @param language first word after the fence
     * @param file second word after the fence: the file that the reader saves the block as; empty without one
     * @param line 1-based line of the fence
     * @param lines what stands in it
     */
    record Block(String language, String file, int line, List<String> lines) {
        String content() {
            return String.join("\n", lines) + "\n";
        }
    }

    static MarkdownPage read(Path path) throws IOException {
        List<Block> blocks = new ArrayList<>();
        List<String> lines = Files.readAllLines(path);
        for (int i = 0; i < lines.size(); i++) {
            if (lines.get(i).startsWith("```")) {
                int fence = i;
                List<String> inside = new ArrayList<>();
                for (i++; !lines.get(i).equals("```"); i++) {
                    inside.add(lines.get(i));
                    if (i + 1 == lines.size()) {
                        throw new IOException(path + ":" + (fence + 1) + ": the block has no end");
                    }
                }
                String[] words = lines.get(fence).substring(3).split(" ", 2);
                blocks.add(new Block(words[0], words.length > 1 ? words[1] : "", fence + 1, List.copyOf(inside)));
            }
        }
        return new MarkdownPage(path, String.join("\n", lines), List.copyOf(blocks));
    }

    List<Block> blocks(String language) {
        return blocks.stream().filter(block -> block.language.equals(language)).toList();
    }
}
