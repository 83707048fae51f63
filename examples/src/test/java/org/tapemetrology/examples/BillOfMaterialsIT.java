/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;

/** The bills of materials (CycloneDX) beside the published jars, which the profile {@code release} makes. */
class BillOfMaterialsIT {
    private static String bill(String module) throws IOException {
        return Files.readString(Path.of("..", module, "target", "bom.json"));
    }

    /** What is inside the jar of the core is listed, and nothing that is not. */
    @Test
    void theCoreListsTheLibrariesInside() throws IOException {
        assertThat(bill("metrology-core"))
                .contains(
                        "\"CycloneDX\"",
                        "pkg:maven/org.apache.commons/commons-math3@",
                        "pkg:maven/org.ejml/ejml-ddense@",
                        "pkg:maven/org.jspecify/jspecify@")
                .doesNotContain("junit", "reference-signals");
    }

    @Test
    void theSignalsNeedTheAnnotationsAlone() throws IOException {
        assertThat(bill("reference-signals"))
                .contains("\"CycloneDX\"", "pkg:maven/org.jspecify/jspecify@")
                .doesNotContain("junit", "commons-math3");
    }
}
