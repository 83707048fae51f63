/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.wav;

/** What a file that is no WAV file seems to be, told by its first bytes. */
final class Magic {
    private Magic() {}

    /** Describes what the window, at the start of the file, holds. */
    static String describe(ByteWindow in, int held) {
        if (held >= 12 && in.fourCc(4).equals("ftyp")) {
            return "it seems to be an MPEG-4 file";
        }
        if (held >= 12 && in.fourCc(0).equals("FORM")) {
            return "it seems to be an AIFF file";
        }
        if (held >= 4) {
            String seems = switch (in.fourCc(0)) {
                case "RIFX" -> "a big-endian RIFX file";
                case "riff" -> "a W64 file";
                case "fLaC" -> "a FLAC file";
                case "OggS" -> "an Ogg file";
                case ".snd" -> "an AU file";
                case "caff" -> "a CAF file";
                default -> null;
            };
            if (seems != null) {
                return "it seems to be " + seems;
            }
        }
        if ((held >= 3 && in.hex(0, 3).equals("49 44 33")) || isMpegFrame(in, held)) {
            return "it seems to be an MPEG audio file";
        }
        return "it begins with " + in.hex(0, Math.min(held, 4));
    }

    /** ISO/IEC 11172-3, 2.4.1.3: eleven bits of synchronisation, then neither a reserved version nor layer. */
    private static boolean isMpegFrame(ByteWindow in, int held) {
        return held >= 2
                && in.uint8(0) == 0xFF
                && (in.uint8(1) & 0xE0) == 0xE0
                && (in.uint8(1) & 0x18) != 0x08
                && (in.uint8(1) & 0x06) != 0;
    }

    /** A name from a file, in quotes, without what a terminal could take for a command. */
    static String printable(String name) {
        StringBuilder text = new StringBuilder("'");
        name.chars().forEach(c -> text.append(c >= 0x20 && c <= 0x7E ? (char) c : '?'));
        return text.append('\'').toString();
    }
}
