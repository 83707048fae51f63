/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.examples;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.tapemetrology.core.alignment.AlignmentPlan;
import org.tapemetrology.core.conformity.Verdict;

/** The whole story once; that the demonstration stays below a minute is looked at by hand, since tests share a machine. */
class DemoTest {
    @TempDir
    Path folder;

    @Test
    void theWornMachineIsFoundRepairedAlignedAndProven() throws IOException {
        Path out = folder.resolve("demo");
        Outcome outcome = Outcome.run("demo", "--out", out.toString());
        assertThat(outcome.status()).as(outcome.err()).isZero();
        assertThat(outcome.out())
                .contains("pinch roller", "Everything is within its tolerance", "isolate it from the mains");
        assertThat(out.resolve("report").resolve("report.html")).isNotEmptyFile();
        String json = Files.readString(out.resolve("report").resolve("report.json"));
        assertThat(json).contains("\"verdict\":\"" + Verdict.FAIL.id() + "\"", "\"stage\":\"after\"");

        Outcome service = Outcome.run("service", out.resolve("service.json").toString());
        assertThat(service.out()).containsPattern("flutter +before: fail +after: pass");
        assertThat(service.out()).containsPattern("speed +before: fail +after: pass");
        assertThat(service.out()).doesNotContainPattern("after: fail");
    }

    @Test
    void aFolderThatIsThereIsNotWrittenInto() {
        Outcome outcome = Outcome.run("demo", "--out", folder.toString());
        assertThat(outcome.status()).isEqualTo(2);
        assertThat(outcome.err()).contains("is there already");
    }

    @Test
    void theDescribedMachineIsTheOneOnTheTable() {
        assertThat(ArchiveMachine.repaired().channels()).isEqualTo(2);
        assertThat(ArchiveMachine.worn().referenceDbfs())
                .isEqualTo(AlignmentPlan.cassette(2, 2, -12, 2.5).referenceDbfs());
    }
}
