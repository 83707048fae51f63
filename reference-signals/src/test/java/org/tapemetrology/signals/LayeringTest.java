/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.signals;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** A generator that shares no code with the meter cannot share its mistakes. */
@AnalyzeClasses(packages = "org.tapemetrology", importOptions = ImportOption.DoNotIncludeTests.class)
class LayeringTest {
    @ArchTest
    static final ArchRule KNOWS_NOTHING_OF_THE_METER =
            noClasses().should().dependOnClassesThat().resideInAPackage("org.tapemetrology.core..");

    @ArchTest
    static final ArchRule NEEDS_THE_PLATFORM_ALONE = classes()
            .should()
            .onlyDependOnClassesThat()
            .resideInAnyPackage("org.tapemetrology.signals..", "java..", "org.jspecify.annotations..");

    @ArchTest
    static final ArchRule TABLES_KNOW_NO_SIGNALS = noClasses()
            .that()
            .resideInAPackage("org.tapemetrology.signals.table..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("org.tapemetrology.signals", "org.tapemetrology.signals.wav..");

    @ArchTest
    static final ArchRule PACKAGES_HAVE_NO_CYCLES =
            slices().matching("org.tapemetrology.signals.(*)..").should().beFreeOfCycles();
}
