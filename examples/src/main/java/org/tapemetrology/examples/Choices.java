/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import java.util.Iterator;
import java.util.List;
import java.util.function.Function;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.TypeConversionException;

/** Values of an option that are named by words of their own. */
class Choices<T> implements ITypeConverter<T>, Iterable<String> {
    private final List<T> values;
    private final Function<T, String> word;

    Choices(List<T> values, Function<T, String> word) {
        this.values = values;
        this.word = word;
    }

    @Override
    public T convert(String given) {
        return values.stream()
                .filter(value -> word.apply(value).equals(given))
                .findFirst()
                .orElseThrow(
                        () -> new TypeConversionException("'" + given + "' is none of " + String.join(", ", this)));
    }

    @Override
    public Iterator<String> iterator() {
        return values.stream().map(word).iterator();
    }
}
