/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;
import java.util.stream.Stream;

/** The packages of the workbench and what each may know of the others; the commands know them all. */
@AnalyzeClasses(packages = "org.tapemetrology.examples", importOptions = ImportOption.DoNotIncludeTests.class)
class PackagesOfExamplesTest {
    private static final String EXAMPLES = "org.tapemetrology.examples";

    @ArchTest
    static final ArchRule FILES_KNOW_NONE = knowsOnly("files");

    @ArchTest
    static final ArchRule RECORDINGS_KNOW_FILES = knowsOnly("recording", "files");

    @ArchTest
    static final ArchRule A_REPORT_KNOWS_NONE = knowsOnly("report");

    @ArchTest
    static final ArchRule OUTPUT_KNOWS_WHAT_IT_WRITES = knowsOnly("output", "recording", "report", "files");

    @ArchTest
    static final ArchRule LIVE_KNOWS_OUTPUT = knowsOnly("live", "output", "recording");

    @ArchTest
    static final ArchRule A_SERVICE_KNOWS_RECORDINGS_AND_REPORTS =
            knowsOnly("service", "output", "recording", "report", "files");

    @ArchTest
    static final ArchRule A_BENCH_KNOWS_FILES = knowsOnly("bench", "files");

    @ArchTest
    static final ArchRule METERS_UNDER_TEST_KNOW_NONE = knowsOnly("conformance");

    @ArchTest
    static final ArchRule HOBBY_PROGRAMS_KNOW_NONE = knowsOnly("hobby");

    private static ArchRule knowsOnly(String... packages) {
        String[] allowed =
                Stream.of(packages).map(name -> EXAMPLES + "." + name).toArray(String[]::new);
        return classes()
                .that()
                .resideInAPackage(allowed[0])
                .should()
                .onlyDependOnClassesThat(JavaClass.Predicates.resideInAnyPackage(allowed)
                        .or(JavaClass.Predicates.resideOutsideOfPackage(EXAMPLES + "..")));
    }
}
