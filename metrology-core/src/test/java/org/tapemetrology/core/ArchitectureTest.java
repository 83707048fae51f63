/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.fields;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.methods;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaCodeUnit;
import com.tngtech.archunit.core.domain.JavaField;
import com.tngtech.archunit.core.domain.JavaMember;
import com.tngtech.archunit.core.domain.JavaModifier;
import com.tngtech.archunit.core.domain.JavaType;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchCondition;
import com.tngtech.archunit.lang.ArchRule;
import com.tngtech.archunit.lang.ConditionEvents;
import com.tngtech.archunit.lang.SimpleConditionEvent;
import com.tngtech.archunit.library.GeneralCodingRules;
import java.io.IOException;
import java.lang.reflect.Method;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.ServiceLoader;
import java.util.stream.Stream;
import org.apache.commons.math3.complex.Complex;

/** The layers of the core, and what none of it may touch. A rule that finds no subject fails: that is checked too. */
@AnalyzeClasses(packages = "org.tapemetrology.core", importOptions = ImportOption.DoNotIncludeTests.class)
class ArchitectureTest {
    private static final String CORE = "org.tapemetrology.core";

    @ArchTest
    static final ArchRule QUANTITIES_KNOW_NOTHING_OF_THE_CORE = knowsOnly("quantity");

    @ArchTest
    static final ArchRule UNCERTAINTY_KNOWS_QUANTITIES_ALONE = knowsOnly("uncertainty", "quantity", "internal");

    @ArchTest
    static final ArchRule CONFORMITY_KNOWS_UNCERTAINTY_AND_QUANTITIES =
            knowsOnly("conformity", "uncertainty", "quantity", "internal");

    @ArchTest
    static final ArchRule FILTERS_KNOW_NOTHING_OF_THE_CORE = knowsOnly("filter");

    @ArchTest
    static final ArchRule DETECTORS_KNOW_FILTERS_AND_FITS =
            knowsOnly("detector", "filter", "fit", "quantity", "internal");

    @ArchTest
    static final ArchRule CARRIER_KNOWS_FILTERS_ALONE = knowsOnly("carrier", "filter", "internal");

    @ArchTest
    static final ArchRule STANDARDS_KNOW_FILTERS_DETECTORS_AND_QUANTITIES =
            knowsOnly("standard", "filter", "detector", "quantity", "internal");

    @ArchTest
    static final ArchRule SEPARATION_KNOWS_TONES_AND_LEVELS =
            knowsOnly("separation", "tone", "fit", "filter", "level", "quantity", "internal");

    @ArchTest
    static final ArchRule PROGRAMMES_KNOW_THE_METERS_OF_THEIR_STEPS = knowsOnly(
            "programme",
            "flutter",
            "azimuth",
            "tone",
            "level",
            "loss",
            "response",
            "noise",
            "separation",
            "quantity",
            "internal");

    @ArchTest
    static final ArchRule TRANSPORT_KNOWS_NOTHING_OF_THE_CORE = knowsOnly("transport", "internal");

    @ArchTest
    static final ArchRule SPECTRUM_KNOWS_FILTERS_ALONE = knowsOnly("spectrum", "filter", "internal");

    @ArchTest
    static final ArchRule STABILITY_KNOWS_NOTHING_OF_THE_CORE = knowsOnly("stability", "internal");

    @ArchTest
    static final ArchRule ALIGNMENT_KNOWS_READINGS_AND_FITS = knowsOnly("alignment", "fit", "quantity", "internal");

    @ArchTest
    static final ArchRule INTERNAL_HELPERS_KNOW_NOTHING = knowsOnly("internal");

    @ArchTest
    static final ArchRule WAV_KNOWS_NOTHING_OF_THE_CORE = knowsOnly("wav");

    @ArchTest
    static final ArchRule NOBODY_KNOWS_THE_FACADE = noClasses()
            .that()
            .resideInAPackage(CORE + ".*..")
            .should()
            .dependOnClassesThat()
            .resideInAPackage(CORE);

    @ArchTest
    static final ArchRule PACKAGES_HAVE_NO_CYCLES =
            slices().matching(CORE + ".(*)..").should().beFreeOfCycles();

    @ArchTest
    static final ArchRule NEEDS_THE_PLATFORM_AND_THE_TWO_RELOCATED_LIBRARIES = classes()
            .should()
            .onlyDependOnClassesThat()
            .resideInAnyPackage(
                    CORE + "..",
                    "java.lang..",
                    "java.io..",
                    "java.nio..",
                    "java.util",
                    "java.util.function..",
                    "java.util.stream..",
                    "java.math..",
                    "java.time..",
                    "org.jspecify.annotations..",
                    "org.apache.commons.math3..",
                    "org.ejml..");

    @ArchTest
    static final ArchRule NO_DESKTOP_AND_NO_LOGGING = noClasses()
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("java.awt..", "java.beans..", "javax..", "java.util.logging..")
            .orShould()
            .dependOnClassesThat()
            .areAssignableTo(System.Logger.class);

    @ArchTest
    static final ArchRule NOTHING_IS_PRINTED = GeneralCodingRules.NO_CLASSES_SHOULD_ACCESS_STANDARD_STREAMS;

    @ArchTest
    static final ArchRule NO_STATIC_STATE = fields().that().areStatic().should().beFinal();

    @ArchTest
    static final ArchRule NO_METHOD_IS_SYNCHRONISED = methods().should().notHaveModifier(JavaModifier.SYNCHRONIZED);

    @ArchTest
    static final ArchRule NO_THREADS = noClasses()
            .should()
            .dependOnClassesThat()
            .areAssignableTo(Thread.class)
            .orShould()
            .dependOnClassesThat()
            .areAssignableTo(ThreadLocal.class)
            .orShould()
            .dependOnClassesThat()
            .resideInAPackage("java.util.concurrent..")
            .orShould()
            .callMethod(Object.class, "wait")
            .orShould()
            .callMethod(Object.class, "notifyAll")
            .orShould()
            .callMethod(Stream.class, "parallel");

    /** What a native image or a module path without opens could not follow. */
    @ArchTest
    static final ArchRule NO_REFLECTION = noReflection();

    @ArchTest
    static final ArchRule NO_TYPE_OF_A_RELOCATED_LIBRARY_IS_PUBLIC = publicSignaturesOf(CORE);

    /** A block that is synchronised leaves no modifier: the sources are read for it. */
    @ArchTest
    static void noBlockIsSynchronised(JavaClasses imported) throws IOException {
        assertThat(imported).isNotEmpty();
        List<Path> sources;
        try (Stream<Path> tree = Files.walk(Path.of("src", "main", "java"))) {
            sources = tree.filter(path -> path.toString().endsWith(".java")).toList();
        }
        assertThat(sources).isNotEmpty();
        for (Path source : sources) {
            assertThat(Files.readString(source)).as(source.toString()).doesNotContainPattern("synchronized\\s*\\(");
        }
    }

    @ArchTest
    static void aRuleWithoutASubjectFails(JavaClasses imported) {
        assertThatThrownBy(() -> knowsOnly("nowhere").check(imported))
                .isInstanceOf(AssertionError.class)
                .hasMessageContaining("failed to check any classes");
        assertThatThrownBy(() -> fields().that()
                        .haveNameMatching("nothing")
                        .should()
                        .beFinal()
                        .check(imported))
                .isInstanceOf(AssertionError.class)
                .hasMessageContaining("failed to check any");
    }

    /** Negative control: each of the ways to find something by its name. */
    @ArchTest
    static void reflectionIsFound(JavaClasses imported) {
        assertThat(imported).isNotEmpty();
        assertThatThrownBy(() -> noReflection().check(new ClassFileImporter().importClasses(Reflecting.class)))
                .isInstanceOf(AssertionError.class)
                .hasMessageContaining("Class.forName")
                .hasMessageContaining("java.lang.reflect.Method")
                .hasMessageContaining("ServiceLoader");
    }

    /** Finds classes, methods and services by name, as none of the core may. */
    public static final class Reflecting {
        private Reflecting() {}

        /**
         * Finds them.
         *
         * @param name any
         * @return any
         * @throws ReflectiveOperationException where there is none
         */
        public static Object byName(String name) throws ReflectiveOperationException {
            Method method = Class.forName(name).getMethod("toString");
            return ServiceLoader.load(method.getReturnType());
        }
    }

    private static ArchRule noReflection() {
        return noClasses()
                .should()
                .dependOnClassesThat()
                .resideInAPackage("java.lang.reflect..")
                .orShould()
                .dependOnClassesThat()
                .areAssignableTo(ServiceLoader.class)
                .orShould()
                .callMethodWhere(DescribedPredicate.describe(
                        "a class is found by its name or looked into",
                        call -> call.getTargetOwner().isEquivalentTo(Class.class)
                                && call.getTarget()
                                        .getName()
                                        .matches("forName|newInstance|get(Declared)?(Method|Field|Constructor)s?")));
    }

    /** Negative control of the condition on signatures, for each of the places where a type can stand. */
    @ArchTest
    static void aTypeOfARelocatedLibraryInASignatureIsFound(JavaClasses imported) {
        assertThat(imported).isNotEmpty();
        JavaClasses leak = new ClassFileImporter().importClasses(Leak.class);
        assertThatThrownBy(() -> publicSignaturesOf(CORE).check(leak))
                .isInstanceOf(AssertionError.class)
                .hasMessageContaining("Leak.field")
                .hasMessageContaining("Leak.<init>")
                .hasMessageContaining("Leak.generic")
                .hasMessageContaining("Leak.parameter");
    }

    /** A class as none of the core may be. */
    public static class Leak {
        /** A field. */
        public final Complex field;

        /**
         * A constructor.
         *
         * @param value any
         */
        public Leak(Complex value) {
            field = value;
        }

        /**
         * A type argument.
         *
         * @return any
         */
        public List<Complex> generic() {
            return List.of(field);
        }

        /**
         * A parameter.
         *
         * @param value any
         */
        public void parameter(Complex[] value) {
            assertThat(value).isNotNull();
        }
    }

    private static ArchRule knowsOnly(String layer, String... others) {
        List<String> allowed = new ArrayList<>(List.of(CORE + "." + layer + ".."));
        for (String other : others) {
            allowed.add(CORE + "." + other + "..");
        }
        return classes()
                .that()
                .resideInAPackage(CORE + "." + layer + "..")
                .should()
                .onlyDependOnClassesThat(JavaClass.Predicates.resideInAnyPackage(allowed.toArray(String[]::new))
                        .or(JavaClass.Predicates.resideOutsideOfPackage(CORE + "..")));
    }

    private static ArchRule publicSignaturesOf(String root) {
        return classes()
                .that()
                .resideInAPackage(root + "..")
                .and()
                .arePublic()
                .should(new ArchCondition<JavaClass>("keep Commons Math and EJML out of their signatures") {
                    @Override
                    public void check(JavaClass owner, ConditionEvents events) {
                        for (JavaMember member : owner.getMembers()) {
                            if (member.getModifiers().contains(JavaModifier.PUBLIC)
                                    || member.getModifiers().contains(JavaModifier.PROTECTED)) {
                                checkMember(member, events);
                            }
                        }
                    }
                });
    }

    private static void checkMember(JavaMember member, ConditionEvents events) {
        List<JavaType> types = new ArrayList<>();
        if (member instanceof JavaField field) {
            types.add(field.getType());
        } else if (member instanceof JavaCodeUnit unit) {
            types.add(unit.getReturnType());
            types.addAll(unit.getParameterTypes());
            types.addAll(unit.getThrowsClause().getTypes());
        }
        for (JavaType type : types) {
            for (JavaClass involved : type.getAllInvolvedRawTypes()) {
                String name = involved.getBaseComponentType().getName();
                if (name.startsWith("org.apache.commons.math3.") || name.startsWith("org.ejml.")) {
                    events.add(SimpleConditionEvent.violated(member, member.getFullName() + " has the type " + name));
                }
            }
        }
    }
}
