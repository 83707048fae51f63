/* SPDX-License-Identifier: Apache-2.0 */
package org.tapemetrology.core.spectrum;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.ejml.data.DMatrixRMaj;
import org.ejml.dense.row.factory.DecompositionFactory_DDRM;
import org.ejml.interfaces.decomposition.EigenDecomposition_F64;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Tapers against SciPy's, against EJML's eigenvectors of the full matrix, and against their own definition. */
class DpssTapersTest {
    /** SciPy's eigenvectors carry the rounding of matrix entries of n^2/4 over gaps of some 10: 4e-10 at 8192. */
    @Test
    void tapersAreThoseOfSciPy() throws IOException {
        for (SpectrumReference.Row row : SpectrumReference.rows("taper")) {
            double[] taper = DpssTapers.of(row.length(), row.timeHalfBandwidth(), row.order() + 1)
                    .taper(row.order());
            assertThat(taper[row.index()]).as(row.toString()).isCloseTo(row.value(), within(1e-9));
        }
    }

    @Test
    void concentrationsAreThoseOfSciPy() throws IOException {
        for (SpectrumReference.Row row : SpectrumReference.rows("concentration")) {
            DpssTapers tapers = DpssTapers.of(row.length(), row.timeHalfBandwidth(), row.order() + 1);
            assertThat(tapers.concentration(row.order())).as(row.toString()).isCloseTo(row.value(), within(1e-9));
        }
    }

    /** Slepian's matrix itself (1978, equation 14), by a general method; 1e-9 as its entries reach 1e4. */
    @ParameterizedTest
    @CsvSource({"32, 2, 4", "65, 4, 8", "200, 20, 40"})
    void tapersAreTheEigenvectorsOfTheFullMatrix(int n, double nw, int count) {
        DMatrixRMaj matrix = new DMatrixRMaj(n, n);
        for (int i = 0; i < n; i++) {
            double off = (n - 1 - 2.0 * i) / 2;
            matrix.set(i, i, off * off * Math.cos(2 * Math.PI * nw / n));
            if (i > 0) {
                matrix.set(i, i - 1, i * (n - i) / 2.0);
                matrix.set(i - 1, i, i * (n - i) / 2.0);
            }
        }
        EigenDecomposition_F64<DMatrixRMaj> eigen = DecompositionFactory_DDRM.eig(n, true, true);
        assertThat(eigen.decompose(matrix)).isTrue();
        List<Integer> order = new ArrayList<>();
        for (int i = 0; i < n; i++) {
            order.add(i);
        }
        order.sort(Comparator.comparingDouble(i -> -eigen.getEigenvalue(i).getReal()));
        DpssTapers tapers = DpssTapers.of(n, nw, count);
        for (int k = 0; k < count; k++) {
            DMatrixRMaj vector = eigen.getEigenVector(order.get(k));
            double[] taper = tapers.taper(k);
            double dot = 0;
            for (int i = 0; i < n; i++) {
                dot += vector.get(i) * taper[i];
            }
            assertThat(Math.abs(dot)).as("taper " + k).isCloseTo(1, within(1e-12));
            for (int i = 0; i < n; i++) {
                assertThat(taper[i]).as("taper " + k).isCloseTo(Math.signum(dot) * vector.get(i), within(1e-9));
            }
        }
    }

    /** A million samples: rounding of sums of a million products is far below 1e-11. */
    @Test
    void longTapersAreOrthonormalAndAlternateInSymmetry() {
        int n = 1_000_001;
        DpssTapers tapers = DpssTapers.of(n, 4, 7);
        for (int j = 0; j < tapers.count(); j++) {
            double[] a = tapers.taper(j);
            for (int k = 0; k <= j; k++) {
                double[] b = tapers.taper(k);
                double dot = 0;
                for (int i = 0; i < n; i++) {
                    dot += a[i] * b[i];
                }
                assertThat(dot).as(j + " x " + k).isCloseTo(j == k ? 1 : 0, within(1e-11));
            }
            double mirror = j % 2 == 0 ? 1 : -1;
            for (int i = 0; i < n / 2; i += 997) {
                // Relative to the root mean square, 1e-3.
                assertThat(a[n - 1 - i]).isCloseTo(mirror * a[i], within(1e-13));
            }
        }
    }

    @Test
    void badSettingsAreRefusedByName() {
        assertThatThrownBy(() -> DpssTapers.of(7, 1, 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("length 7");
        assertThatThrownBy(() -> DpssTapers.of(64, 0.5, 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("timeHalfBandwidth 0.5 is not in [1, 16.0]");
        assertThatThrownBy(() -> DpssTapers.of(64, 4, 9))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("count 9 is not in 1 to 8");
    }
}
